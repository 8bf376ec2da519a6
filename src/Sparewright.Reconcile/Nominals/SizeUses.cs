using Sparewright.Measure.Numbers;
using Sparewright.Part.Shape;
using Sparewright.Part.Sizes;

namespace Sparewright.Reconcile.Nominals;

/// <summary>What a size is to the shape. A designer chooses one value for two sizes of a kind, hardly for two of different kinds.</summary>
internal enum SizeKind
{
    /// <summary>How thick, long, wide or tall material is.</summary>
    Across,

    /// <summary>The same of emptiness between flat walls.</summary>
    Gap,

    /// <summary>The diameter of a boss or of an outline's disc.</summary>
    Round,

    /// <summary>The diameter of a round hole.</summary>
    Hole,

    /// <summary>The diameter of a wider start of one.</summary>
    Counterbore,

    /// <summary>The diameter of a conical start of one.</summary>
    Countersink,

    /// <summary>How deep something goes in.</summary>
    Depth,

    /// <summary>Where something is.</summary>
    Place,

    /// <summary>The radius or setback of an edge.</summary>
    Edge,
}

/// <summary>A size in one place of the shape, which asks there for slope · size + offset.</summary>
internal readonly record struct SizeUse(string Size, SizeKind Kind, double Slope, double Offset)
{
    /// <summary>Everything in a shape that depends on one size alone, and linearly.</summary>
    public static IEnumerable<SizeUse> In(IEnumerable<Feature> shape) => shape.SelectMany(Said).Select(s => Of(s.Kind, s.Expression)).OfType<SizeUse>();

    private static SizeUse? Of(SizeKind kind, SizeExpression expression)
    {
        if (expression.Names().Take(2).ToArray() is not [var size]) return null;
        Dual At(double value) => expression.At(new Dictionary<string, Dual>(StringComparer.Ordinal) { [size] = Dual.Unknown(0, value) });
        Dual here = At(10), there = At(7.5);
        double slope = here.Gradient.By(0);
        return slope != 0 && slope == there.Gradient.By(0) && double.IsFinite(here.Value) ? new(size, kind, slope, here.Value - 10 * slope) : null;
    }

    private static IEnumerable<(SizeKind Kind, SizeExpression Expression)> Said(Feature feature) => feature switch
    {
        Plate plate => [(SizeKind.Across, plate.Thickness), .. In(plate.Outline, SizeKind.Across, SizeKind.Round), .. At(plate.At)],
        Boss boss => [(SizeKind.Round, boss.Diameter), .. Maybe(SizeKind.Round, boss.TopDiameter), (SizeKind.Across, boss.Height), .. At(boss.At)],
        Block block => [(SizeKind.Across, block.Long), (SizeKind.Across, block.Deep), (SizeKind.Across, block.Tall), .. At(block.CornerAt), .. At(block.MiddleAt)],
        TurnedShape turned => [.. In(turned.Outline, SizeKind.Across, SizeKind.Round), .. At(turned.At)],
        Rib rib => [(SizeKind.Across, rib.Thickness), (SizeKind.Across, rib.Height), .. Maybe(SizeKind.Across, rib.EndHeight), .. At(rib.From), .. At(rib.To)],
        Hole hole =>
        [
            (SizeKind.Hole, hole.Diameter), .. In(hole.Reach), .. Maybe(SizeKind.Counterbore, hole.Counterbore?.Diameter), .. Maybe(SizeKind.Depth, hole.Counterbore?.Depth),
            .. Maybe(SizeKind.Countersink, hole.Countersink?.Diameter), .. Maybe(SizeKind.Place, hole.Flat?.FromAxis),
            .. hole.Start switch { HoleStart.FromFace from => At(from.At), HoleStart.AlongAxis along => At(along.At), _ => [] },
        ],
        Slot slot => [(SizeKind.Gap, slot.Width), .. In(slot.Reach), .. At(slot.First), .. At(slot.Second)],
        Pocket pocket => [.. In(pocket.Outline, SizeKind.Gap, SizeKind.Hole), .. In(pocket.Reach), .. At(pocket.At)],
        Groove groove => [(SizeKind.Place, groove.Offset), (SizeKind.Gap, groove.Width), (SizeKind.Depth, groove.Depth)],
        EdgeRound round => [(SizeKind.Edge, round.Radius)],
        Fillet fillet => [(SizeKind.Edge, fillet.Radius)],
        Chamfer chamfer => [(SizeKind.Edge, chamfer.Setback)],
        Row row => [(SizeKind.Place, row.Pitch), .. At(row.MiddleAt), .. At(row.FirstAt), .. Said(row.Of)],
        Ring ring => [(SizeKind.Place, ring.PitchCircle), .. At(ring.MiddleAt), .. Said(ring.Of)],
        DatumPlane datum => Maybe(SizeKind.Place, datum.Offset),
        _ => [],
    };

    /// <param name="across">What its straight lengths are.</param>
    /// <param name="round">What its discs' diameters are.</param>
    private static IEnumerable<(SizeKind, SizeExpression)> In(Outline outline, SizeKind across, SizeKind round) => outline switch
    {
        Disc disc => [(round, new SizeExpression.Binary('*', 2.0, disc.Radius)), .. At(disc.Middle)],
        Rectangle box => [(across, box.Long), (across, box.Wide), .. Maybe(SizeKind.Edge, box.CornerRadius), .. At(box.Middle), .. At(box.Corner)],
        Obround obround => [(across, obround.Width), .. At(obround.First), .. At(obround.Second)],
        Hexagon hexagon => [(across, hexagon.AcrossFlats), .. At(hexagon.Middle)],
        Polygon polygon => [.. polygon.Corners.SelectMany(At), .. Maybe(SizeKind.Edge, polygon.CornerRadius)],
        PathOutline path => [.. At(path.Start), .. path.Pieces.SelectMany(p => At(p.To))],
        Belt belt => belt.Discs.SelectMany(d => In(d, across, round)),
        JoinedOutlines joined => joined.Outlines.SelectMany(o => In(o, across, round)),
        OverlappedOutlines overlapped => overlapped.Outlines.SelectMany(o => In(o, across, round)),
        TakenAwayOutlines taken => taken.Away.Prepend(taken.From).SelectMany(o => In(o, across, round)),
        _ => [],
    };

    private static IEnumerable<(SizeKind, SizeExpression)> In(Reach reach) => reach is Reach.Depth depth ? [(SizeKind.Depth, depth.Of)] : [];

    private static IEnumerable<(SizeKind, SizeExpression)> At(FacePoint? point) => point is null ? [] : [(SizeKind.Place, point.U), (SizeKind.Place, point.V)];

    private static IEnumerable<(SizeKind, SizeExpression)> At(SpacePoint? point) => point is null ? [] : [(SizeKind.Place, point.X), (SizeKind.Place, point.Y), (SizeKind.Place, point.Z)];

    private static IEnumerable<(SizeKind, SizeExpression)> Maybe(SizeKind kind, SizeExpression? expression) => expression is null ? [] : [(kind, expression)];
}
