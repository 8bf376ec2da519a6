using System.Collections.Immutable;
using System.Globalization;
using Sparewright.Fit.Gauges;
using Sparewright.Handover.Picture;
using Sparewright.Handover.PrintFiles.ThreeMf;
using Sparewright.Part;
using Sparewright.Part.Elements;
using Sparewright.Part.Shape;
using Sparewright.Remake.Fits;
using Sparewright.Remake.Outputs;
using Sparewright.Solid;

namespace Sparewright.Remake.Ladders;

/// <summary>A ladder that was made.</summary>
/// <param name="VolumeMm3">Of the whole strip.</param>
public sealed record MadeLadder(GaugeSteps Steps, double VolumeMm3, IReadOnlyList<MadeFile> Files);

/// <summary>Makes the files of a ladder: the strip to be printed, and a picture with its key.</summary>
/// <param name="fonts">The files of the drawing's lettering (<see cref="Lettering.UsualFiles"/>).</param>
public sealed class LadderWork(KernelProgram kernel, IReadOnlyList<string> fonts, TimeProvider clock)
{
    /// <summary>What the drawn sizes of a gauge are: a step of a ladder, not of the part.</summary>
    private const string State = "gauges";

    private static readonly ImmutableArray<ViewName> Shown = [ViewName.Front, ViewName.Top, ViewName.Isometric];

    /// <summary>Which gauges pay, by counterpart; none where the part cannot be built, so that nobody knows how much of it they would spare.</summary>
    /// <param name="made">Those of them that were made.</param>
    /// <exception cref="OperationCanceledException">Stopped.</exception>
    public static async Task<IReadOnlyDictionary<string, LadderWorth>> WorthAsync(KernelProgram kernel, FoundFits found, IReadOnlyList<PlannedLadder> planned, IReadOnlyList<MadeLadder> made, CancellationToken cancel)
    {
        var worth = new Dictionary<string, LadderWorth>(StringComparer.Ordinal);
        if (planned.All(p => p.Steps is null) || await found.VolumeMm3Async(kernel, cancel).ConfigureAwait(false) is not { } partMm3) return worth;
        foreach (PlannedLadder ladder in planned)
            if (LadderWorth.Of(found, ladder, partMm3, made.FirstOrDefault(m => m.Steps.Counterpart == ladder.Counterpart)?.VolumeMm3) is { } one) worth.Add(ladder.Counterpart, one);
        return worth;
    }

    /// <summary>Makes the ladder and puts its files into the folder.</summary>
    /// <param name="found">What is drawn otherwise than it was measured; the gauges differ from that in one size only.</param>
    /// <exception cref="OperationCanceledException">Stopped; nothing is left half-written.</exception>
    public async Task<Result<MadeLadder>> MakeAsync(FoundFits found, GaugeSteps wanted, string outFolder, IProgress<StageProgress> progress, CancellationToken cancel)
    {
        OpenedJob job = found.Job;
        IReadOnlyList<PlacedShape> shapes = wanted.Shapes(found);
        if (shapes.FirstOrDefault(s => s.Problems.Count > 0) is { } bad) return Failure.Of(job.Path, bad.Problems);
        await using var worker = new KernelWorker(kernel);
        var onward = new SolidWork.StepProgress(Stage.Solid, progress);
        Outcome<GaugeStrip> built = await GaugeStrip.BuildAsync(worker, shapes, wanted.Met, job.Job.Print?.WayUp ?? Direction.Up, wanted.BevelMm(found), onward, cancel).ConfigureAwait(false);
        if (!built.IsGood) return Failure.Of(job.Path, built.Problem, Place.None);
        GaugeStrip strip = built.Value;
        progress.Report(new(Stage.Mesh, 0, "laying triangles over the strip"));
        Outcome<Mesh> meshed = await strip.Solid.MeshAsync(SolidWork.ChordMm, SolidWork.TurnDegrees, cancel: cancel).ConfigureAwait(false);
        if (!meshed.IsGood) return Failure.Of(job.Path, meshed.Problem, Place.None);
        var views = new List<NamedView>();
        foreach (var (name, sight, up) in SolidWork.Eyes.Where(e => Shown.Contains(e.Name)))
        {
            progress.Report(new(Stage.Views, (double)views.Count / Shown.Length, "drawing the strip"));
            Outcome<DrawnView> drawn = await strip.Solid.ViewAsync(sight, up, hidden: name != ViewName.Isometric, cancel: cancel).ConfigureAwait(false);
            if (!drawn.IsGood) return Failure.Of(job.Path, drawn.Problem, Place.None);
            views.Add(new(name, drawn.Value));
        }

        progress.Report(new(Stage.Files, 0, "writing the files"));
        return Write(job, wanted, strip, meshed.Value, views, outFolder, cancel);
    }

