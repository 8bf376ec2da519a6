using Sparewright.Fit.Odds;
using Sparewright.Measure.Numbers;

namespace Sparewright.Fit.Counterparts;

/// <summary>
/// Where the holes of a pattern lie on the part, and where what goes through them stands in the world: by the counterpart's own pitch, or, where nobody measured that, where the old part's readings say that its
/// holes were.
/// </summary>
internal sealed class HolePattern
{
    /// <summary>Nearer to a line or circle than this, mm, counts as on it.</summary>
    private const double OnItMm = 1e-6;

    private readonly MetSurface[] _holes;
    private readonly Vector _right, _up;
    private readonly Vector _middle;

    public HolePattern(IReadOnlyList<MetSurface> holes)
    {
        _holes = [.. holes];
        Vector axis = holes[0].Along.Unit();
        Vector across = Flat(holes[^1].Middle - holes[0].Middle, axis);
        _right = across.Length.Value > OnItMm ? Constant(across.Unit()) : Constant(Square(axis));
        _up = Constant(Vector.Cross(axis, _right));
        IsRow = holes.All(h => Math.Abs(Vector.Dot(h.Middle - holes[0].Middle, _up).Value) < OnItMm);
        Vector sum = Vector.Zero;
        foreach (MetSurface hole in holes) sum += hole.Middle;
        _middle = sum * (1.0 / holes.Count);
    }

    /// <summary>True when all lie on one line; otherwise they are spread over a plane.</summary>
    public bool IsRow { get; }

    /// <summary>What the pattern's own pitch would be on the drawn part: the distance of neighbours in an even row, the diameter of the circle of a ring; null where it is neither.</summary>
    public double? PitchMm
    {
        get
        {
            double[] all = IsRow
                ? [.. _holes.Zip(_holes.Skip(1), (a, b) => Math.Abs(Vector.Dot(b.Middle - a.Middle, _right).Value))]
                : [.. _holes.Select(h => 2 * Math.Sqrt(Square(Right(h, _middle).Value) + Square(Up(h, _middle).Value)))];
            return all.Max() - all.Min() < OnItMm && all[0] > OnItMm ? all[0] : null;
        }
    }

    /// <summary>The condition that all fasteners go through at once.</summary>
    /// <param name="room">Of each hole: half its clearance.</param>
    /// <param name="own">How far the counterpart's own holes are apart; null where only the old part's readings tell.</param>
    /// <param name="lengths">Makes a drawn distance a printed size, and a place in the world a sum of read sizes.</param>
    public FitCondition Condition(string name, IReadOnlyList<LengthSum> room, ClearanceWindow window, (string Name, NormalLength Length)? own, IPatternLengths lengths)
    {
        double? pitch = own is null ? null : PitchMm;
        LengthSum Off(Dual distance)
        {
            // Away from the middle a distance grows with what the printer does to lengths, whichever side it lies on.
            double side = distance.Value < 0 ? -1 : 1;
            PrintedSize printed = lengths.Printed(SurfaceKind.CentreDistance, side * distance, side);
            if (pitch is { } drawn) return new(0, [printed], [new(own!.Value.Name, own.Value.Length, -distance.Value / drawn)], []);
            var (fixedMm, read) = lengths.InTheWorld(distance);
            return new(-fixedMm, [printed], [], [.. read.Select(r => r with { Factor = -r.Factor })]);
        }

        if (IsRow)
            return new FastenersInLine(name, [.. _holes.Skip(1).Select(h => Off(Right(h, _holes[0].Middle)))], room, window);
        return new FastenersInPlane(name, [.. _holes.Select(h => (Right(h, _middle).Value, Up(h, _middle).Value))],
            [.. _holes.SelectMany(h => new[] { Off(Right(h, _middle)), Off(Up(h, _middle)) })], room, window, MayTurn: true);
    }

    private Dual Right(MetSurface hole, Vector from) => Vector.Dot(hole.Middle - from, _right);

    private Dual Up(MetSurface hole, Vector from) => Vector.Dot(hole.Middle - from, _up);

    private static Vector Flat(Vector v, Vector axis) => v - axis * Vector.Dot(v, axis);

    /// <summary>Some direction square to an axis.</summary>
    private static Vector Square(Vector axis) => Flat(Math.Abs(axis.X.Value) < 0.9 ? new Vector(1, 0, 0) : new Vector(0, 1, 0), axis).Unit();

    private static double Square(double a) => a * a;

    private static Vector Constant(Vector v) => new(v.X.Value, v.Y.Value, v.Z.Value);
}

/// <summary>What a pattern needs to know of sizes.</summary>
internal interface IPatternLengths
{
    /// <summary>A length of the part as drawn, as the printer makes it.</summary>
    PrintedSize Printed(SurfaceKind kind, Dual drawnMm, double factor);

    /// <summary>The same length where the old part's readings say that it was: a fixed part, and how the read sizes enter.</summary>
    (double FixedMm, IReadOnlyList<ReadSize> Read) InTheWorld(Dual lengthMm);
}
