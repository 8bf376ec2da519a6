using Sparewright.Measure.Numbers;
using Sparewright.Part.Elements;

namespace Sparewright.Reconcile.Readings;

/// <summary>A face that is there.</summary>
/// <param name="Looks">The directions, away from the material, in which it looks at the points of it that are there.</param>
/// <param name="Points">These points.</param>
internal sealed record FaceInPlace(IReadOnlyList<Vector> Looks, IReadOnlyList<Vector> Points);

/// <summary>
/// Which named faces are really there on the finished part: a face that another feature covers or cuts away bounds no material any more, and no jaw finds it.
/// Told by points of each face: it is there where material lies on one side of it and none on the other. Rounds and bevels are left out of account.
/// </summary>
internal static class FacesInPlace
{
    /// <summary>How far beside the face its two sides are looked at, mm.</summary>
    private const double BesideMm = 0.01;

    /// <summary>Two directions whose cosine is above this are kept as one.</summary>
    private const double SameWay = 0.999;

    private static readonly double[] Heights = [0.12, 0.5, 0.88], Along = [0.02, 0.12, 0.3, 0.5, 0.7, 0.88, 0.98];
    /// <summary>How much of a piece of an outline lies between the first and the last of its points.</summary>
    public static double ShareOfPiece => Along[^1] - Along[0];

    private static readonly double[] Angles = [0.1, 1.3, 2.6, 3.9, 5.2];

    /// <summary>By their names.</summary>
    public static IReadOnlyDictionary<string, FaceInPlace> Of(PlacedShape shape)
    {
        Combination[] built = [.. shape.Features.OfType<Combination>()];
        var there = new Dictionary<string, (List<Vector> Looks, List<Vector> Points)>(StringComparer.Ordinal);
        foreach (Tool tool in built.SelectMany(c => c.Tools))
            foreach (var (names, point, normal) in PointsOf(tool))
            {
                bool before = IsMaterial(point + normal * BesideMm, built), behind = IsMaterial(point - normal * BesideMm, built);
                if (before == behind) continue;
                Vector open = before ? -normal : normal;
                foreach (string name in names.Concat(names.Select(Whole)).Distinct())
                {
                    if (!there.TryGetValue(name, out var face)) there[name] = face = ([], []);
                    if (face.Looks.TrueForAll(l => Vector.Dot(l, open).Value < SameWay)) face.Looks.Add(open);
                    face.Points.Add(point);
                }
            }

        return there.ToDictionary(t => t.Key, t => new FaceInPlace(t.Value.Looks, t.Value.Points), StringComparer.Ordinal);
    }

    /// <summary>The side to which a numbered piece belongs: <c>foot.rim</c> of <c>foot.rim#3</c>.</summary>
    private static string Whole(string name) => name.LastIndexOf('#') is var at && at > name.LastIndexOf('.') ? name[..at] : name;

    private static bool IsMaterial(Vector at, Combination[] built)
    {
        bool material = false;
        foreach (Combination combination in built)
            if (combination.Joins != material && combination.Tools.Any(t => Holds(t, at))) material = combination.Joins;
        return material;
    }

    private static bool Holds(Tool tool, Vector at)
    {
        // By plain numbers: this is asked for each point of each tool, of every tool, and takes most of the time.
        Vector origin = tool.Frame.Origin;
        double x = at.X.Value - origin.X.Value, y = at.Y.Value - origin.Y.Value, z = at.Z.Value - origin.Z.Value;
        double Along(Vector axis) => x * axis.X.Value + y * axis.Y.Value + z * axis.Z.Value;
        double n = Along(tool.Frame.N);
        return tool switch
        {
            PrismTool prism => n > Math.Min(prism.From.Value, prism.To.Value) && n < Math.Max(prism.From.Value, prism.To.Value) && Inside.Of(prism.Region, new(Along(tool.Frame.U), Along(tool.Frame.V))) == Whereabouts.Inside,
            TurnedTool turned => Inside.Of(new Region.Loop(turned.Loop), new(Math.Sqrt(Math.Max(0, x * x + y * y + z * z - n * n)), n)) == Whereabouts.Inside,
            _ => throw new InvalidOperationException($"unknown tool {tool}"),
        };
    }