    private Result<MadeLadder> Write(OpenedJob job, GaugeSteps wanted, GaugeStrip strip, Mesh mesh, List<NamedView> views, string outFolder, CancellationToken cancel)
    {
        DateOnly today = DateOnly.FromDateTime(clock.GetLocalNow().DateTime);
        string program = RemakePipeline.Program, identification = strip.Solid.Key[..12];
        string about = wanted.HoldsPattern
            ? $"Gauge for {wanted.Counterpart}, the whole pattern: put it in place, then measure holes and distances."
            : $"Ladder of gauges for {wanted.Counterpart}: try it from the loosest on, and note where it goes.";
        string[] key = [.. Key(wanted)];
        var label = new PartLabel($"{job.Job.PartName}: ladder for {wanted.Counterpart}", $"{about} {string.Join(". ", key)}.", identification, today, program, State) { Cautions = JobCautions.Of(job.Job) };
        var picture = new PartPicture(new TitleBlock(job.Job.PartName, about, identification, today, State, program), views, [.. Dimensions(wanted, strip)], [], JobCautions.Of(job.Job), [.. key.Select(k => new Note(k))], mesh);
        var aid = new PrintAid($"{job.Job.PartName} ladder for {wanted.Counterpart}", label, mesh, picture, "printing: all gauges on one strip, lying as the part will lie", "looking: which gauge is which");
        Result<IReadOnlyList<MadeFile>> written = aid.Write(job.Path, fonts, outFolder, [], cancel);
        return written.Value is { } files ? new MadeLadder(wanted, strip.Solid.VolumeMm3, files) : written.Failure!;
    }

    private static IEnumerable<string> Key(GaugeSteps wanted) => wanted.DrawnMm.Select((mm, k) =>
        string.Create(CultureInfo.InvariantCulture, $"{k + 1} {(k == 0 ? "dot" : "dots")}: {wanted.Size} {mm:0.00} mm"));

    /// <summary>The number of each gauge and its size, where the counterpart goes.</summary>
    private static IEnumerable<Dimension> Dimensions(GaugeSteps wanted, GaugeStrip strip)
    {
        foreach (Gauge gauge in strip.Gauges)
        {
            SolidFace? met = strip.Solid.Faces.FirstOrDefault(f => wanted.Met.Any(m => f.Bears($"gauge{gauge.Number}.{m}")));
            if (met is not { Kind: SurfaceKind.Cylinder }) continue;
            Point3 half = met.Direction * (Point3.Dot(met.High - met.Low, new(Math.Abs(met.Direction.X), Math.Abs(met.Direction.Y), Math.Abs(met.Direction.Z))) / 2);
            Point3 middle = met.Origin + met.Direction * Point3.Dot((met.Low + met.High) * 0.5 - met.Origin, met.Direction);
            yield return new RoundDimension(string.Create(CultureInfo.InvariantCulture, $"{gauge.Number}: ⌀{2 * met.RadiusMm:0.00}"), null, middle - half, middle + half, met.RadiusMm) { View = ViewName.Top };
        }
    }
}
