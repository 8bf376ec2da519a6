using System.Globalization;
using Sparewright.Fit.Counterparts;
using Sparewright.Measure.Numbers;
using Sparewright.Part;
using Sparewright.Part.Elements;
using Sparewright.Part.Shape;
using Sparewright.Solid;

namespace Sparewright.Fit.Gauges;

/// <summary>A gauge on its strip.</summary>
/// <param name="Number">Its number, from 1: it has so many raised dots before it, and its faces bear <c>gauge1.</c> before their names.</param>
/// <param name="Low">Lower corner of its box on the strip, mm.</param>
/// <param name="High">Upper corner.</param>
public sealed record Gauge(int Number, Point3 Low, Point3 High);

/// <summary>
/// A ladder of gauges in one piece, as it is to be printed: each gauge is the real surroundings of a fit, cut from the exact solid at its own sizes and lying as the
/// part will lie; along their fronts runs a bar with as many raised dots before each as its number says.
/// </summary>
/// <param name="Solid">Standing on the bed at z = 0, up away from it.</param>
public sealed record GaugeStrip(ExactSolid Solid, IReadOnlyList<Gauge> Gauges)
{
    public const double GapMm = 3, LeastBarWidthMm = 4, BarHeightMm = 2;

    private const double MostReachMm = 1, DotRadiusMm = 0.9, DotHeightMm = 0.8, DotSpacingMm = 2.8;

    private const int DotsInALine = 3;

    /// <summary>Builds it.</summary>
    /// <param name="shapes">The part's shape at the sizes of each gauge, in order.</param>
    /// <param name="met">The elements that the counterpart meets.</param>
    /// <param name="wayUp">Which job direction points away from the bed.</param>
    /// <param name="bevelMm">Leg of the chamfer on the met faces' edges that lie on the bed, as the part has it; 0 for none.</param>
    /// <exception cref="OperationCanceledException">Cancelled.</exception>
    public static async Task<Outcome<GaugeStrip>> BuildAsync(KernelWorker worker, IReadOnlyList<PlacedShape> shapes, IReadOnlyCollection<string> met, Direction wayUp, double bevelMm = 0, IProgress<SolidProgress>? progress = null, CancellationToken cancel = default)
    {
        Outcome<Recipe> whole = Recipe.Of(shapes[0]);
        if (!whole.IsGood) return whole.Problem;
        Outcome<ExactSolid> part = await worker.BuildAsync(whole.Value, fullGuards: false, progress, cancel).ConfigureAwait(false);
        if (!part.IsGood) return part.Problem;
        if (Surroundings.Around(part.Value, met) is not { } surroundings)
            return new SolidProblem(SolidProblemKind.Missing, null, $"no face of the solid is {string.Join(" or ", met)}", "name an element that the counterpart meets");

        var gauges = new List<ExactSolid>();
        IReadOnlyList<EdgeTreatment>? bevels = null;
        foreach (PlacedShape shape in shapes)
        {
            PlacedShape cut = surroundings.Of(shape, part.Value);
            Outcome<ExactSolid> gauge = await BuiltAsync(cut with { Features = [.. cut.Features, .. bevels ?? []] }).ConfigureAwait(false);
            if (!gauge.IsGood) return gauge.Problem;
            // The first one shows which edges lie on the bed; it is built on with them bevelled.
            bevels ??= Surroundings.Bevels(gauge.Value, met, Point3.Of(UpFromBed.Of(wayUp)), bevelMm);
            if (gauges.Count == 0 && bevels.Count > 0 && !(gauge = await BuiltAsync(cut with { Features = [.. cut.Features, .. bevels] }).ConfigureAwait(false)).IsGood) return gauge.Problem;
            gauges.Add(gauge.Value);
        }

        async Task<Outcome<ExactSolid>> BuiltAsync(PlacedShape shape)
        {
            Outcome<Recipe> recipe = Recipe.Of(shape);
            return recipe.IsGood ? await worker.BuildAsync(recipe.Value, fullGuards: false, progress, cancel).ConfigureAwait(false) : recipe.Problem;
        }

        return await JoinAsync(worker, gauges, Lying.Best(gauges[0], surroundings, wayUp), progress, cancel).ConfigureAwait(false);
    }

