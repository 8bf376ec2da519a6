using System.Globalization;
using Sparewright.Measure;
using Sparewright.Measure.Numbers;
using Sparewright.Measure.Quantities;
using Sparewright.Part;
using Sparewright.Part.Elements;
using Sparewright.Part.Record;
using Sparewright.Part.Shape;

namespace Sparewright.Reconcile.Readings;

/// <summary>What a caliper would show, or why no caliper can take the reading.</summary>
/// <param name="Mm">In mm, with derivatives by the sizes; null exactly when refused.</param>
/// <param name="At">On a cone: the point of its axis in whose cross-section the jaws touch.</param>
public readonly record struct CaliperValue(Dual? Mm, Problem? Refusal, Vector? At);

/// <summary>What the formula gives for a reading.</summary>
/// <param name="Mm">In mm; of an angle in degrees. Not a number where the elements allow no value at all.</param>
/// <param name="Refused">Why no caliper can take this reading. Where <paramref name="Mm"/> is a number all the same, only the places are wrong, and other sizes may put them right.</param>
internal sealed record JawSpan(Dual Mm, Refusal? Refused, Vector? At = null)
{
    public bool HasValue => double.IsFinite(Mm.Value);
}

/// <summary>
/// Every caliper reading by one formula, from the elements alone. For a round surface of radius r let s = +1 where it bulges out of the material and −1 where
/// it is hollow; D is the distance of the axes, or of axis and plane, or of the planes, a plane having r = 0. Then
/// outside = D + s₁r₁ + s₂r₂ and inside = D − s₁r₁ − s₂r₂; depth and step go between parallel planes; one round surface alone is its diameter.
/// (Plain geometry; our own statement of it.)
/// </summary>
public static class CaliperGeometry
{
    /// <summary>Planes and axes count as parallel up to this angle, radians.</summary>
    private const double Parallel = 1e-6;

    /// <summary>Distances below this count as none, mm; so do slopes, mm per mm or degree: a size that cancels out leaves its rounding, which must not look like evidence.</summary>
    private const double Nothing = 1e-9;

    /// <summary>The value of the reading on the placed shape.</summary>
    public static CaliperValue Of(CaliperReading reading, PlacedShape shape)
    {
        JawSpan span = Span(reading, shape);
        return span.Refused is { } why ? new(null, Evidence.ProblemOf(reading, why), span.At) : new(span.Mm, null, span.At);
    }

    /// <summary>The formula alone. It varies smoothly with the sizes wherever the elements do, also through places that no caliper could reach: the adjustment may pass there.</summary>
    internal static JawSpan Span(CaliperReading reading, PlacedShape shape)
    {
        JawSpan span = Measured(reading, shape);
        if (reading.Drafts.Count > 0 && span.HasValue) span = WithDraft(span, reading, shape);
        if (reading.OverPinsMm.Count > 0 && span.HasValue) span = OverPins(span, reading, shape);
        return span with { Mm = new Dual(span.Mm.Value, span.Mm.Gradient.Above(Nothing)) };
    }

    private static JawSpan Measured(CaliperReading reading, PlacedShape shape)
    {
        if (!shape.Elements.TryGetValue(reading.First.Text, out Element? first)) return Missing(reading.First, shape);
        if (reading.Across is { } across) return Across(first, across, reading.Way);
        if (reading.Second is null && first is FlatElement && !JawRest.IsDatum(first.Name))
            return Refuse($"`{first.Name}` is flat, and one plane alone has no size between jaws", $"name the face opposite too: [{first.Name}, …]");

        Dual? height = reading.AtHeight?.At(shape.Sizes);
        var (rest, why) = JawRest.On(first, height);
        if (rest is null) return Refuse(why!);
        if (reading.Second is null) return Diameter((JawRest.OnRound)rest, reading.Way);

        if (!shape.Elements.TryGetValue(reading.Second.Text, out Element? second)) return Missing(reading.Second, shape);
        (JawRest? other, why) = JawRest.On(second, height);
        if (other is null) return Refuse(why!);
        return Between(rest, other, reading.Way);
    }

