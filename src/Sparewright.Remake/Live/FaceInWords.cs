using System.Globalization;
using Sparewright.Measure.Numbers;
using Sparewright.Measure.Quantities;
using Sparewright.Part.Elements;
using Sparewright.Part.Record;
using Sparewright.Reconcile.Findings;
using Sparewright.Solid;

namespace Sparewright.Remake.Live;

/// <summary>A face of the part for those who read: its element names, what kind of face it is, how big, and which readings touch it.</summary>
/// <param name="Number">In the solid's face table.</param>
/// <param name="Kind">As "round, bulging" or "edge round".</param>
/// <param name="Sizes">As "⌀16.99 ±0.02 mm"; the ± holds the truth in 95 of 100 cases.</param>
public sealed record FaceInWords(int Number, IReadOnlyList<string> Names, string Kind, string Sizes, IReadOnlyList<ReconciledReading> Readings)
{
    private const double Normal95 = 1.959963984540054, Same = 1e-6;

    private static readonly (Point3 Direction, string Words)[] Sides =
    [
        (new(1, 0, 0), "right"), (new(-1, 0, 0), "left"), (new(0, 1, 0), "back"), (new(0, -1, 0), "front"), (new(0, 0, 1), "up"), (new(0, 0, -1), "down"),
    ];

    /// <summary>Its names, merged faces bearing several; of a piece of a side its own name alone, which says the side's too.</summary>
    public string Title => Names.Count == 0 ? "a face without a name" : string.Join(" and ", Names.Where(n => !Names.Any(m => m.StartsWith(n + "#", StringComparison.Ordinal))));

    public override string ToString() => $"{Title}: {Kind}, {Sizes}";

    /// <summary>Every face of the part in view, in the order of its face table.</summary>
    /// <param name="unit">In which its sizes are told.</param>
    public static IReadOnlyList<FaceInWords> AllOf(PartInView part, LengthUnit unit = default) => [.. part.Solid.Faces.Select((face, number) => Of(face, number, part, unit))];

    /// <summary>Whether an element name speaks of this face: it is one of its names, the side that it is a piece of, or its whole feature.</summary>
    public bool Answers(string name) => Names.Any(n => n == name
        || n.StartsWith(name, StringComparison.Ordinal) && (n[name.Length] == '#' || (n[name.Length] == '.' && !name.Contains('.', StringComparison.Ordinal))));

    private static FaceInWords Of(SolidFace face, int number, PartInView part, LengthUnit unit)
    {
        var bare = new FaceInWords(number, face.Names, KindOf(face, part.Reconciled.Shape), "", []);
        return bare with
        {
            Sizes = SizesOf(face, part.Reconciled, new Lengths(unit)),
            Readings = [.. part.Reconciled.Readings.Where(r => r.Reading switch
            {
                CaliperReading c => bare.Answers(c.First.Text) || (c.Second is { } second && bare.Answers(second.Text)),
                AngleReading a => bare.Answers(a.First.Text) || (a.Second is { } second && bare.Answers(second.Text)),
                SagittaReading s => bare.Answers(s.Of.Text),
                GaugeLeafReading g => bare.Answers(g.Round),
                _ => false,
            })],
        };
    }

    private static string KindOf(SolidFace face, PlacedShape shape)
    {
        EdgeTreatment? edge = shape.Features.OfType<EdgeTreatment>().FirstOrDefault(f => face.Names.Contains(f.Name + ".face"));
        if (edge is not null) return edge.Kind switch { EdgeTreatmentKind.Chamfer => "chamfer", EdgeTreatmentKind.Fillet => "fillet", _ => "edge round" };
        return face.Kind switch
        {
            SurfaceKind.Plane => Sides.FirstOrDefault(s => (s.Direction - face.Direction).Length < Same).Words is { } side ? $"flat, faces {side}" : "flat, at a slant",
            SurfaceKind.Cylinder => face.Bulges ? "round, bulging" : "round, hollow",
            SurfaceKind.Cone => face.Bulges ? "cone, bulging" : "cone, hollow",
            SurfaceKind.Sphere => face.Bulges ? "ball, bulging" : "ball, hollow",
            SurfaceKind.Torus => "ring",
            _ => "free-form",
        };
    }

