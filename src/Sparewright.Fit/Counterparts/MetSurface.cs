using Sparewright.Measure.Numbers;
using Sparewright.Part;
using Sparewright.Part.Elements;
using Sparewright.Part.Shape;

namespace Sparewright.Fit.Counterparts;

/// <summary>A surface of the part, or two that face each other or away from each other, that a counterpart meets.</summary>
/// <param name="Name">The element's name; of two both, as "gap.side#1, gap.side#2".</param>
/// <param name="Kind">What the printer does to it, as the part will lie.</param>
/// <param name="SizeMm">Its diameter, or the distance of the two, with derivatives by the sizes.</param>
/// <param name="Middle">A point on its axis, or halfway between the two.</param>
/// <param name="Along">The axis of a round one; from one to the other of two flat ones.</param>
public sealed record MetSurface(string Name, SurfaceKind Kind, Dual SizeMm, Vector Middle, Vector Along, bool IsRound);

/// <summary>What of the part's shape its counterparts meet.</summary>
/// <param name="wayUp">Which job direction points away from the bed.</param>
internal sealed class MetSurfaces(PlacedShape shape, IReadOnlyList<Feature> features, Direction wayUp)
{
    /// <summary>How much, as a share of its size, what a counterpart meets may differ from it for its shape to say which of several it is. Our judgement.</summary>
    private const double Near = 0.1;

    /// <summary>
    /// The surfaces that a counterpart of about this size meets: one, or one in each copy of a row or ring. Where a feature has several (a counterbore, the flats of a pocket, the height of a boss), one of its own shape is taken
    /// that is nearly as large, else whichever is nearest in size. A flat face by its name stands for the pair that it is one of.
    /// </summary>
    public (IReadOnlyList<MetSurface> Found, Problem? Problem) Of(ElementName where, bool partIsOutside, double ownMm, bool isRound)
    {
        string[] segments = where.Text.Split('.', 2);
        string feature = CopiesOf(segments[0]);
        bool Named(Element e) => segments.Length == 1 || Rest(e.Name) == segments[1] || Rest(e.Name).StartsWith(segments[1] + "#", StringComparison.Ordinal);
        var found = new List<MetSurface>();
        foreach (var copy in shape.Elements.Values.Where(e => IsOf(e.Name, feature)).GroupBy(e => e.Name.Split('.')[0]))
        {
            MetSurface[] all = [.. copy.OfType<RoundElement>().Where(r => r.Hollow == partIsOutside && Named(r)).Select(Round), .. Pairs([.. copy.OfType<FlatElement>().OrderBy(f => f.Name, StringComparer.Ordinal)], partIsOutside, Named)];
            double Off(MetSurface s) => Math.Round(Math.Abs(s.SizeMm.Value - ownMm), 6);
            if ((all.Where(s => s.IsRound == isRound && Off(s) <= Near * ownMm).MinBy(Off) ?? all.MinBy(Off)) is { } nearest) found.Add(nearest);
        }

        if (found.Count > 0) return (found, null);
        string wanted = partIsOutside ? "hole, slot or pocket" : "boss or block";
        string remedy = ElementNames.Beside(where.Text, shape.Elements.Keys) is { } beside ? $"name a {wanted}, or a wall of one; {beside}" : $"name a {wanted}";
        return ([], new Problem(where.Place, $"`{where.Text}` has no {(partIsOutside ? "hollow surface that something could go into" : "outside that something could go over")}", remedy));
    }

    /// <summary>The copied feature's name where a row or ring is named.</summary>
    private string CopiesOf(string name)
    {
        for (Feature? feature = features.FirstOrDefault(f => f.Name == name); feature is Row or Ring; name = feature.Name)
            feature = feature is Row row ? row.Of : ((Ring)feature).Of;
        return name;
    }

    private static bool IsOf(string element, string feature) =>
        element.StartsWith(feature + ".", StringComparison.Ordinal) || element.StartsWith(feature + "#", StringComparison.Ordinal);

    private static string Rest(string element) => element.Contains('.') ? element[(element.IndexOf('.') + 1)..] : "";

    private MetSurface Round(RoundElement round) => new(round.Name, UpFromBed.KindOf(round, wayUp), 2 * round.Radius, round.AxisPoint, round.AxisDirection, true);

    /// <summary>Flat faces that face each other with space between them, or away from each other with material between them.</summary>
    private IEnumerable<MetSurface> Pairs(FlatElement[] flats, bool spaceBetween, Func<Element, bool> named)
    {
        for (int i = 0; i < flats.Length; i++)
            for (int j = i + 1; j < flats.Length; j++)
            {
                if ((!named(flats[i]) && !named(flats[j])) || Vector.Dot(flats[i].Normal, flats[j].Normal).Value > -1 + 1e-9) continue;
                Dual apart = Vector.Dot(flats[i].Normal, flats[j].Point - flats[i].Point);
                if (Math.Abs(apart.Value) < 1e-9 || apart.Value > 0 != spaceBetween) continue;
                yield return new($"{flats[i].Name}, {flats[j].Name}", UpFromBed.KindOf(spaceBetween, flats[i].Normal, wayUp), Dual.Abs(apart), 0.5 * (flats[i].Point + flats[j].Point), flats[i].Normal, false);
            }
    }
}