    /// <summary>
    /// A face that leans by its draft stands back into the material by tan of the draft for every mm that one goes the way in which the mould opened: outside readings get smaller by that of each face touched, inside ones
    /// bigger (plain geometry; what jaws lose by touching a leaning face askew is of the second order).
    /// </summary>
    private static JawSpan WithDraft(JawSpan straight, CaliperReading reading, PlacedShape shape)
    {
        Dual back = 0;
        foreach (ElementName name in new[] { reading.First, reading.Second }.OfType<ElementName>())
        {
            if (reading.Drafts.FirstOrDefault(d => d.IsOf(name)) is not { } draft) continue;
            if (reading.Way is ReadingWay.Depth or ReadingWay.Step)
                return Refuse($"`{name}` leans by its draft, and a {Word(reading.Way)} goes between faces square to the rod", "read it outside or inside, or take the face out of `draft`");
            if (reading.AtHeight is not { } height)
                return Refuse($"`{name}` leans by its draft, and what jaws find on it differs from height to height", "say `at_height`: the coordinate along the way in which the mould opened, above the ground for up and down");
            int faces = reading.Second is null ? 2 : 1;
            Dual along = height.At(shape.Sizes) - draft.SizesAt.At(shape.Sizes);
            if (draft.Thins is Direction.Left or Direction.Front or Direction.Down) along = -along;
            back += faces * Dual.Tan(draft.Angle.At(shape.Sizes) * (Math.PI / 180)) * along;
        }

        Dual span = reading.Way == ReadingWay.Outside ? straight.Mm - back : straight.Mm + back;
        return straight with { Mm = span };
    }

    /// <summary>
    /// Over pins: closing outside jaws press the pins to the near walls of the holes, so that a pin adds its whole diameter to what lies between these walls; inside jaws press them to the far walls.
    /// A pin that fills its hole comes to the same as the distance from its axis.
    /// </summary>
    private static JawSpan OverPins(JawSpan walls, CaliperReading reading, PlacedShape shape)
    {
        RoundElement[] holes = [.. new[] { reading.First, reading.Second }.OfType<ElementName>().Select(name => JawRest.RoundFaceOf(shape.Elements[name.Text])).OfType<RoundElement>().Where(round => round.Hollow)];
        if (holes.Length == 0) return Refuse("gauge pins stand in holes, and none of these elements is the wall of one", "leave `over_pins` away, or name the walls of the holes");
        if (reading.OverPinsMm.Count is var pins && pins != 1 && pins != holes.Length)
            return Refuse($"there are {pins} pins for {holes.Length} hole{(holes.Length == 1 ? "" : "s")}", "write one diameter, or one for each hole");
        double all = holes.Select((_, k) => reading.OverPinsMm[pins == 1 ? 0 : k]).Sum();
        Dual span = reading.Way == ReadingWay.Outside ? walls.Mm + all : walls.Mm - all;
        for (int k = 0; k < holes.Length; k++)
        {
            double pin = reading.OverPinsMm[pins == 1 ? 0 : k], hole = 2 * holes[k].Radius.Value;
            if (pin > hole * PinTooTight + PinTooThickMm)
                return new(span, new(string.Create(CultureInfo.InvariantCulture, $"a pin of {pin:0.##} mm does not go into `{holes[k].Name}`, which is {hole:0.##} mm wide at these sizes"), "check the pin's diameter, and in which hole it stood"), walls.At);
        }

        return new(span, walls.Refused, walls.At);
    }

    /// <summary>How much a pin may seem to be thicker than its hole before it cannot be: sizes under way are not exact. Our judgement.</summary>
    private const double PinTooTight = 1.05, PinTooThickMm = 0.3;

    private static JawSpan Between(JawRest a, JawRest b, ReadingWay way) => (a, b) switch
    {
        (JawRest.OnPlane first, JawRest.OnPlane second) => Planes(first, second, way),
        _ when way is ReadingWay.Depth or ReadingWay.Step => Refuse(
            $"a {Word(way)} goes between parallel planes, and `{(a is JawRest.OnRound ? a : b).Name}` is round", "name flat elements, or read it outside or inside"),
        (JawRest.OnPlane plane, JawRest.OnRound round) => PlaneAndRound(plane, round, way),
        (JawRest.OnRound round, JawRest.OnPlane plane) => PlaneAndRound(plane, round, way),
        (JawRest.OnRound first, JawRest.OnRound second) => Rounds(first, second, way),
        _ => throw new InvalidOperationException($"unknown rests {a}, {b}"),
    };

