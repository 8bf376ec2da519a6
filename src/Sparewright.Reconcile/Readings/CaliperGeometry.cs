using System.Globalization;
using Sparewright.Measure;
using Sparewright.Measure.Numbers;
using Sparewright.Part;
using Sparewright.Part.Elements;
using Sparewright.Part.Record;
using Sparewright.Part.Shape;

namespace Sparewright.Reconcile.Readings;

/// <summary>What a caliper would show, or why no caliper can take the reading.</summary>
/// <param name="Mm">In mm, with derivatives by the sizes; null exactly when refused.</param>
public readonly record struct CaliperValue(Dual? Mm, Problem? Refusal);

/// <summary>
/// The one formula for every caliper reading between two surfaces. With D the distance of the axes (or axis to plane, or plane to plane), r the radius
/// (0 for a plane) and s = +1 for a surface that bulges out of the material, −1 for a hollow one: outside = D + s₁r₁ + s₂r₂, inside = D − s₁r₁ − s₂r₂.
/// Depth and step go between parallel planes that look the same way.
/// </summary>
public static class CaliperGeometry
{
    private const double Parallel = 1e-9;

    /// <summary>The value of the reading on the placed shape.</summary>
    public static CaliperValue Of(CaliperReading reading, PlacedShape shape)
    {
        try
        {
            Dual value = reading.Second is null ? OfOne(reading, shape) : OfTwo(reading, shape);
            if (!(value.Value > 0)) throw new Refused($"there is no room between {Names(reading)}: the distance comes to {Mm(value)}", "check which elements the jaws touched");
            return new(value, null);
        }
        catch (Refused refused)
        {
            return new(null, new Problem(reading.First.Place, $"{reading.Id}: {refused.Message}", refused.Remedy));
        }
    }

    /// <summary>Leaves the formula where it does not apply; never leaves this file.</summary>
    private sealed class Refused(string reason, string remedy) : Exception(reason)
    {
        public string Remedy => remedy;
    }

    private static Element Find(ElementName name, PlacedShape shape) =>
        shape.Elements.GetValueOrDefault(name.Text) ?? throw new Refused($"there is no element `{name}`", Known(name, shape));

    private static string Known(ElementName name, PlacedShape shape)
    {
        string feature = name.Text.Split('.')[0];
        var own = shape.Elements.Keys.Where(k => k.StartsWith(feature + ".", StringComparison.Ordinal) || k.StartsWith(feature + "#", StringComparison.Ordinal))
            .Order(StringComparer.Ordinal).Take(12).ToList();
        return own.Count > 0 ? $"`{feature}` has {string.Join(", ", own)}" : "name an element of a feature in the list";
    }

    // ---- one element ---------------------------------------------------------------------------------------------

    private static Dual OfOne(CaliperReading reading, PlacedShape shape)
    {
        if (reading.Way is ReadingWay.Depth or ReadingWay.Step)
            throw new Refused($"a {Word(reading.Way)} reading needs two flat elements", "write both: [the face the caliper rests on, the face it reaches]");
        Element element = Find(reading.First, shape);
        if (reading.Across is { } across && element is not SideElement)
            throw new Refused($"`across` is for a side that goes round, and `{element.Name}` is not one", "leave `across` out");
        switch (element)
        {
            case RoundElement round:
                RequireHollow(reading, round.Name, round.Hollow);
                return 2 * round.Radius;
            case ConeElement cone:
                RequireHollow(reading, cone.Name, cone.Hollow);
                if (reading.AtHeight is not { } height)
                    throw new Refused($"`{cone.Name}` is tapered, so its diameter depends on where it is measured", "say at_height: the distance along the axis from its start");
                return 2 * (cone.BaseRadius + cone.Slope * height.At(shape.Sizes));
            case SideElement side:
                RequireHollow(reading, side.Name, side.Hollow);
                return Extent(side, reading.Across ?? throw new Refused($"`{side.Name}` goes round, so it has no single size", "say `across: right` (or back, up …), or name one of its pieces"));
            case FlatElement:
                throw new Refused($"one flat face, `{element.Name}`, has no size by itself", "name the element that the other jaw touched too");
            case EdgeFaceElement:
                throw new Refused($"`{element.Name}` is a rounded or bevelled edge", "measure it with a radius gauge");
            default:
                throw new Refused($"no jaw gets a hold on `{element.Name}`", "name a flat or round face");
        }
    }

