using System.Globalization;
using Sparewright.Measure.Numbers;
using Sparewright.Part.Shape;
using Sparewright.Part.Sizes;

namespace Sparewright.Part.Elements;

/// <summary>
/// Places a job's features at given sizes: every frame, outline and element as exact geometry with derivatives by the sizes.
/// The recipe for the solid and the observations of the readings both come from what it returns, so they cannot drift apart.
/// </summary>
public static class ShapePlacer
{
    /// <param name="shape">The features in the order in which they are built.</param>
    /// <param name="sizes">Every size, in mm or degrees, with its derivatives (<see cref="Sizes.SizeTable.At"/>).</param>
    /// <returns>The placed shape; what arithmetic tells to be impossible is in its problems.</returns>
    public static PlacedShape Place(IReadOnlyList<Feature> shape, IReadOnlyDictionary<string, Dual> sizes)
    {
        var placement = new Placement(sizes);
        foreach (Feature feature in shape) Place(placement, feature);
        return new PlacedShape(sizes, placement.Features, placement.Elements, placement.Problems);
    }

    internal static void Place(Placement p, Feature feature)
    {
        switch (feature)
        {
            case Plate f: AddedShapePlacer.Place(p, f); break;
            case Boss f: AddedShapePlacer.Place(p, f); break;
            case Block f: AddedShapePlacer.Place(p, f); break;
            case TurnedShape f: AddedShapePlacer.Place(p, f); break;
            case Rib f: AddedShapePlacer.Place(p, f); break;
            case RoundedEnd f: AddedShapePlacer.Place(p, f); break;
            case Hole f: CutPlacer.Place(p, f); break;
            case Slot f: CutPlacer.Place(p, f); break;
            case Pocket f: CutPlacer.Place(p, f); break;
            case Groove f: CutPlacer.Place(p, f); break;
            case EdgeRound f: PlaceEdges(p, f, EdgeTreatmentKind.EdgeRound, f.Edges, f.Radius, "the radius", 0); break;
            case Fillet f: PlaceEdges(p, f, EdgeTreatmentKind.Fillet, f.Edges, f.Radius, "the radius", 0); break;
            case Chamfer f: PlaceEdges(p, f, EdgeTreatmentKind.Chamfer, f.Edges, f.Setback, "the setback", f.Angle is null ? 45 : p.Value(f.Angle)); break;
            case Row f: CopyPlacer.Place(p, f); break;
            case Ring f: CopyPlacer.Place(p, f); break;
            case MirrorImage f: CopyPlacer.Place(p, f); break;
            case DatumPlane f: PlaceDatum(p, f); break;
            case DatumAxis f: PlaceDatum(p, f); break;
            default: throw new InvalidOperationException($"unknown feature {feature}");
        }
    }

    private static void PlaceEdges(Placement p, Feature feature, EdgeTreatmentKind kind, Edges edges, SizeExpression size, string what, Dual angle)
    {
        Dual radius = p.Positive(feature, size, what);
        if (kind == EdgeTreatmentKind.Chamfer && angle.Value is not (> 1 and < 89))
            p.Say(feature.Place, string.Create(CultureInfo.InvariantCulture, $"{feature.Name}: a chamfer of {angle.Value:0.#}° is no bevel"), "give an angle between 1° and 89°");
        PlacedEdges placed;
        switch (edges)
        {
            case Edges.Meeting(var first, var second, var near):
                if (!Known(p, first) | !Known(p, second)) return;
                placed = new PlacedEdges.Meeting(first.Text, second.Text, near is null ? null : p.Value(near));
                break;
            case Edges.OfFeature(var of, var place, var except):
                if (!p.Elements.Keys.Any(k => k.StartsWith(of + ".", StringComparison.Ordinal)))
                {
                    p.Say(place, $"{feature.Name}: there is no feature `{of}` with faces here", "name a feature that stands before it in the list");
                    return;
                }

                foreach (var (first, second) in except)
                    if (!Known(p, first) | !Known(p, second)) return;
                placed = new PlacedEdges.OfFeature(of, [.. except.Select(e => (e.First.Text, e.Second.Text))]);
                break;
            default:
                throw new InvalidOperationException($"unknown edges {edges}");
        }

        // As it is, also where no such round can be: a search that comes there must find its way out.
        p.Add(new EdgeFaceElement(feature.Name + ".face", p.Value(size)));
        p.Features.Add(new EdgeTreatment(feature.Name, kind, placed, radius, angle, feature.Place));
    }

    private static bool Known(Placement p, ElementName name) => p.Any(name) is not null;

    private static void PlaceDatum(Placement p, DatumPlane datum)
    {
        if (p.Flat(datum.Plane) is not { } flat) return;
        Vector n = flat.Normal;
        Vector point = flat.Point + n * (datum.Offset is null ? 0 : p.Value(datum.Offset));
        if (datum.Origin is { } origin)
        {
            Vector o = p.Value(origin);
            point = datum.Turned is null ? o - n * Vector.Dot(o - point, n) : o;
        }

        if (datum.Turned is { } turn) n = n.Turned(turn.About.Vector(), p.Value(turn.By) * (Math.PI / 180));
        Frame? coordinates = null;
        if (datum.Along is { } along)
        {
            Vector u = along.Vector() - n * Vector.Dot(n, along.Vector());
            if (u.Length.Value < 1e-9)
            {
                p.Say(datum.Place, $"{datum.Name}: `along` stands square on the plane", "choose a direction that lies more nearly in it");
                return;
            }

            u = u.Unit();
            coordinates = new Frame(point, u, Vector.Cross(n, u), n);
        }

        p.Add(new FlatElement(datum.Name, point, n) { Coordinates = coordinates });
    }

    private static void PlaceDatum(Placement p, DatumAxis datum)
    {
        switch (p.Any(datum.Axis))
        {
            case AxisElement axis: p.Add(axis with { Name = datum.Name }); break;
            case RoundElement round: p.Add(new AxisElement(datum.Name, round.AxisPoint, round.AxisDirection)); break;
            case ConeElement cone: p.Add(new AxisElement(datum.Name, cone.BasePoint, cone.AxisDirection)); break;
            case null: break;
            default: p.Say(datum.Axis.Place, $"{datum.Name}: `{datum.Axis}` has no axis", "name a round element or an axis"); break;
        }
    }
}
