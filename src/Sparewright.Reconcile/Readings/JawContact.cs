using Sparewright.Measure;
using Sparewright.Measure.Numbers;
using Sparewright.Part.Elements;
using Sparewright.Part.Record;

namespace Sparewright.Reconcile.Readings;

/// <summary>Where the two jaws of a reading touch, on the elements as they run on without end, in mm in the job's axes.</summary>
/// <param name="First">Where the jaw on the first element touches (measured across: the one on the near side).</param>
/// <param name="Second">Where the other one touches. (Second − First) · Along is what the caliper shows.</param>
/// <param name="Along">Unit direction from jaw to jaw.</param>
/// <param name="Slides">Unit directions along which both jaws may slide together and show the same.</param>
/// <param name="TurnsAbout">The axis about which both may turn and show the same; null unless one round face is measured alone.</param>
public sealed record JawContact(Vector First, Vector Second, Vector Along, IReadOnlyList<Vector> Slides, (Vector Point, Vector Direction)? TurnsAbout)
{
    private const double Parallel = 1e-6, Nothing = 1e-9;

    /// <summary>Angle by which the direction is turned either way to find the middle of what a jaw touches, radians.</summary>
    private const double Hair = 1e-6;

    /// <summary>Where the jaws of a reading touch; null where no caliper can take it.</summary>
    public static JawContact? Of(CaliperReading reading, PlacedShape shape)
    {
        // Over gauge pins the jaws touch the pins, which are not on the part.
        if (reading.OverPinsMm.Count > 0 || CaliperGeometry.Of(reading, shape).Mm is null || !shape.Elements.TryGetValue(reading.First.Text, out Element? first)) return null;
        if (reading.Across is { } across) return Across(first, across.Vector());
        Dual? height = reading.AtHeight?.At(shape.Sizes);
        if (JawRest.On(first, height).Jaw is not { } a) return null;
        if (reading.Second is null) return a is JawRest.OnRound alone ? Diameter(alone, AnyAcross(alone.AxisDirection)) : null;
        if (!shape.Elements.TryGetValue(reading.Second.Text, out Element? second) || JawRest.On(second, height).Jaw is not { } b) return null;
        return (a, b) switch
        {
            (JawRest.OnPlane p, JawRest.OnPlane q) => Planes(p, q),
            (JawRest.OnPlane p, JawRest.OnRound q) => PlaneAndRound(p, q),
            (JawRest.OnRound p, JawRest.OnPlane q) => PlaneAndRound(q, p).TheOtherWayRound(),
            (JawRest.OnRound p, JawRest.OnRound q) => Rounds(p, q, reading.Way),
            _ => throw new InvalidOperationException($"unknown rests {a}, {b}"),
        };
    }

    private JawContact TheOtherWayRound() => this with { First = Second, Second = First, Along = -Along };

    private static JawContact Planes(JawRest.OnPlane a, JawRest.OnPlane b)
    {
        Dual height = Vector.Dot(b.Point - a.Point, a.Normal);
        Vector aside = AnyAcross(a.Normal);
        return new(a.Point, a.Point + a.Normal * height, height.Value < 0 ? -a.Normal : a.Normal, [aside, Vector.Cross(a.Normal, aside)], null);
    }

    /// <summary>The round face is touched on its far side where it bulges and material lies between, or where it is hollow and space does; both lie at −s·r from its axis.</summary>
    private static JawContact PlaneAndRound(JawRest.OnPlane plane, JawRest.OnRound round)
    {
        Vector onRound = round.AxisPoint - plane.Normal * round.SignedRadius;
        Dual height = Vector.Dot(onRound - plane.Point, plane.Normal);
        return new(onRound - plane.Normal * height, onRound, height.Value < 0 ? -plane.Normal : plane.Normal, round.At is null ? [round.AxisDirection] : [], null);
    }

    private static JawContact Rounds(JawRest.OnRound a, JawRest.OnRound b, ReadingWay way)
    {
        Vector across = Vector.Cross(a.AxisDirection, b.AxisDirection), apart = b.AxisPoint - a.AxisPoint;
        Vector onFirst, onSecond, toward;
        IReadOnlyList<Vector> slides = [];
        if (Value(across) <= Parallel)
        {
            Vector beside = apart - a.AxisDirection * Vector.Dot(apart, a.AxisDirection);
            toward = Value(beside) < Nothing ? AnyAcross(a.AxisDirection) : beside.Unit();
            // A cone is touched at its own height; whatever is beside it goes there too.
            bool atSecond = a.At is null && b.At is not null;
            (onFirst, onSecond) = atSecond ? (b.AxisPoint - beside, b.AxisPoint) : (a.AxisPoint, a.AxisPoint + beside);
            if (a.At is null && b.At is null) slides = [a.AxisDirection];
        }
        else
        {
            Vector square = across.Unit();
            toward = Vector.Dot(apart, square).Value < 0 ? -square : square;
            // The feet of the shortest way from axis to axis.
            Dual sin2 = Vector.Dot(across, across);
            onFirst = a.AxisPoint + a.AxisDirection * (Vector.Dot(Vector.Cross(apart, b.AxisDirection), across) / sin2);
            onSecond = b.AxisPoint + b.AxisDirection * (Vector.Dot(Vector.Cross(apart, a.AxisDirection), across) / sin2);
        }

        Dual out_ = way == ReadingWay.Outside ? 1 : -1;
        Vector first = onFirst - toward * (out_ * a.SignedRadius), second = onSecond + toward * (out_ * b.SignedRadius);
        return new(first, second, Vector.Dot(second - first, toward).Value < 0 ? -toward : toward, slides, null);
    }

    private static JawContact Diameter(JawRest.OnRound round, Vector across) => new(
        round.AxisPoint - across * round.Radius, round.AxisPoint + across * round.Radius, across, round.At is null ? [round.AxisDirection] : [], (round.AxisPoint, round.AxisDirection));

    private static JawContact? Across(Element element, Vector d)
    {
        if (JawRest.RoundFaceOf(element) is { } round)
            return Diameter(new(round.Name, round.AxisPoint, round.AxisDirection, round.Radius, round.Hollow, null), d) with { TurnsAbout = null };
        if (element is not SideElement side) return null;
        var inFace = new PlanePoint(Vector.Dot(side.Frame.U, d), Vector.Dot(side.Frame.V, d));
        return new(side.Frame.At(Touched(side.Region, inFace * -1)), side.Frame.At(Touched(side.Region, inFace)), d, [side.Frame.N], null);
    }

    /// <summary>
    /// The middle of what a jaw touches: the reach in directions turned a hair to either side tells how far the touched piece goes aside.
    /// </summary>
    private static PlanePoint Touched(Region region, PlanePoint d)
    {
        PlanePoint aside = d.Left;
        Dual reach = Support.Of(region, d, out _);
        Dual left = Support.Of(region, d * Math.Cos(Hair) + aside * Math.Sin(Hair), out _), right = Support.Of(region, d * Math.Cos(Hair) - aside * Math.Sin(Hair), out _);
        return d * reach + aside * ((left - right) / (2 * Math.Sin(Hair)));
    }

    private static Vector AnyAcross(Vector direction)
    {
        Vector least = Math.Abs(direction.X.Value) < 0.7 ? new(1, 0, 0) : new(0, 1, 0);
        return (least - direction * Vector.Dot(least, direction)).Unit();
    }

    private static double Value(Vector v) => Math.Sqrt(v.X.Value * v.X.Value + v.Y.Value * v.Y.Value + v.Z.Value * v.Z.Value);
}