    private static void RequireHollow(CaliperReading reading, string name, bool hollow)
    {
        if (reading.Way == ReadingWay.Outside && hollow) throw new Refused($"outside jaws cannot take the diameter of the hollow `{name}`", "write inside");
        if (reading.Way == ReadingWay.Inside && !hollow) throw new Refused($"inside jaws cannot take the diameter of `{name}`, which bulges outward", "write outside");
    }

    private static Dual Extent(SideElement side, Direction across)
    {
        Vector d = across.Vector();
        var inFace = new PlanePoint(Vector.Dot(side.Frame.U, d), Vector.Dot(side.Frame.V, d));
        if (Math.Abs(inFace.Length.Value - 1) > Parallel)
            throw new Refused($"`{side.Name}` does not extend in the direction {Word(across)}", "choose a direction that lies in the outline");
        Dual extent = Support.Of(side.Region, inFace, out bool far) + Support.Of(side.Region, inFace * -1, out bool near);
        if (!far || !near)
            throw new Refused($"where `{side.Name}` reaches farthest {Word(across)} may have been taken away", $"name the pieces that the jaws touched: {side.Name}#1, {side.Name}#2 …");
        return extent;
    }

    // ---- two elements ----------------------------------------------------------------------------------------------

    /// <summary>What a jaw touches: a plane (radius 0), or a round surface about an axis.</summary>
    private readonly record struct Touched(string Name, Vector Point, Vector Direction, Dual Radius, double Sign)
    {
        public bool IsPlane => Sign == 0;

        /// <summary>s·r of the one formula.</summary>
        public Dual Bulge => Radius * Sign;
    }

    private static Touched Touch(ElementName name, PlacedShape shape) => Find(name, shape) switch
    {
        FlatElement flat => new(flat.Name, flat.Point, flat.Normal, 0, 0),
        RoundElement round => new(round.Name, round.AxisPoint, round.AxisDirection, round.Radius, round.Hollow ? -1 : 1),
        SideElement side => throw new Refused($"`{side.Name}` goes round, so it is not clear where the jaw stood", $"name the piece: {side.Name}#1, {side.Name}#2 …"),
        AxisElement axis => throw new Refused($"no jaw can touch the axis `{axis.Name}`", "name the surface that the jaw touched"),
        ConeElement cone => throw new Refused($"a jaw on the tapered `{cone.Name}` has no fixed place", "measure its diameter at a height, or another face"),
        var other => throw new Refused($"no jaw gets a hold on `{other.Name}`", "name a flat or round face"),
    };

    private static Dual OfTwo(CaliperReading reading, PlacedShape shape)
    {
        if (reading.Across is not null) throw new Refused("`across` goes with one element", "leave `across` out");
        Touched a = Touch(reading.First, shape), b = Touch(reading.Second!, shape);
        if (reading.Way is ReadingWay.Depth or ReadingWay.Step) return DepthOrStep(reading, a, b);
        if (a.IsPlane && b.IsPlane) return BetweenPlanes(reading, a, b);
        Dual distance = a.IsPlane ? AxisToPlane(reading, b, a) : b.IsPlane ? AxisToPlane(reading, a, b) : BetweenAxes(a, b);
        return reading.Way == ReadingWay.Outside ? distance + a.Bulge + b.Bulge : distance - a.Bulge - b.Bulge;
    }

    private static Dual DepthOrStep(CaliperReading reading, Touched a, Touched b)
    {
        if (!a.IsPlane || !b.IsPlane) throw new Refused($"a {Word(reading.Way)} reading goes between flat faces, and `{(a.IsPlane ? b : a).Name}` is round", "write outside or inside for round surfaces");
        double cosine = Vector.Dot(a.Direction, b.Direction).Value;
        RequireParallelPlanes(a, b, cosine);
        if (cosine < 0) throw new Refused($"`{a.Name}` and `{b.Name}` look in opposite directions, so there is no {Word(reading.Way)} between them", "write outside (material between them) or inside (space between them)");
        return Dual.Abs(Vector.Dot(a.Point - b.Point, a.Direction));
    }

