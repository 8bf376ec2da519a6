using Sparewright.Measure;
using Sparewright.Measure.Numbers;
using Sparewright.Part.Elements;
using Sparewright.Part.Record;

namespace Sparewright.Reconcile.Readings;

/// <summary>Whether a caliper gets at what a reading names.</summary>
internal static class Reach
{
    /// <summary>Holes narrower than these admit no inside jaw, no outside jaw, no depth rod, mm. Common practice, no source.</summary>
    private const double LeastForInsideJawMm = 2.5, LeastForOutsideJawMm = 3, LeastForDepthRodMm = 2;

    /// <summary>How nearly a face must look the way in which a jaw comes, as a cosine: faces are known by few points.</summary>
    private const double FacingJaw = 0.75;

    /// <summary>The readings that the shape allows and a caliper gets at.</summary>
    /// <param name="drafts">The faces that lean.</param>
    /// <param name="numbers">The same shape of sizes without derivatives, where it is at hand: looking for faces needs none, and they cost most of the time.</param>
    public static IReadOnlyList<PossibleReading> Readings(PlacedShape shape, IReadOnlyList<Draft> drafts, PlacedShape? numbers = null)
    {
        var there = FacesInPlace.Of(numbers ?? shape);
        return [.. PossibleReadings.Of(shape, new DraftHeights(drafts, shape, there)).Where(p => IsReached(p.Reading, shape, there))];
    }

    /// <param name="there">The faces that are really there (<see cref="FacesInPlace"/>).</param>
    private static bool IsReached(CaliperReading reading, PlacedShape shape, IReadOnlyDictionary<string, FaceInPlace> there)
    {
        if (!Admits(reading.First.Text, reading.Way, shape, there)) return false;
        if (reading.Second is null) return reading.Across is not null || !IsPiece(reading.First.Text) || GoesHalfRound(there[reading.First.Text].Looks);
        if (!Admits(reading.Second.Text, reading.Way, shape, there)) return false;
        if (reading.Way is ReadingWay.Depth or ReadingWay.Step) return RodReaches(reading.First.Text, reading.Second.Text, shape) && RodReaches(reading.Second.Text, reading.First.Text, shape);
        return Between(reading, shape) is not { } d
            || (Looks(reading.First.Text, reading.Way == ReadingWay.Outside ? -d : d, there) && Looks(reading.Second.Text, reading.Way == ReadingWay.Outside ? d : -d, there));
    }

    private static bool Admits(string name, ReadingWay way, PlacedShape shape, IReadOnlyDictionary<string, FaceInPlace> there)
    {
        if (!there.ContainsKey(name)) return false;
        if (shape.Elements.GetValueOrDefault(name) is ConeElement { Hollow: true } cone) return 2 * cone.BaseRadius.Value >= LeastForInsideJawMm;
        if (JawRest.RoundFaceOf(shape.Elements.GetValueOrDefault(name)) is { Hollow: true } hole)
            return 2 * hole.Radius.Value >= (way == ReadingWay.Outside ? LeastForOutsideJawMm : LeastForInsideJawMm);
        // The floor of a hole is reached through the hole, by the rod: there is no room for a jaw to lie along it.
        if (!IsFloor(name)) return true;
        if (shape.Elements[name] is FlatElement && (way is ReadingWay.Outside or ReadingWay.Inside)) return false;
        return JawRest.RoundFaceOf(shape.Elements.GetValueOrDefault(name[..name.LastIndexOf('.')] + ".wall")) is not { } wall || 2 * wall.Radius.Value >= LeastForDepthRodMm;
    }

    /// <summary>The direction from the first element to the second, as the jaws lie; null where it may be any.</summary>
    private static Vector? Between(CaliperReading reading, PlacedShape shape)
    {
        Element first = shape.Elements[reading.First.Text], second = shape.Elements[reading.Second!.Text];
        double outside = reading.Way == ReadingWay.Outside ? 1 : -1;
        if (first is FlatElement a) return a.Normal * -outside;
        if (second is FlatElement b) return b.Normal * outside;
        if (JawRest.RoundFaceOf(first) is not { } r || JawRest.RoundFaceOf(second) is not { } q) return null;
        Vector apart = q.AxisPoint - r.AxisPoint, across = apart - r.AxisDirection * Vector.Dot(apart, r.AxisDirection);
        Vector crossed = Vector.Cross(r.AxisDirection, q.AxisDirection);
        if (crossed.Length.Value > 1e-6) across = crossed * Math.Sign(Vector.Dot(crossed, apart).Value);
        return across.Length.Value < 1e-6 ? null : across.Unit();
    }

    /// <summary>The rod goes down a hole from the face outside it, so that the floor of a hole is the lower of the two.</summary>
    private static bool RodReaches(string floor, string from, PlacedShape shape) =>
        !IsFloor(floor) || shape.Elements[floor] is not FlatElement low || shape.Elements[from] is not FlatElement high || Vector.Dot(high.Point - low.Point, low.Normal).Value > 0;

    private static bool IsPiece(string name) => name.LastIndexOf('#') > name.LastIndexOf('.');

    /// <summary>Whether a piece of an outline goes half round at least, so that jaws find a diameter of it.</summary>
    private static bool GoesHalfRound(IReadOnlyList<Vector> looks) => ArcOf(looks) is not { } arc || arc.Half >= Math.PI / 2 - AngleIsNothing;

    /// <summary>The way in which an arc looks on the whole, and how far it goes to either side of that, radians; null where it goes all round.</summary>
    private static (Vector Middle, double Half)? ArcOf(IReadOnlyList<Vector> looks)
    {
        Vector sum = looks.Aggregate((a, b) => a + b);
        double length = sum.Length.Value;
        if (length < 1e-6 * looks.Count) return null;
        Vector middle = sum * (1 / length);
        return (middle, looks.Max(l => Angle(l, middle)) / FacesInPlace.ShareOfPiece);
    }

    private static double Angle(Vector a, Vector b) => Math.Acos(Math.Clamp(Vector.Dot(a, b).Value, -1, 1));

    private const double AngleIsNothing = 0.005;

    private static bool IsFloor(string name) => name.EndsWith(".end", StringComparison.Ordinal) || name.EndsWith(".floor", StringComparison.Ordinal);

    private static bool Looks(string name, Vector way, IReadOnlyDictionary<string, FaceInPlace> there)
    {
        IReadOnlyList<Vector> looks = there[name].Looks;
        // How far an arc goes round is known; of other faces only some points are.
        if (IsPiece(name) && looks.Count > 2 && ArcOf(looks) is { } arc) return Angle(way, arc.Middle) <= arc.Half + AngleIsNothing;
        return looks.Any(l => Vector.Dot(l, way).Value > FacingJaw);
    }
}