    private static JawSpan Diameter(JawRest.OnRound round, ReadingWay way) => way switch
    {
        ReadingWay.Outside when round.Hollow => Refuse($"`{round.Name}` is hollow, and outside jaws have nothing to close on in it", "read its diameter inside, or name the other face of the wall too"),
        ReadingWay.Inside when !round.Hollow => Refuse($"`{round.Name}` bulges, and inside jaws have nothing to spread against on it", "read its diameter outside, or name the face opposite the gap too"),
        ReadingWay.Depth or ReadingWay.Step => Refuse($"a {Word(way)} goes between two planes, and `{round.Name}` is one round face", "read its diameter, or name two flat elements"),
        _ => new(2 * round.Radius, null, round.At),
    };

    private static JawSpan Planes(JawRest.OnPlane a, JawRest.OnPlane b, ReadingWay way)
    {
        if (Vector.Cross(a.Normal, b.Normal).LengthValue() > Parallel)
            return Refuse($"`{a.Name}` and `{b.Name}` are not parallel, so jaws find no one value between them", "measure each against a face that is parallel to it");

        bool sameWay = Vector.Dot(a.Normal, b.Normal).Value > 0;
        Dual height = Vector.Dot(b.Point - a.Point, a.Normal);
        if (way is ReadingWay.Depth or ReadingWay.Step)
            return sameWay
                ? Positive(Dual.Abs(height), a, b)
                : Refuse($"`{a.Name}` and `{b.Name}` do not face the same way, so there is no {Word(way)} between them", "read it outside where material is between them, inside where there is space");
        if (sameWay)
            return Refuse($"`{a.Name}` and `{b.Name}` face the same way, so no two jaws reach both", "read it as a step or a depth");

        Dual span = way == ReadingWay.Outside ? -height : height;
        return span.Value > Nothing ? new(span, null) : WrongWay(span, a, b, way);
    }

    private static JawSpan PlaneAndRound(JawRest.OnPlane plane, JawRest.OnRound round, ReadingWay way)
    {
        if (Math.Abs(Vector.Dot(plane.Normal, round.AxisDirection).Value) > Parallel)
            return Refuse($"the axis of `{round.Name}` is not parallel to `{plane.Name}`", "measure it to a plane that its axis runs along, or to another round face");

        // Outside jaws close on material behind the plane, inside jaws spread in the space before it.
        Dual height = Vector.Dot(round.AxisPoint - plane.Point, plane.Normal);
        Dual apart = way == ReadingWay.Outside ? -height : height;
        Dual span = way == ReadingWay.Outside ? apart + round.SignedRadius : apart - round.SignedRadius;
        return apart.Value < -Nothing ? WrongWay(span, plane, round, way) with { At = round.At } : Positive(span, plane, round) with { At = round.At };
    }

    private static JawSpan Rounds(JawRest.OnRound a, JawRest.OnRound b, ReadingWay way)
    {
        Vector across = Vector.Cross(a.AxisDirection, b.AxisDirection);
        Vector apart = b.AxisPoint - a.AxisPoint;
        Dual distance;
        if (across.LengthValue() <= Parallel)
        {
            distance = Length(apart - a.AxisDirection * Vector.Dot(apart, a.AxisDirection));
        }
        else
        {
            if (a.Hollow && b.Hollow)
                return Refuse($"the axes of `{a.Name}` and `{b.Name}` cross, and no jaw gets at both holes", "measure each hole to an outer face");
            distance = Magnitude(Vector.Dot(apart, across.Unit()));
        }

        Dual rounds = a.SignedRadius + b.SignedRadius;
        return Positive(way == ReadingWay.Outside ? distance + rounds : distance - rounds, a, b) with { At = a.At ?? b.At };
    }

