using Sparewright.Measure.Numbers;
using Sparewright.Measure.Quantities;
using Sparewright.Part.Elements;
using Sparewright.Part.Shape;
using Sparewright.Part.Sizes;
using Sparewright.Reconcile.Adjust;
using Quantity = Sparewright.Part.Sizes.Quantity;

namespace Sparewright.Reconcile.Nominals;

/// <summary>That a feature may sit in the middle of another.</summary>
/// <param name="Written">What the size is then, as a job writes it: <c>leg/2</c>.</param>
/// <param name="Words">"eye in the middle of foot, left to right".</param>
/// <param name="Odds">That it is there, whether by intent or because a round value came to the same.</param>
public sealed record CentredPlace(string Written, string Words, double Odds);

/// <summary>
/// Sizes that say where a feature is, and that put it into the middle of another one: then the size follows from the other's. The middle lies half way between two opposite flat faces, or on the axis of a round;
/// the odds are those of two sizes that are the same (<see cref="EqualSizes"/>), the one measured, the other that which the middle asks for.
/// </summary>
internal static class CentredPlaces
{
    /// <summary>How often somebody who could have put a feature anywhere put it in the middle. Our judgement, no source.</summary>
    private const double Prior = 0.3;

    private const double WorthProposing = 0.5;

    /// <summary>Sizes that put something into the middle do so by whole parts of other sizes: multiples of this.</summary>
    private const double Part = 0.25;

    private const double Rounding = 1e-9, Along = 0.999999;

    private static readonly (string Words, Func<Vector, Dual> Of)[] Axes = [("left to right", v => v.X), ("front to back", v => v.Y), ("down to up", v => v.Z)];

    /// <summary>For each free size the middle that it may stand for; null where there is none.</summary>
    public static CentredPlace?[] Of(IReadOnlyList<Size> free, IReadOnlyList<Feature> features, PlacedShape shape, AdjustmentResult result, IReadOnlyList<(DesignSystem System, double Odds)> systems)
    {
        var found = new CentredPlace?[free.Count];
        Dictionary<string, int> numbers = free.Index().ToDictionary(f => f.Item.Name, f => f.Index, StringComparer.Ordinal);
        ILookup<string, Element> elements = shape.Elements.Values.Where(e => e.Name.Contains('.')).ToLookup(e => e.Name.Split('.', '#')[0], StringComparer.Ordinal);
        foreach (var (at, feature) in features.Index())
        {
            int[] places = [.. SizeUse.In([feature]).Where(u => u.Kind == SizeKind.Place).Select(u => numbers.GetValueOrDefault(u.Size, -1)).Where(k => k >= 0 && free[k].Quantity == Quantity.Length && result.IsDecided(k) && result.StandardUncertainty(k) > 0).Distinct()];
            if (places.Length == 0) continue;
            string[] hosts = Hosts(feature) is { } named ? [named] : [.. features.Take(at).OfType<AddedShape>().Select(f => f.Name)];
            foreach (string host in hosts)
                foreach (var (words, axis) in Axes)
                    if (Middle(elements[Own(feature)], axis, isRow: feature is Row or Ring) is { } here && Middle(elements[host], axis) is { } there)
                        foreach (int place in places)
                            if (Of(place, here - there, free, shape, result, systems, Prior / hosts.Length) is var (written, odds) && odds > (found[place]?.Odds ?? 0)
                                && !free[place].NotMeant.Contains(new Meant.SameAs(written)))
                                found[place] = new(written, $"{feature.Name} in the middle of {host}, {words}", odds);
        }

        return found;
    }

    /// <summary>What a size would be if the difference of two middles were nothing, and how likely it is; null where that is not plainly said, or not likely.</summary>
    private static (string Written, double Odds)? Of(int place, Dual off, IReadOnlyList<Size> free, PlacedShape shape, AdjustmentResult result, IReadOnlyList<(DesignSystem System, double Odds)> systems, double prior)
    {
        double slope = off.Gradient.By(place);
        if (Math.Abs(slope) < Rounding) return null;
        Dual measured = shape.Sizes[free[place].Name], wanted = measured - off / slope;
        if (Written(wanted, place, free, shape) is not { } written) return null;
        DerivedValue a = result.Of(_ => measured), b = result.Of(_ => wanted), apart = result.Of(_ => off / slope);
        if (!b.IsDecided || !apart.IsDecided) return null;
        double varianceA = a.StandardUncertainty * a.StandardUncertainty, varianceB = b.StandardUncertainty * b.StandardUncertainty;
        double covariance = 0.5 * (varianceA + varianceB - apart.StandardUncertainty * apart.StandardUncertainty), side = Math.Sign(a.Value);
        double odds = EqualSizes.Odds(prior, side * a.Value, side * b.Value, varianceA, varianceB, covariance, systems);
        return odds >= WorthProposing ? (written, odds) : null;
    }

