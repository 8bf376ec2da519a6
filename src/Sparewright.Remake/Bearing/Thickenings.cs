using Sparewright.Measure.Numbers;
using Sparewright.Part.Elements;
using Sparewright.Part.Record;
using Sparewright.Part.Shape;
using Sparewright.Part.Sizes;
using Sparewright.Solid;

namespace Sparewright.Remake.Bearing;

/// <summary>A change of shape that may be tried: which features it is for, from which length to which.</summary>
/// <param name="What">The size's name, or the fillets whose radius is written as a number.</param>
/// <param name="Features">Those whose length it is.</param>
/// <param name="At">The shape and its sizes at a length in mm.</param>
internal sealed record Thickening(CureKind Kind, string What, IReadOnlyList<string> Features, double FromMm, double ToMm, Func<double, PlacedShape> At);

/// <summary>Which lengths of a part may be made bigger: rounds and walls that nothing it fits on or into depends on.</summary>
internal static class Thickenings
{
    /// <summary>A round half as big again, a wall a quarter thicker, but never less than a step that a nozzle of 0.4 mm can show: two lines of 0.45 mm.</summary>
    private const double RoundStep = 0.5, WallStep = 0.25, LeastRoundMm = 0.5, LeastWallMm = 0.9;

    /// <summary>Elements that move by less stay where they are.</summary>
    private const double StaysMm = 1e-6;

    /// <param name="sizes">As the part is drawn.</param>
    public static IReadOnlyList<Thickening> Of(Job job, IReadOnlyDictionary<string, Dual> sizes)
    {
        PlacedShape now = ShapePlacer.Place(job.Shape, sizes);
        Feature[] all = [.. job.Shape.Select(f => f switch { Row r => r.Of, Ring r => r.Of, _ => f })];
        var found = new List<Thickening>();

        // Lengths by a size's name: one change for all features that use it.
        var named = all.SelectMany(f => Lengths(f, sizes).SelectMany(l => l.Length.Names().Select(size => (Size: size, l.Kind, Feature: f.Name)))).GroupBy(u => u.Size);
        foreach (var uses in named)
        {
            if (job.Sizes.All.First(s => s.Name == uses.Key) is not { Quantity: Quantity.Length, Given: not Given.EqualTo } size || job.Counterparts.Any(c => c.Changes == size.Name)) continue;
            found.Add(Bigger(uses.First().Kind, size.Name, [.. uses.Select(u => u.Feature).Distinct()], sizes[size.Name].Value, mm => ShapePlacer.Place(job.Shape, With(job.Sizes, sizes, size.Name, mm))));
        }

        // Fillets whose radius is written as a number: one change for all that have the same.
        foreach (var same in job.Shape.OfType<Fillet>().Where(f => f.Radius is SizeExpression.Number).GroupBy(f => ((SizeExpression.Number)f.Radius).Value))
        {
            string[] names = [.. same.Select(f => f.Name)];
            found.Add(Bigger(CureKind.BiggerRound, string.Join(" and ", names), names, same.Key,
                mm => ShapePlacer.Place([.. job.Shape.Select(f => f is Fillet fillet && names.Contains(f.Name) ? fillet with { Radius = mm } : f)], sizes)));
        }

        return [.. found.Where(t => t.FromMm > 0 && Stay(now, t.At(t.ToMm)))];

        bool Stay(PlacedShape before, PlacedShape after) => job.Counterparts.All(c => before.Elements.Values.Where(e => Meets(c.Where.Text, e.Name)).All(e => after.Elements.TryGetValue(e.Name, out Element? then) && IsSame(e, then)));

        bool Meets(string where, string element)
        {
            string feature = job.Shape.Select(f => f switch { Row r when r.Name == where => r.Of.Name, Ring r when r.Name == where => r.Of.Name, _ => null }).FirstOrDefault(n => n is not null) ?? where;
            return element == feature || element.StartsWith(feature + ".", StringComparison.Ordinal) || element.StartsWith(feature + "#", StringComparison.Ordinal);
        }
    }

    private static Thickening Bigger(CureKind kind, string what, IReadOnlyList<string> features, double fromMm, Func<double, PlacedShape> at)
    {
        double by = kind == CureKind.BiggerRound ? Math.Max(LeastRoundMm, RoundStep * fromMm) : Math.Max(LeastWallMm, WallStep * fromMm);
        return new(kind, what, features, fromMm, Math.Round(fromMm + by, 1), at);
    }

    /// <summary>The lengths across which a feature is thick, and the radii of its inner rounds.</summary>
    private static IEnumerable<(CureKind Kind, SizeExpression Length)> Lengths(Feature feature, IReadOnlyDictionary<string, Dual> sizes)
    {
        switch (feature)
        {
            case Fillet fillet:
                yield return (CureKind.BiggerRound, fillet.Radius);
                break;
            case Plate plate:
                yield return (CureKind.ThickerWall, plate.Thickness);
                break;
            case Rib rib:
                yield return (CureKind.ThickerWall, rib.Thickness);
                break;
            case Boss boss:
                yield return (CureKind.ThickerWall, boss.Diameter);
                break;
            case Block block:
                // Its longest side says how far it reaches, not how thick it is.
                foreach (SizeExpression across in new[] { block.Long, block.Deep, block.Tall }.OrderBy(l => l.At(sizes).Value).Take(2)) yield return (CureKind.ThickerWall, across);
                break;
        }
    }

    private static IReadOnlyDictionary<string, Dual> With(SizeTable table, IReadOnlyDictionary<string, Dual> sizes, string name, double mm)
    {
        var changed = new SizeTable([.. table.All.Select(s => s.Name == name ? s with { Given = new Given.Fixed(mm) } : s)]);
        return changed.At([.. changed.Free.Select(s => sizes[s.Name].Value)]);
    }

    /// <summary>Whether a face or axis is where it was and as big as it was; a plane may grow, and an axis be told by another point of it.</summary>
    private static bool IsSame(Element a, Element b) => (a, b) switch
    {
        (FlatElement p, FlatElement q) => Near(p.Normal, q.Normal) && Math.Abs(Vector.Dot(p.Normal, q.Point - p.Point).Value) < StaysMm,
        (RoundElement p, RoundElement q) => Near(p.Radius, q.Radius) && Near(p.AxisDirection, q.AxisDirection) && OnAxis(p.AxisPoint, p.AxisDirection, q.AxisPoint),
        (ConeElement p, ConeElement q) => Near(p.BaseRadius, q.BaseRadius) && Near(p.Slope, q.Slope) && Near(p.AxisDirection, q.AxisDirection) && Near(p.BasePoint, q.BasePoint),
        (AxisElement p, AxisElement q) => Near(p.Direction, q.Direction) && OnAxis(p.Point, p.Direction, q.Point),
        (SideElement p, SideElement q) => p.Pieces().Zip(q.Pieces()).All(pieces => IsSame(pieces.First, pieces.Second)),
        (EdgeFaceElement p, EdgeFaceElement q) => Near(p.Radius, q.Radius),
        _ => a.GetType() == b.GetType(),
    };

    private static bool OnAxis(Vector point, Vector direction, Vector other) => Vector.Cross(other - point, direction).Length.Value < StaysMm;

    private static bool Near(Vector a, Vector b) => Point3.Of(a - b).Length < StaysMm;

    private static bool Near(Dual a, Dual b) => Math.Abs(a.Value - b.Value) < StaysMm;
}