    private static async Task<Outcome<GaugeStrip>> JoinAsync(KernelWorker worker, List<ExactSolid> gauges, Lying lying, IProgress<SolidProgress>? progress, CancellationToken cancel)
    {
        var placed = new List<Gauge>();
        var places = new List<Frame>();
        double x = 0;
        foreach (ExactSolid gauge in gauges)
        {
            (Point3 low, Point3 high) = lying.BoxOf(gauge.Low, gauge.High);
            // In the middle of its share of the bar, front at y = 0, foot on the bed.
            double share = Math.Max(high.X - low.X, (Math.Min(placed.Count + 1, DotsInALine) - 1) * DotSpacingMm + 2 * DotRadiusMm);
            Point3 shift = new(x + share / 2 - (low.X + high.X) / 2, -low.Y, -low.Z);
            places.Add(lying.At(shift));
            placed.Add(new(placed.Count + 1, low + shift, high + shift));
            x += share + GapMm;
        }

        Outcome<Recipe> bar = Recipe.Of(new PlacedShape(new Dictionary<string, Dual>(), [Bar(placed, x - GapMm, lying.ReachMm)], new Dictionary<string, Element>(), []));
        if (!bar.IsGood) return bar.Problem;
        Recipe strip = bar.Value;
        for (int k = 0; k < gauges.Count; k++) strip = strip.Joining(string.Create(CultureInfo.InvariantCulture, $"gauge{k + 1}"), gauges[k], places[k]);
        Outcome<ExactSolid> built = await worker.BuildAsync(strip, fullGuards: true, progress, cancel).ConfigureAwait(false);
        return built.IsGood ? new GaugeStrip(built.Value, placed) : built.Problem;
    }

    /// <summary>The bar along the fronts of the gauges, with its dots.</summary>
    private static Combination Bar(List<Gauge> gauges, double longMm, double reachMm)
    {
        double top = Math.Min(BarHeightMm, gauges.Min(g => g.High.Z) / 2), wide = Math.Max(LeastBarWidthMm, DotSpacingMm * Math.Ceiling((double)gauges.Count / DotsInALine));
        List<Part.Elements.Tool> tools = [Surroundings.Slab(Surroundings.Rectangle(new(0, -wide, 0), new(longMm, reachMm, 0)), 0, top)];
        foreach (Gauge gauge in gauges)
            for (int dot = 0; dot < gauge.Number; dot++)
            {
                int line = dot / DotsInALine, inLine = Math.Min(DotsInALine, gauge.Number - line * DotsInALine);
                double across = (gauge.Low.X + gauge.High.X) / 2 + (dot % DotsInALine - (inLine - 1) / 2.0) * DotSpacingMm, along = -wide + DotSpacingMm * (line + 0.5);
                // A little into the bar, so that they hold.
                tools.Add(Surroundings.Slab(new Region.Circle(new(across, along), DotRadiusMm, []), top / 2, top + DotHeightMm));
            }

        return new Combination("bar", Joins: true, tools, Place.None);
    }

    /// <summary>How a gauge lies on the strip: the part's way up, and turned so that its stoutest side is at the front, where the bar holds it; or the end away from the free one, where something slides over it.</summary>
    private sealed record Lying(Frame Turn, double ReachMm)
    {
        public static Lying Best(ExactSolid gauge, Surroundings around, Direction wayUp)
        {
            Lying? best = null, free = null;
            Frame turn = Upright(wayUp);
            for (int quarter = 0; quarter < 4; quarter++)
            {
                var lying = new Lying(turn, 0);
                double wall = lying.BoxOf(around.Met.Low, around.Met.High).Low.Y - lying.BoxOf(gauge.Low, gauge.High).Low.Y;
                if (best is null || wall > 2 * best.ReachMm + 1e-6) best = lying with { ReachMm = Math.Min(MostReachMm, wall / 2) };
                if (around.FreeEnd is { } end && lying.Turned(end).Y > 0.5) free = lying with { ReachMm = MostReachMm };
                turn = new(turn.Origin, QuarterTurned(turn.U), QuarterTurned(turn.V), QuarterTurned(turn.N));
            }

            return free ?? best!;
        }

        public Frame At(Point3 shift) => Turn.MovedTo(new(shift.X, shift.Y, shift.Z));

        public (Point3 Low, Point3 High) BoxOf(Point3 low, Point3 high)
        {
            Point3 a = Turned(low), b = Turned(high);
            return (Surroundings.Lower(a, b), Surroundings.Higher(a, b));
        }

        private Point3 Turned(Point3 p) => Point3.Of(Turn.U) * p.X + Point3.Of(Turn.V) * p.Y + Point3.Of(Turn.N) * p.Z;

        private static Vector QuarterTurned(Vector v) => new(-v.Y, v.X, v.Z);

        /// <summary>Where the job's right, back and up come to when the way up points up.</summary>
        private static Frame Upright(Direction wayUp)
        {
            Vector right = new(1, 0, 0), back = new(0, 1, 0), up = new(0, 0, 1);
            return wayUp switch
            {
                Direction.Up => new(Vector.Zero, right, back, up),
                Direction.Down => new(Vector.Zero, right, -back, -up),
                Direction.Right => new(Vector.Zero, up, back, -right),
                Direction.Left => new(Vector.Zero, -up, back, right),
                Direction.Back => new(Vector.Zero, right, up, -back),
                Direction.Front => new(Vector.Zero, right, -up, back),
                _ => throw new ArgumentOutOfRangeException(nameof(wayUp)),
            };
        }
    }
}