    /// <summary>The sum of parts of sizes that a value is, as a job writes it: <c>leg/2</c>, <c>wide - 2*rim</c>; null where it is none.</summary>
    private static string? Written(Dual value, int except, IReadOnlyList<Size> free, PlacedShape shape)
    {
        double rest = value.Value;
        var text = new System.Text.StringBuilder();
        for (int i = 0; i < value.Gradient.Unknowns.Length; i++)
        {
            int k = value.Gradient.Unknowns[i];
            double times = value.Gradient.Derivatives[i];
            if (Math.Abs(times) < Rounding) continue;
            if (k == except || k >= free.Count || Math.Abs(times / Part - Math.Round(times / Part)) > 1e-6) return null;
            times = Math.Round(times / Part) * Part;
            rest -= times * shape.Sizes[free[k].Name].Value;
            double size = Math.Abs(times);
            text.Append(text.Length == 0 ? times < 0 ? "-" : "" : times < 0 ? " - " : " + ");
            text.Append(size == 1 ? free[k].Name : 1 / size == Math.Round(1 / size) ? $"{free[k].Name}/{Shown.Number(1 / size)}" : $"{Shown.Number(size)}*{free[k].Name}");
        }

        if (text.Length == 0) return null;
        double more = Math.Round(rest, 4);
        if (Math.Abs(rest - more) > 1e-6) return null;
        return more == 0 ? text.ToString() : $"{text} {(more < 0 ? "-" : "+")} {Shown.Number(Math.Abs(more))}";
    }

    /// <summary>Half way between the outermost of opposite faces that look along an axis; else where the axes of what is round across it are. Null where it has neither, or the axes are not in one place.</summary>
    private static Dual? Middle(IEnumerable<Element> elements, Func<Vector, Dual> axis, bool isRow = false)
    {
        Dual[] axes = [.. elements.Select(e => e switch
        {
            RoundElement round when Math.Abs(axis(round.AxisDirection).Value) < Rounding => axis(round.AxisPoint),
            ConeElement cone when Math.Abs(axis(cone.AxisDirection).Value) < Rounding => axis(cone.BasePoint),
            _ => (Dual?)null,
        }).OfType<Dual>()];
        Dual[] high = [.. elements.OfType<FlatElement>().Where(f => axis(f.Normal).Value > Along).Select(f => axis(f.Point))], low = [.. elements.OfType<FlatElement>().Where(f => axis(f.Normal).Value < -Along).Select(f => axis(f.Point))];
        if (isRow && axes.Length > 0) return (axes.MinBy(a => a.Value) + axes.MaxBy(a => a.Value)) / 2;
        if (high.Length > 0 && low.Length > 0) return (high.MaxBy(f => f.Value) + low.MinBy(f => f.Value)) / 2;
        return axes.Length > 0 && axes.All(a => Math.Abs(a.Value - axes[0].Value) < Rounding) ? axes[0] : null;
    }

    /// <summary>Whose faces a feature has: copies bear the name of what is copied.</summary>
    private static string Own(Feature feature) => feature switch { Row row => Own(row.Of), Ring ring => Own(ring.Of), _ => feature.Name };

    /// <summary>The feature that it is said to be in or on; null where it is not said.</summary>
    private static string? Hosts(Feature feature) => feature switch
    {
        Row row => Hosts(row.Of),
        Ring ring => Hosts(ring.Of),
        Hole { Reach: Reach.ThroughFeature through } => through.Feature,
        Hole { Start: HoleStart.FromFace from } => Feature(from.Face),
        Slot slot => Feature(slot.From),
        Pocket pocket => Feature(pocket.From),
        Boss boss => Feature(boss.StandsOn),
        Plate plate => Feature(plate.StandsOn),
        Rib rib => Feature(rib.StandsOn),
        _ => null,
    };

    private static string? Feature(ElementName element) => element.Text.Contains('.') ? element.Text.Split('.', '#')[0] : null;
}
