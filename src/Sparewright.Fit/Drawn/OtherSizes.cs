using Sparewright.Fit.Capability;
using Sparewright.Fit.Counterparts;
using Sparewright.Measure;
using Sparewright.Measure.Numbers;
using Sparewright.Part.Elements;
using Sparewright.Part.Record;
using Sparewright.Part.Shape;
using Sparewright.Part.Sizes;
using Sparewright.Reconcile.Findings;
using Sparewright.Reconcile.Readings;

namespace Sparewright.Fit.Drawn;

/// <summary>
/// What this printer was measured to do to the sizes that no fit decides, undone. Surfaces that somebody measured on the old part are brought back to what they measured there, by solving the job's sizes anew; other lengths
/// in the plane of the layers are drawn larger by what the plastic was seen to shrink. What is only assumed of a printer is no reason to draw anything otherwise.
/// </summary>
/// <param name="Changes">To 0.01 mm; none where less would change.</param>
/// <param name="Wanted">The surfaces that were to be brought back, as they were drawn before.</param>
/// <param name="Surfaces">The same, as they are drawn now.</param>
/// <param name="Scale">Of the lengths that no such surface decides.</param>
/// <param name="Scaled">Those of the changes that the scale alone asks for.</param>
public sealed record OtherSizes(IReadOnlyList<SizeChange> Changes, IReadOnlyList<WantedSurface> Wanted, IReadOnlyList<CompensatedSurface> Surfaces, ShrinkScale Scale, IReadOnlyList<SizeChange> Scaled)
{
    /// <param name="fits">The sizes that they may change, and all on which their surfaces hang, are left alone: they see to themselves.</param>
    public static OtherSizes Of(Job job, Reconciled reconciled, JobFits fits)
    {
        ProcessCapability process = fits.Case.Process;
        ShrinkScale scale = ShrinkScale.Of(process);
        if (!scale.Proposed && SurfaceKinds.All.All(k => process[k].Status == CapabilityStatus.Assumed)) return new([], [], [], scale, []);

        var drawn = new DrawnTable(job, reconciled);
        PlacedShape shape = drawn.Shape();
        Direction wayUp = job.Print?.WayUp ?? Direction.Up;
        HashSet<string> taken = [.. fits.DrawnMm.Keys, .. fits.Met.SelectMany(m => m.Surfaces).SelectMany(s => SizesOf(s.SizeMm, drawn)), .. fits.Met.Where(m => m.Surfaces.Count > 1).SelectMany(m => m.Surfaces.SelectMany(s => Apart(s, m.Surfaces[0]))).SelectMany(d => SizesOf(d, drawn))];
        WantedSurface[] wanted = [.. Measured(job, shape, wayUp).Select(s => Surface(s.Name, s.Kind, s.Mm, drawn)).Where(s => s.Printed.PerSize.Count > 0 && process[s.Printed.Kind].Status == CapabilityStatus.Measured && !s.Printed.PerSize.Keys.Any(taken.Contains))];
        Compensation solved = Compensation.Solve(process, wanted);
        SizeChange[] brought = [.. solved.Changes.Select(c => Written(c, drawn))];

        HashSet<string> decided = [.. taken, .. wanted.SelectMany(w => w.Printed.PerSize.Keys), .. Measured(job, shape, wayUp).Where(s => s.Kind == SurfaceKind.Height).SelectMany(s => SizesOf(s.Mm, drawn)), .. GoingUp(shape, wayUp, drawn)];
        SizeChange[] scaled = !scale.Proposed ? [] : [.. drawn.Free.Where(s => s.Quantity == Quantity.Length && !decided.Contains(s.Name)).Select(s => Written(new(s.Name, (scale.Factor - 1) * drawn.ValueOf(s.Name)), drawn)).Where(c => c.ByMm != 0)];
        return new([.. brought.Where(c => c.ByMm != 0), .. scaled], wanted, solved.Surfaces, scale, scaled);
    }

    private static SizeChange Written(SizeChange change, DrawnTable drawn)
    {
        double value = drawn.ValueOf(change.Size), grid = DrawnSizes.GridMm;
        return Math.Abs(change.ByMm) < grid / 2 ? change with { ByMm = 0 } : change with { ByMm = Math.Round(Math.Round((value + change.ByMm) / grid) * grid - value, 9) };
    }