    /// <summary>The extent of a face that goes round, between jaws square to a direction.</summary>
    private static JawSpan Across(Element element, Direction across, ReadingWay way)
    {
        string direction = across.ToString().ToLowerInvariant();
        Vector d = across.Vector();
        switch (element)
        {
            case SideElement side:
                if (way is ReadingWay.Depth or ReadingWay.Step) return Refuse($"a {Word(way)} goes between two planes, and `{side.Name}` goes all round", "read it outside or inside");
                if (side.Hollow != (way == ReadingWay.Inside))
                    return Refuse(side.Hollow ? $"`{side.Name}` is hollow, and outside jaws have nothing to close on in it" : $"`{side.Name}` faces outward, and inside jaws have nothing to spread against on it",
                        side.Hollow ? "read it inside" : "read it outside");
                if (Math.Abs(Vector.Dot(side.Frame.N, d).Value) > Parallel)
                    return Refuse($"`{side.Name}` does not go round across {direction}", "choose a direction along the face that it stands on, or measure between the flat faces above and below it");
                var inFace = new PlanePoint(Vector.Dot(side.Frame.U, d), Vector.Dot(side.Frame.V, d));
                Dual extent = Support.Of(side.Region, inFace, out bool farExact) + Support.Of(side.Region, inFace * -1, out bool nearExact);
                return farExact && nearExact
                    ? new(extent, null)
                    : new(extent, new($"where the jaws would touch `{side.Name}` across {direction}, another part of the outline takes it away", $"name pieces of it instead: {JawRest.PiecesOf(side)}"));
            case RoundElement round:
                if (Math.Abs(Vector.Dot(round.AxisDirection, d).Value) > Parallel)
                    return Refuse($"`{round.Name}` does not go round across {direction}: its axis does not stand square to it", "leave `across` away: a round face is measured as its diameter");
                return Diameter(new(round.Name, round.AxisPoint, round.AxisDirection, round.Radius, round.Hollow, null), way);
            case ConeElement:
                return Refuse($"`{element.Name}` is a cone, and `across` does not say where along it", "leave `across` away and say `at_height`");
            default:
                return Refuse($"`{element.Name}` does not go round, so it has no extent across {direction}", "name a side that goes all round, or two elements");
        }
    }

    private static JawSpan Positive(Dual span, JawRest a, JawRest b) => span.Value > Nothing
        ? new(span, null)
        : new(span, new($"`{a.Name}` and `{b.Name}` leave nothing to measure between them at these sizes", "check the elements, which way it was read, and the sizes that place them"));

    private static JawSpan WrongWay(Dual span, JawRest a, JawRest b, ReadingWay way) => way == ReadingWay.Outside
        ? new(span, new($"`{a.Name}` and `{b.Name}` face each other with space between them, so outside jaws cannot close on them", "read it inside, or name the faces on the other sides"))
        : new(span, new($"`{a.Name}` and `{b.Name}` face away from each other with material between them, so inside jaws cannot spread against them", "read it outside, or name the faces on the other sides"));

    internal static JawSpan Missing(ElementName name, PlacedShape shape) =>
        Refuse($"there is no element `{name}` on the shape", ElementNames.Beside(name.Text, shape.Elements.Keys) ?? "name an element of one of its features");

    private static JawSpan Refuse(string reason, string remedy) => Refuse(new(reason, remedy));

    private static JawSpan Refuse(Refusal why) => new(double.NaN, why);

    private static string Word(ReadingWay way) => way == ReadingWay.Depth ? "depth" : "step";

    /// <summary>A length; where it is zero it has no slope, and axes that are meant to be one stay one.</summary>
    private static Dual Length(Vector v) => v.LengthValue() < Nothing ? 0 : v.Length;

    private static Dual Magnitude(Dual value) => Math.Abs(value.Value) < Nothing ? 0 : Dual.Abs(value);

    private static double LengthValue(this Vector v) => Math.Sqrt(v.X.Value * v.X.Value + v.Y.Value * v.Y.Value + v.Z.Value * v.Z.Value);
}