    private static Dual BetweenPlanes(CaliperReading reading, Touched a, Touched b)
    {
        double cosine = Vector.Dot(a.Direction, b.Direction).Value;
        RequireParallelPlanes(a, b, cosine);
        if (cosine > 0) throw new Refused($"`{a.Name}` and `{b.Name}` look the same way, so no pair of jaws fits over or between them", "write depth or step");
        Dual material = Vector.Dot(a.Point - b.Point, a.Direction);
        bool facing = material.Value < 0;
        if (reading.Way == ReadingWay.Outside && facing) throw new Refused($"`{a.Name}` and `{b.Name}` face each other: outside jaws do not fit between them", "write inside");
        if (reading.Way == ReadingWay.Inside && !facing) throw new Refused($"between `{a.Name}` and `{b.Name}` there is material: inside jaws do not fit in", "write outside");
        return Dual.Abs(material);
    }

    private static void RequireParallelPlanes(Touched a, Touched b, double cosine)
    {
        if (Math.Abs(cosine) < 1 - Parallel)
            throw new Refused(string.Create(CultureInfo.InvariantCulture, $"`{a.Name}` and `{b.Name}` are not parallel (they stand {Math.Acos(Math.Abs(cosine)) * 180 / Math.PI:0.##}° apart)"), "measure between parallel faces");
    }

    private static Dual AxisToPlane(CaliperReading reading, Touched round, Touched plane)
    {
        if (Math.Abs(Vector.Dot(round.Direction, plane.Direction).Value) > Parallel)
            throw new Refused($"the axis of `{round.Name}` is not parallel to `{plane.Name}`", "measure to a face along the axis, or use depth between flat faces");
        Dual behind = Vector.Dot(plane.Point - round.Point, plane.Direction);
        bool faces = behind.Value < 0;
        if (reading.Way == ReadingWay.Outside && faces) throw new Refused($"`{plane.Name}` looks towards `{round.Name}`: an outside jaw cannot come from that side", "write inside, or name the opposite face");
        if (reading.Way == ReadingWay.Inside && !faces) throw new Refused($"`{plane.Name}` looks away from `{round.Name}`: an inside jaw cannot reach it", "write outside, or name the opposite face");
        return Dual.Abs(behind);
    }

    private static Dual BetweenAxes(Touched a, Touched b)
    {
        Vector apart = b.Point - a.Point;
        Vector cross = Vector.Cross(a.Direction, b.Direction);
        Dual sine = cross.Length.Value < Parallel ? 0 : cross.Length;
        if (sine.Value == 0) return Length(apart - a.Direction * Vector.Dot(apart, a.Direction));
        if (a.Sign < 0 && b.Sign < 0) throw new Refused($"the holes `{a.Name}` and `{b.Name}` cross, so no jaws reach both walls", "measure each to a face instead");
        return Dual.Abs(Vector.Dot(apart, cross)) / sine;
    }

    /// <summary>The length of a vector; exactly 0 without a slope where the axes coincide.</summary>
    private static Dual Length(Vector v)
    {
        double length = Math.Sqrt(v.X.Value * v.X.Value + v.Y.Value * v.Y.Value + v.Z.Value * v.Z.Value);
        return length < 1e-9 ? 0 : v.Length;
    }

    // ---- words ------------------------------------------------------------------------------------------------------

    private static string Names(CaliperReading reading) => reading.Second is { } second ? $"`{reading.First}` and `{second}`" : $"`{reading.First}`";

    private static string Mm(Dual value) => value.Value.ToString("0.###", CultureInfo.InvariantCulture) + " mm";

    private static string Word(ReadingWay way) => way switch { ReadingWay.Outside => "outside", ReadingWay.Inside => "inside", ReadingWay.Depth => "depth", _ => "step" };

    private static string Word(Direction direction) => direction switch
    {
        Direction.Right => "right",
        Direction.Left => "left",
        Direction.Back => "back",
        Direction.Front => "front",
        Direction.Up => "up",
        _ => "down",
    };
}