    private static string SizesOf(SolidFace face, Reconciled reconciled, Lengths lengths)
    {
        string unit = lengths.Unit;
        switch (face.Kind)
        {
            case SurfaceKind.Plane:
                double[] reach = [.. new[] { face.High.X - face.Low.X, face.High.Y - face.Low.Y, face.High.Z - face.Low.Z }.Where(r => r > Same)];
                string extent = $"{string.Join(" × ", reach.Select(r => lengths.Number(r)))} {unit}";
                // The height above the origin says where an upright or level face lies.
                return Sides.Any(s => (s.Direction - face.Direction).Length < Same) && FlatOf(face, reconciled.Shape) is { } flat
                    ? $"{extent}, at {WithPlusMinus(Vector.Dot(flat.Point, Positive(flat.Normal)), reconciled, lengths)} {unit}"
                    : extent;
            case SurfaceKind.Cylinder:
                bool isEdge = RadiusOf(face, reconciled.Shape, out Dual? radius);
                if (radius is not { } own) return isEdge ? $"R{lengths.Number(face.RadiusMm)} {unit}" : $"⌀{lengths.Number(2 * face.RadiusMm)} {unit}";
                return isEdge ? $"R{WithPlusMinus(own, reconciled, lengths)} {unit}" : $"⌀{WithPlusMinus(own * 2, reconciled, lengths)} {unit}";
            case SurfaceKind.Cone:
                return string.Create(CultureInfo.InvariantCulture, $"{2 * Math.Abs(face.HalfAngleDegrees):0.##}° included");
            case SurfaceKind.Sphere:
                return $"R{lengths.Number(face.RadiusMm)} {unit}";
            case SurfaceKind.Torus:
                return $"R{lengths.Number(face.MinorRadiusMm)} {unit} about ⌀{lengths.Number(2 * face.RadiusMm)} {unit}";
            default:
                return lengths.Area(face.AreaMm2);
        }
    }

    private static FlatElement? FlatOf(SolidFace face, PlacedShape shape) => face.Names.Select(n => shape.Elements.GetValueOrDefault(n)).OfType<FlatElement>().FirstOrDefault();

    /// <returns>Whether the face is the round of an edge, known by its radius.</returns>
    private static bool RadiusOf(SolidFace face, PlacedShape shape, out Dual? radius)
    {
        radius = null;
        bool isEdge = false;
        foreach (string name in face.Names)
        {
            Element? element = shape.Elements.GetValueOrDefault(name)
                ?? shape.Elements.Values.OfType<SideElement>().Where(s => name.StartsWith(s.Name + "#", StringComparison.Ordinal)).SelectMany(s => s.Pieces()).FirstOrDefault(p => p.Name == name);
            Dual? told = element switch
            {
                RoundElement round => round.Radius,
                SideElement { Region: Region.Circle circle } => circle.Radius,
                SideElement side => side.Pieces().OfType<RoundElement>().Select(p => (Dual?)p.Radius).FirstOrDefault(r => Math.Abs(r!.Value.Value - face.RadiusMm) < Same),
                EdgeFaceElement edge => edge.Radius,
                _ => null,
            };
            isEdge |= element is EdgeFaceElement;
            if (told is { } value && Math.Abs(value.Value - face.RadiusMm) < Same) radius = value;
        }

        return isEdge;
    }

    private static Vector Positive(Vector normal) => normal.X.Value + normal.Y.Value + normal.Z.Value < 0 ? -normal : normal;

    private static string WithPlusMinus(Dual value, Reconciled reconciled, Lengths lengths)
    {
        var known = reconciled.Adjustment.Of(_ => value);
        if (!known.IsDecided) return $"{lengths.Number(value.Value)} (not measured)";
        double half = Normal95 * known.StandardUncertainty;
        if (half < 1e-9) return lengths.Number(value.Value);
        int decimals = Math.Clamp(Shown.DecimalsFor(half / lengths.InMm, 1), lengths.Decimals, lengths.Decimals + 2);
        return $"{lengths.Number(value.Value, decimals)} ±{lengths.Number(half, decimals)}";
    }

    /// <summary>Lengths in mm to a hundredth, or in inches to a thousandth.</summary>
    private readonly record struct Lengths(LengthUnit In)
    {
        public string Unit => In.Symbol();

        public double InMm => In.InMm();

        public int Decimals => In == LengthUnit.Inch ? 3 : 2;

        /// <summary>Without its unit, with the usual number of decimals unless told otherwise.</summary>
        public string Number(double mm, int? decimals = null) => Shown.Mm(mm / InMm, decimals ?? Decimals)[..^3];

        public string Area(double mm2) => In == LengthUnit.Inch
            ? string.Create(CultureInfo.InvariantCulture, $"{mm2 / (InMm * InMm):0.####} in²")
            : string.Create(CultureInfo.InvariantCulture, $"{mm2:0.#} mm²");
    }
}