    private static WantedSurface Surface(string name, SurfaceKind kind, Dual mm, DrawnTable drawn) =>
        new(name, new(kind, mm.Value, 1, drawn.Free.Select((s, k) => (s.Name, By: mm.Gradient.By(k))).Where(s => s.By != 0).ToDictionary(s => s.Name, s => s.By, StringComparer.Ordinal)), mm.Value);

    /// <summary>How far the holes of a pattern are apart.</summary>
    private static IEnumerable<Dual> Apart(MetSurface hole, MetSurface first) => hole.Middle - first.Middle is var apart ? [apart.X, apart.Y, apart.Z] : [];

    private static IEnumerable<string> SizesOf(Dual mm, DrawnTable drawn) => drawn.Free.Where((_, k) => mm.Gradient.By(k) != 0).Select(s => s.Name);

    /// <summary>Surfaces that readings were taken of: those are on the part, and somebody found them worth it.</summary>
    private static IEnumerable<(string Name, SurfaceKind Kind, Dual Mm)> Measured(Job job, PlacedShape shape, Direction wayUp) => job.Readings.OfType<CaliperReading>()
        .Select(r => (Reading: r, Kind: KindOf(r, shape, wayUp))).Where(r => r.Kind is not null && CaliperGeometry.Of(r.Reading, shape).Mm is not null)
        .Select(r => (string.Join(", ", ((string?[])[r.Reading.First.Text, r.Reading.Second?.Text, r.Reading.Across?.ToString()]).OfType<string>()), r.Kind!.Value, CaliperGeometry.Of(r.Reading, shape).Mm!.Value))
        .DistinctBy(s => s.Item1);

    /// <summary>What the printer does to what was read; null for a mixture, as a wall between a bore and an outside.</summary>
    private static SurfaceKind? KindOf(CaliperReading reading, PlacedShape shape, Direction wayUp)
    {
        if (reading.OverPinsMm.Count > 0 || !shape.Elements.TryGetValue(reading.First.Text, out Element? first)) return null;
        if (reading.Across is { } across) return first is SideElement { Hollow: false } ? UpFromBed.KindOf(spaceBetween: false, UpFromBed.Of(across), wayUp) : null;
        Element? second = null;
        if (reading.Second is { } other && !shape.Elements.TryGetValue(other.Text, out second)) return null;
        return (first, second, reading.Way) switch
        {
            (RoundElement round, null, _) => UpFromBed.KindOf(round, wayUp),
            (FlatElement a, FlatElement, ReadingWay.Outside) => UpFromBed.KindOf(spaceBetween: false, a.Normal, wayUp),
            (FlatElement a, FlatElement, ReadingWay.Inside) => UpFromBed.KindOf(spaceBetween: true, a.Normal, wayUp),
            (FlatElement a, FlatElement, _) when UpFromBed.IsAlong(a.Normal, wayUp) => SurfaceKind.Height,
            (FlatElement a, RoundElement { Hollow: false }, ReadingWay.Outside) when !UpFromBed.IsAlong(a.Normal, wayUp) => SurfaceKind.Outside,
            (RoundElement { Hollow: false }, FlatElement b, ReadingWay.Outside) when !UpFromBed.IsAlong(b.Normal, wayUp) => SurfaceKind.Outside,
            _ => null,
        };
    }

    /// <summary>Sizes that move anything up or down: layers do not shrink as the plane does.</summary>
    private static IEnumerable<string> GoingUp(PlacedShape shape, Direction wayUp, DrawnTable drawn)
    {
        Vector up = UpFromBed.Of(wayUp);
        return shape.Elements.Values.Select(e => e switch
        {
            FlatElement flat when UpFromBed.IsAlong(flat.Normal, wayUp) => Vector.Dot(flat.Point, up),
            RoundElement round when !UpFromBed.IsAlong(round.AxisDirection, wayUp) => Vector.Dot(round.AxisPoint, up),
            _ => (Dual)0,
        }).SelectMany(d => SizesOf(d, drawn));
    }
}
