using System.Globalization;
using Sparewright.Measure.Numbers;
using Sparewright.Measure.Quantities;
using Sparewright.Part.Elements;

namespace Sparewright.Reconcile.Readings;

/// <summary>The surface on which one jaw rests.</summary>
internal abstract record JawRest(string Name)
{
    /// <summary>A plane, by a point and its unit normal away from the material.</summary>
    public sealed record OnPlane(string Name, Vector Point, Vector Normal) : JawRest(Name);

    /// <summary>A round surface about an axis.</summary>
    /// <param name="Hollow">True for a hole's wall.</param>
    /// <param name="At">On a cone: the point of the axis in whose cross-section the jaws touch.</param>
    public sealed record OnRound(string Name, Vector AxisPoint, Vector AxisDirection, Dual Radius, bool Hollow, Vector? At) : JawRest(Name)
    {
        /// <summary>s·r: the radius as the one formula counts it, positive where the surface bulges out of the material.</summary>
        public Dual SignedRadius => Hollow ? -Radius : Radius;
    }

    /// <summary>Where a jaw rests on an element, or why it cannot.</summary>
    /// <param name="atHeight">On a cone: the coordinate along its axis at which it is measured, mm.</param>
    public static (JawRest? Jaw, Refusal? Why) On(Element element, Dual? atHeight) => element switch
    {
        FlatElement flat when IsDatum(flat.Name) => (null, new($"`{flat.Name}` is a datum, and no jaw can touch it", "name the face of the part that lies there")),
        FlatElement flat => (new OnPlane(flat.Name, flat.Point, flat.Normal), null),
        _ when RoundFaceOf(element) is { } round => (new OnRound(round.Name, round.AxisPoint, round.AxisDirection, round.Radius, round.Hollow, null), null),
        ConeElement cone when atHeight is { } height => OnCone(cone, height),
        ConeElement cone => (null, new($"`{cone.Name}` is a cone, and its diameter differs from height to height", "say `at_height`: the coordinate along its axis where the jaws were, above the ground for an upright one")),
        AxisElement axis => (null, new($"`{axis.Name}` is an axis, and no jaw can touch it", "name the round face about it, such as its wall or side")),
        SideElement side => (null, new($"`{side.Name}` goes all round and is no single surface", $"say `across` which direction, or name one piece of it: {PiecesOf(side)}")),
        EdgeFaceElement edge => (null, new($"`{edge.Name}` is a rounded or bevelled edge, and jaws slip off it", "try it with gauge leaves: radius_gauge")),
        CurvedElement curved => (null, new($"`{curved.Name}` is {curved.Kind}, and no jaw finds one value on it", "measure a flat or round face beside it")),
        _ => throw new InvalidOperationException($"unknown element {element}"),
    };

    /// <summary>The element as one round face: it is one, or a side all of one circle; otherwise null.</summary>
    public static RoundElement? RoundFaceOf(Element? element) => element switch
    {
        RoundElement round => round,
        SideElement { Region: Region.Circle circle } side => new(side.Name, side.Frame.At(circle.Center), side.Frame.N, circle.Radius, side.Hollow),
        _ => null,
    };

    /// <summary>Datums bear plain names, elements those of their feature and their own.</summary>
    public static bool IsDatum(string name) => !name.Contains('.');

    /// <summary>The pieces of a side, as far as they can be listed in a sentence.</summary>
    public static string PiecesOf(SideElement side)
    {
        const int most = 6;
        string[] names = [.. side.Pieces().Select(piece => piece.Name).Distinct(StringComparer.Ordinal)];
        if (names.Length == 0) return "it has none of its own";
        return string.Join(", ", names.Take(most)) + (names.Length > most ? " …" : "");
    }

    private static (JawRest?, Refusal?) OnCone(ConeElement cone, Dual height)
    {
        Vector up = Upward(cone);
        Vector at = cone.BasePoint + up * (height - Vector.Dot(cone.BasePoint, up));
        Dual radius = cone.BaseRadius + cone.Slope * Vector.Dot(at - cone.BasePoint, cone.AxisDirection);
        if (radius.Value <= 0)
            return (null, new(string.Create(CultureInfo.InvariantCulture, $"`{cone.Name}` comes to its point before height {height.Value:0.###} mm"), "check `at_height`: it is the coordinate along the cone's axis"));
        return (new OnRound(cone.Name, at, cone.AxisDirection, radius, cone.Hollow, at), null);
    }

    /// <summary>A cone's axis taken upward, to the right or to the back, whichever it follows most; heights on the cone are coordinates along it, from the job's origin.</summary>
    public static Vector Upward(ConeElement cone)
    {
        Vector d = cone.AxisDirection;
        double[] parts = [d.Z.Value, d.X.Value, d.Y.Value];
        return parts.MaxBy(p => Math.Round(Math.Abs(p), 9)) < 0 ? -d : d;
    }
}