    /// <summary>Points of the tool's faces, a little away from its edges, each with the names of its face and the face's normal.</summary>
    private static IEnumerable<(IReadOnlyList<string> Names, Vector Point, Vector Normal)> PointsOf(Tool tool)
    {
        switch (tool)
        {
            case PrismTool prism:
                foreach (PlanePoint p in Within(prism.Region))
                {
                    if (prism.FromNames.Count > 0) yield return (prism.FromNames, prism.Frame.At(p, prism.From.Value), prism.Frame.N);
                    if (prism.ToNames.Count > 0) yield return (prism.ToNames, prism.Frame.At(p, prism.To.Value), prism.Frame.N);
                }

                foreach (var (names, p, normal) in OnOutline(prism.Region))
                    foreach (double height in Heights)
                        yield return (names, prism.Frame.At(p, prism.From + (prism.To - prism.From) * height), prism.Frame.Along(normal));
                break;
            case TurnedTool turned:
                foreach (var (names, p, normal) in OnOutline(new Region.Loop(turned.Loop)))
                    foreach (double angle in Angles)
                    {
                        Vector radial = turned.Frame.U * Math.Cos(angle) + turned.Frame.V * Math.Sin(angle);
                        if (p.U.Value > 0) yield return (names, turned.Frame.Origin + radial * p.U + turned.Frame.N * p.V, radial * normal.U + turned.Frame.N * normal.V);
                    }

                break;
        }
    }

    private static IEnumerable<(IReadOnlyList<string> Names, PlanePoint At, PlanePoint Normal)> OnOutline(Region region)
    {
        switch (region)
        {
            case Region.Circle circle:
                foreach (double angle in Angles)
                {
                    var direction = new PlanePoint(Math.Cos(angle), Math.Sin(angle));
                    yield return (circle.Names, circle.Center + direction * circle.Radius, direction);
                }

                break;
            case Region.Loop loop:
                foreach (Piece piece in loop.Pieces)
                    foreach (double along in Along)
                        if (OnPiece(piece, along) is var (at, normal)) yield return (piece.Names, at, normal);
                break;
            case Region.Joined joined:
                foreach (var point in joined.Regions.SelectMany(OnOutline)) yield return point;
                break;
            case Region.Overlapped overlapped:
                foreach (var point in overlapped.Regions.SelectMany(OnOutline)) yield return point;
                break;
            case Region.TakenAway taken:
                foreach (var point in taken.Others.Prepend(taken.First).SelectMany(OnOutline)) yield return point;
                break;
        }
    }

    private static (PlanePoint At, PlanePoint Normal)? OnPiece(Piece piece, double along)
    {
        if (piece is ArcPiece arc)
        {
            PlanePoint from = piece.From - arc.Center, to = piece.To - arc.Center;
            double angle = Math.Atan2(PlanePoint.Cross(from, to).Value, PlanePoint.Dot(from, to).Value);
            if (arc.TurningLeft && angle < 0) angle += 2 * Math.PI;
            if (!arc.TurningLeft && angle > 0) angle -= 2 * Math.PI;
            double turn = angle * along;
            var outward = (from * Math.Cos(turn) + from.Left * Math.Sin(turn)).Unit();
            return (arc.Center + outward * arc.Radius, outward);
        }

        PlanePoint way = piece.To - piece.From;
        return way.Length.Value < 1e-9 ? null : (piece.From + way * along, way.Unit().Left);
    }

    /// <summary>Points of a region: its own points a little inside its outline.</summary>
    private static IEnumerable<PlanePoint> Within(Region region) =>
        OnOutline(region).SelectMany(o => new[] { o.At + o.Normal * 0.3, o.At - o.Normal * 0.3, o.At - o.Normal * 2, o.At + o.Normal * 2 })
            .Where(p => Inside.Of(region, p) == Whereabouts.Inside);
}
