using Sparewright.Measure.Numbers;

namespace Sparewright.Part.Elements;

/// <summary>
/// Finds outlines that cross themselves at given sizes: no solid can be made of them. Arcs are taken as chords of at most 15°.
/// Looked for once before a solid is built, not at every step of the adjustment.
/// </summary>
public static class OutlineCrossing
{
    private const double ChordRadians = Math.PI / 12;

    /// <summary>One problem for each feature with an outline that crosses itself.</summary>
    public static IReadOnlyList<Problem> In(PlacedShape shape) =>
    [
        .. shape.Features.OfType<Combination>()
            .Where(c => c.Tools.SelectMany(Loops).Any(Crosses))
            .Select(c => new Problem(c.Place, $"{c.Name}: its outline crosses itself at these sizes", "check the sizes that its corners come from")),
    ];

    private static IEnumerable<IReadOnlyList<Piece>> Loops(Tool tool) => tool switch
    {
        PrismTool prism => Loops(prism.Region),
        TurnedTool turned => [turned.Loop],
        _ => [],
    };

    private static IEnumerable<IReadOnlyList<Piece>> Loops(Region region) => region switch
    {
        Region.Loop loop => [loop.Pieces],
        Region.Joined joined => joined.Regions.SelectMany(Loops),
        Region.Overlapped overlapped => overlapped.Regions.SelectMany(Loops),
        Region.TakenAway taken => taken.Others.Prepend(taken.First).SelectMany(Loops),
        _ => [],
    };

    private static bool Crosses(IReadOnlyList<Piece> loop)
    {
        var corners = loop.SelectMany(Points).ToList();
        int n = corners.Count;
        for (int i = 0; i < n; i++)
        {
            for (int j = i + 2; j < n; j++)
            {
                if (i == 0 && j == n - 1) continue;
                if (Cross(corners[i], corners[(i + 1) % n], corners[j], corners[(j + 1) % n])) return true;
            }
        }

        return false;
    }

    /// <summary>The points of a piece but its last, which is the next piece's first.</summary>
    private static IEnumerable<(double U, double V)> Points(Piece piece)
    {
        yield return (piece.From.U.Value, piece.From.V.Value);
        if (piece is not ArcPiece arc) yield break;
        PlanePoint a = arc.From - arc.Center, b = arc.To - arc.Center;
        double start = Math.Atan2(a.V.Value, a.U.Value), sweep = Math.Atan2(b.V.Value, b.U.Value) - start;
        if (arc.TurningLeft && sweep <= 0) sweep += 2 * Math.PI;
        if (!arc.TurningLeft && sweep >= 0) sweep -= 2 * Math.PI;
        int steps = (int)Math.Ceiling(Math.Abs(sweep) / ChordRadians);
        for (int k = 1; k < steps; k++)
        {
            double angle = start + sweep * k / steps, r = arc.Radius.Value;
            yield return (arc.Center.U.Value + r * Math.Cos(angle), arc.Center.V.Value + r * Math.Sin(angle));
        }
    }

    private static bool Cross((double U, double V) a, (double U, double V) b, (double U, double V) c, (double U, double V) d)
    {
        static double Side((double U, double V) a, (double U, double V) b, (double U, double V) p) => (b.U - a.U) * (p.V - a.V) - (b.V - a.V) * (p.U - a.U);
        const double tolerance = 1e-9;
        double c1 = Side(a, b, c), d1 = Side(a, b, d), a2 = Side(c, d, a), b2 = Side(c, d, b);
        return (c1 > tolerance && d1 < -tolerance || c1 < -tolerance && d1 > tolerance) && (a2 > tolerance && b2 < -tolerance || a2 < -tolerance && b2 > tolerance);
    }
}
