using Sparewright.Fit.Counterparts;
using Sparewright.Measure.Numbers;
using Sparewright.Part;
using Sparewright.Part.Elements;
using Sparewright.Part.Shape;

namespace Sparewright.Fit.Drawn;

/// <summary>A fitting edge on the bed that is bevelled, so that the first layers' flare stays within the part.</summary>
/// <param name="Counterpart">Whose fit it is.</param>
/// <param name="Bed">The face that lies on the bed.</param>
/// <param name="Wall">The fitting surface that begins there.</param>
public sealed record RelievedEdge(string Counterpart, string Bed, string Wall, FlareRelief Relief)
{
    /// <summary>Features that relieve bear names that begin so; no job can write one.</summary>
    public const string Prefix = "flare relief ";

    /// <summary>The chamfer as a feature.</summary>
    public EdgeTreatment Feature => new(Prefix + Wall, EdgeTreatmentKind.Chamfer, new PlacedEdges.Meeting(Bed, Wall, null), Relief.LegMm, 45, Place.None);
}

/// <summary>Finds the fitting edges that lie on the bed, as the part is going to be printed.</summary>
public static class BedRelief
{
    /// <summary>What lies this near to the bed, in mm, lies on it.</summary>
    private const double OnItMm = 1e-6;

    /// <param name="shape">As it is going to be drawn.</param>
    /// <param name="wayUp">Which job direction points away from the bed.</param>
    public static IReadOnlyList<RelievedEdge> Of(PlacedShape shape, Direction wayUp, JobFits fits)
    {
        Vector up = UpFromBed.Of(wayUp);
        if (BedOf(shape, up) is not { } bed) return [];
        var edges = new List<RelievedEdge>();
        foreach (MetCounterpart met in fits.Met)
            foreach (MetSurface surface in met.Surfaces)
            {
                // What closes where it stands upright meets the flare: the mouths of holes, the feet of bosses.
                FlareRelief relief = FlareRelief.Of(fits.Case.Process, surface.SizeMm.Value);
                if (relief.LegMm == 0) continue;
                foreach (string wall in surface.Name.Split(", "))
                    if (edges.All(e => e.Wall != wall) && Reaches(shape, wall, bed, up) && !IsBevelled(shape, wall, bed.Name)) edges.Add(new(met.Counterpart.Name, bed.Name, wall, relief));
            }

        return edges;
    }

    /// <summary>The shape with these edges bevelled.</summary>
    public static PlacedShape Relieved(PlacedShape shape, IReadOnlyList<RelievedEdge> edges) =>
        edges.Count == 0 ? shape : shape with { Features = [.. shape.Features, .. edges.Select(e => e.Feature)] };

    /// <summary>The lowest face that looks down.</summary>
    private static FlatElement? BedOf(PlacedShape shape, Vector up) => shape.Elements.Values.OfType<FlatElement>()
        .Where(f => !f.Name.StartsWith("ground", StringComparison.Ordinal) && Vector.Dot(f.Normal, up).Value < -1 + 1e-9).MinBy(f => Vector.Dot(f.Point, up).Value);

    /// <summary>Whether one of the tools that make a wall stands on the bed or, cutting, goes through it.</summary>
    private static bool Reaches(PlacedShape shape, string wall, FlatElement bed, Vector up)
    {
        double level = Vector.Dot(bed.Point, up).Value;
        foreach (Combination made in shape.Features.OfType<Combination>())
            foreach (var (frame, start, end) in made.Tools.SelectMany(t => Along(t, wall)))
            {
                if (Math.Abs(Vector.Dot(frame.N, up).Value) < 1 - 1e-9) continue;
                double from = Vector.Dot(frame.Origin + frame.N * start, up).Value, to = Vector.Dot(frame.Origin + frame.N * end, up).Value;
                double low = Math.Min(from, to), high = Math.Max(from, to);
                if (made.Joins ? Math.Abs(low - level) < OnItMm : low < level + OnItMm && high > level + OnItMm) return true;
            }

        return false;
    }

    /// <summary>From where to where along its own axis a tool makes a wall.</summary>
    private static IEnumerable<(Frame Frame, Dual From, Dual To)> Along(Tool tool, string wall) => tool switch
    {
        PrismTool prism when Names(prism.Region).Contains(wall) => [(prism.Frame, prism.From, prism.To)],
        TurnedTool turned => turned.Loop.Where(p => p.Names.Contains(wall)).Select(p => (turned.Frame, p.From.V, p.To.V)),
        _ => [],
    };

    private static IEnumerable<string> Names(Region region) => region switch
    {
        Region.Circle circle => circle.Names,
        Region.Loop loop => loop.Pieces.SelectMany(p => p.Names),
        Region.Joined joined => joined.Regions.SelectMany(Names),
        Region.TakenAway taken => [.. Names(taken.First), .. taken.Others.SelectMany(Names)],
        _ => [],
    };

    /// <summary>Whether the job itself rounds or bevels that edge.</summary>
    private static bool IsBevelled(PlacedShape shape, string wall, string bed) => shape.Features.OfType<EdgeTreatment>().Any(t => t.Edges switch
    {
        PlacedEdges.Meeting meeting => Is(meeting.First, wall) && Is(meeting.Second, bed) || Is(meeting.First, bed) && Is(meeting.Second, wall),
        PlacedEdges.OfFeature all => Is(all.Feature, wall) || Is(all.Feature, bed),
        _ => false,
    });

    /// <summary>Whether an element is the one named, or belongs to the feature named.</summary>
    private static bool Is(string named, string element) => element == named || element.StartsWith(named + ".", StringComparison.Ordinal) || element.StartsWith(named + "#", StringComparison.Ordinal);
}
