using System.Diagnostics;
using System.Globalization;
using System.Text;
using Sparewright.Fit.Drawn;
using Sparewright.Handover.Files;
using Sparewright.Handover.Picture;
using Sparewright.Handover.PrintFiles;
using Sparewright.Handover.PrintFiles.ThreeMf;
using Sparewright.Measure.Quantities;
using Sparewright.Part;
using Sparewright.Part.Elements;
using Sparewright.Reconcile;
using Sparewright.Reconcile.Findings;
using Sparewright.Reconcile.Readings;
using Sparewright.Remake.Bearing;
using Sparewright.Remake.Fits;
using Sparewright.Remake.Outputs;
using Sparewright.Remake.Reports;
using Sparewright.Solid;

namespace Sparewright.Remake;

/// <summary>How much of the main job is wanted.</summary>
public enum Extent
{
    /// <summary>The solid, its exact file, its triangles and its picture.</summary>
    Solid,

    /// <summary>All that goes with the part, drawn for its counterparts where it has some.</summary>
    Everything,

    /// <summary>The part at the sizes drawn for its counterparts, as print files and exact file, and what would better the odds.</summary>
    ForTheFits,
}

/// <summary>
/// The main job, and the only place that knows the order of its stages: readings → sizes → fits → shape → solid → files. Each result is kept with a hash of
/// what it was made from; what would come out the same is not made again. Stopped at any time, the output folder is as it was.
/// </summary>
/// <param name="kernel">The kernel worker's program.</param>
/// <param name="fonts">The files of the drawing's lettering (<see cref="Lettering.UsualFiles"/>).</param>
/// <param name="clock">For the date that new files bear.</param>
public sealed class RemakePipeline(KernelProgram kernel, IReadOnlyList<string> fonts, TimeProvider clock)
{
    /// <summary>Runs the main job.</summary>
    /// <param name="outFolder">Where the files go; null when only the facts are wanted.</param>
    /// <exception cref="OperationCanceledException">Stopped; nothing is left half-written.</exception>
    public async Task<Result<Remade>> RunAsync(OpenedJob job, string? outFolder, Extent extent, IProgress<StageProgress> progress, CancellationToken cancel)
    {
        try
        {
            await using var run = new Run(kernel, fonts, DateOnly.FromDateTime(clock.GetLocalNow().DateTime), job, extent, progress, cancel);
            return await run.GoAsync(outFolder).ConfigureAwait(false);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return Failure.Of(e);
        }
    }

    /// <summary>What there is of memory, of the machine or the container that the program runs in.</summary>
    public long MemoryBytes { get; init; } = GC.GetGCMemoryInfo().TotalAvailableMemoryBytes;

    /// <summary>Whether the part will hold what the job says it has to bear, and where the old one was weakest. Writes nothing.</summary>
    /// <param name="shows">Whether the margin is wanted on the whole surface, to be looked at; that takes as long as the solving.</param>
    /// <exception cref="OperationCanceledException">Stopped.</exception>
    public async Task<Result<StrengthFound>> StrengthAsync(OpenedJob job, bool shows, IProgress<StageProgress> progress, CancellationToken cancel)
    {
        progress.Report(new(Stage.Reconcile, 0, "reconciling the readings"));
        Result<Reconciled> reconciling = await job.ReconcileAsync(() => kernel, cancel).ConfigureAwait(false);
        if (reconciling.Value is not { } reconciled) return reconciling.Failure!;
        Outcome<Recipe> written = Recipe.Of(reconciled.Shape);
        if (!written.IsGood) return FailureOf(job, written.Problem, reconciled);
        Outcome<MadeSolid> built;
        await using (var work = new SolidWork(kernel, progress, cancel))
            built = await work.MakeAsync(written.Value, reconciled.Shape, [], Wanted.Mesh, null, job.Job.PartName).ConfigureAwait(false);
        if (!built.IsGood) return FailureOf(job, built.Problem, reconciled);
        var part = new LoadedPart(job, reconciled.Shape.Sizes, built.Value.Solid, built.Value.Mesh!);
        return await Task.Run(async () =>
        {
            Result<StrengthFound> result = await new StrengthStage(job, part, shows, MemoryBytes, progress, cancel).RunAsync().ConfigureAwait(false);
            return result.Value is { } found && found.Cases.Any(c => !c.Margin.HoldsWithItsError) ? await new CureWork(kernel, part, progress, cancel).AddToAsync(found).ConfigureAwait(false) : result;
        }, cancel).ConfigureAwait(false);
    }

    /// <summary>Name and version, as files bear them.</summary>
    internal static string Program => $"Sparewright {typeof(RemakePipeline).Assembly.GetName().Version?.ToString(3)}";

    private enum Kind { ThreeMf, Stl, Step, Png, Svg, Text, Json }

    /// <summary>A file that is to lie in the folder.</summary>
    /// <param name="Input">Hash of what it is made from.</param>
    private sealed record Planned(Kind Kind, string Name, string For, string Input, Wanted Needs);

    private sealed class Run(KernelProgram kernel, IReadOnlyList<string> fonts, DateOnly today, OpenedJob job, Extent extent, IProgress<StageProgress> progress, CancellationToken cancel) : IAsyncDisposable
    {
        private readonly Stopwatch _whole = Stopwatch.StartNew();
        private readonly List<StageTime> _times = [];
        private double? _fitSeconds;
        private string? _cannotBevel;

        /// <summary>Weighs the solid first, where readings speak of its volume, and makes it then: most of it is there by that time.</summary>
        private readonly SolidWork _work = new(kernel, progress, cancel);

        /// <summary>What is drawn; as measured until the fits have said otherwise.</summary>
        private Drawing _drawing = null!;

        private string State => _drawing.Fits is null ? JobCautions.State : JobCautions.ForTheFits;

        private string StateInWords => _drawing.Fits is null ? JobCautions.AsMeasured : JobCautions.AsFitted;

        /// <summary>A part to be built: its shape, and what it is drawn for.</summary>
        /// <param name="Reconciled">The old part.</param>
        /// <param name="Fits">Null where it is drawn as measured.</param>
        private sealed record Drawing(Reconciled Reconciled, PlacedShape Sharp, DrawnForFits? Fits)
        {
            /// <summary>The edges on the bed that are bevelled.</summary>
            public IReadOnlyList<RelievedEdge> Relief { get; init; } = [];

            /// <summary>Why the fits could not be worked out.</summary>
            public Failure? WhyNot { get; init; }

            public PlacedShape Shape => BedRelief.Relieved(Sharp, Relief);
        }

        private bool WantsFits => extent == Extent.ForTheFits || (extent == Extent.Everything && job.Job.Counterparts.Count > 0);

        /// <summary>The part as it is to be drawn.</summary>
        /// <param name="unbevelled">The recipe of which it is known that its edges on the bed cannot be bevelled.</param>
        private Drawing Draw(Reconciled reconciled, string? unbevelled)
        {
            var asMeasured = new Drawing(reconciled, reconciled.Shape, null);
            if (!WantsFits) return asMeasured;
            progress.Report(new(Stage.Fit, 0, "working out what to draw so that everything fits"));
            var clock = Stopwatch.StartNew();
            Result<DrawnForFits> drawn = FitWork.Draw(job, reconciled, cancel: cancel);
            _fitSeconds = clock.Elapsed.TotalSeconds;
            if (drawn.Value is not { } fits) return asMeasured with { WhyNot = drawn.Failure };
            PlacedShape sharp = fits.Sharp();
            var drawing = new Drawing(reconciled, sharp, fits);
            return unbevelled is not null && Recipe.Of(sharp) is { IsGood: true, Value: var recipe } && recipe.Hash == unbevelled ? drawing : drawing with { Relief = fits.ReliefOf(sharp) };
        }

        /// <summary>What is to be expected of it, worked out beside the solid.</summary>
        private Task<FoundFits?> Judge() => Task.Run(() =>
        {
            if (_drawing.Fits is not { } fits) return null;
            var clock = Stopwatch.StartNew();
            FoundFits found = FitWork.Judge(fits, _drawing.Sharp, _drawing.Relief, advise: extent == Extent.ForTheFits, cancel);
            _fitSeconds += clock.Elapsed.TotalSeconds;
            return found;
        }, CancellationToken.None);

        public ValueTask DisposeAsync() => _work.DisposeAsync();

        public async Task<Result<Remade>> GoAsync(string? outFolder)
        {
            progress.Report(new(Stage.Reconcile, 0, "reconciling the readings"));
            var clock = Stopwatch.StartNew();
            Result<Reconciled> reconciling = job.ReconcileWithoutVolume();
            if (reconciling.Value is not { } reconciled) return reconciling.Failure!;
            if (Recipe.Of(reconciled.Shape) is { IsGood: false } refused) return FailureOf(job, refused.Problem, reconciled);
            cancel.ThrowIfCancellationRequested();

            Result<OutputFolder> opened = default;
            if (outFolder is not null && (opened = OutputFolder.Open(outFolder)).Value is null) return opened.Failure!;
            using OutputFolder? folder = opened.Value;
            RemadeRecord record = RemadeRecord.From(folder?.Read(RemadeRecord.FileName));
            string program = InputHash.OfProgram(kernel), weighed = InputHash.Of(program, job.Hash);
            // What was found of the volume for this very job is taken as it is.
            PartVolume? volume = record.Volume is { } known && known.Input == weighed ? known.Volume : null;
            if (volume is not null && Reconciliation.TryReconcile(job.Job, out Reconciled? again, out _, volume: volume)) reconciled = again;
            else (reconciled, volume) = await new VolumeEvidence(_work.Workers).ReconcileAsync(job.Job, reconciled, null, cancel).ConfigureAwait(false);
            double reconcileSeconds = clock.Elapsed.TotalSeconds;
            _drawing = Draw(reconciled, record.Unbevelled);
            if (extent == Extent.ForTheFits && _drawing.WhyNot is { } wrong) return wrong;
            RecordedVolume? weighedVolume = volume is null ? null : new(weighed, volume);
            Result<Remade> made = await GoAsync(folder, outFolder, record, program, weighedVolume, reconcileSeconds).ConfigureAwait(false);
            if (_drawing.Relief.Count == 0 || _cannotBevel is null) return made;

            // The part matters more than its bevels.
            progress.Report(new(Stage.Solid, 0, "building it again without bevels on the bed"));
            _drawing = _drawing with { Relief = [] };
            return await GoAsync(folder, outFolder, record, program, weighedVolume, reconcileSeconds).ConfigureAwait(false);
        }

        private async Task<Result<Remade>> GoAsync(OutputFolder? folder, string? outFolder, RemadeRecord record, string program, RecordedVolume? volume, double reconcileSeconds)
        {
            (Reconciled reconciled, PlacedShape shape) = (_drawing.Reconciled, _drawing.Shape);
            Outcome<Recipe> written = Recipe.Of(shape);
            if (!written.IsGood) return FailureOf(job, written.Problem, reconciled);
            Recipe recipe = written.Value;
            Task<FoundFits?> judging = Judge();
            IReadOnlyList<ObservedReading> readings = SolidFacts.ToRepeat(reconciled);
            string solidInput = InputHash.Of([program, recipe.Hash, .. readings.Select(r => Words(r, shape))]);
            SolidFacts? facts = record.SolidInput == solidInput ? record.Facts : null;
            bool factsKept = facts is not null;

            List<Planned> planned = folder is null ? [] : Plan(program, recipe, reconciled);
            var made = planned.Where(p => !IsUpToDate(folder!, record, p)).ToHashSet();
            Wanted needs = made.Aggregate(Wanted.Facts, (all, p) => all | p.Needs);
            if (facts is null) needs |= Wanted.Mesh;
            bool solidNeeded = facts is null || needs != Wanted.Facts;

            // Fonts take a moment to load, and the worker needs none of them.
            Task<Result<Lettering>> lettering = made.Any(p => p.Kind is Kind.Png or Kind.Svg) ? Task.Run(Letters, CancellationToken.None) : Task.FromResult<Result<Lettering>>(default);
            MadeSolid? solid = null;
            if (solidNeeded)
            {
                string? step = made.FirstOrDefault(p => p.Kind == Kind.Step)?.Name;
                Outcome<MadeSolid> built = await _work
                    .MakeAsync(recipe, shape, readings, needs, step is null ? null : folder!.TemporaryPath(step), StepName()).ConfigureAwait(false);
                if (!built.IsGood)
                {
                    if (built.Problem.Feature?.StartsWith(RelievedEdge.Prefix, StringComparison.Ordinal) == true) _cannotBevel = recipe.Hash;
                    return FailureOf(job, built.Problem, reconciled);
                }

                solid = built.Value;
                if (solid.Mesh is { } mesh)
                    facts ??= new(solid.Solid.VolumeMm3, solid.Solid.AreaMm2, solid.Solid.Centroid, solid.Solid.Low, solid.Solid.High, solid.Solid.Faces.Count, mesh.TriangleCount, mesh.VolumeMm3(), mesh.WorstChordMm, solid.Remeasured);
            }

            Result<Lettering> letters = await lettering.ConfigureAwait(false);
            using Lettering? font = letters.Value;
            if (letters.Failure is { } noFont) return noFont;

            var clock = Stopwatch.StartNew();
            if (made.Count > 0) progress.Report(new(Stage.Files, 0, "writing the files"));
            if (await WriteAsync(folder, made, reconciled, recipe, solid, font).ConfigureAwait(false) is { } failed) return failed;
            FoundFits? fits = await judging.ConfigureAwait(false);
            Times(reconcileSeconds, factsKept, solid, planned, made);
            var remade = new Remade(job, reconciled, facts!, outFolder, [.. planned.Select(p => new MadeFile(p.Name, p.For, !made.Contains(p)))], _times, 0) { Fits = fits, FitsWhyNot = _drawing.WhyNot?.Messages ?? [], CouldNotBevel = _cannotBevel is not null || (record.Unbevelled is not null && record.Unbevelled == recipe.Hash) };
            if (folder is null) return remade with { Seconds = _whole.Elapsed.TotalSeconds };

            bool summariesMade = Summaries(folder, ref remade);
            var recorded = remade.Files.Select(f => new RecordedFile(f.Name, planned.Find(p => p.Name == f.Name)?.Input ?? "", folder.HashOf(f.Name)!)).ToList();
            cancel.ThrowIfCancellationRequested();
            if (made.Count > 0 || summariesMade || !factsKept || volume?.Input != record.Volume?.Input)
            {
                folder.Put(RemadeRecord.FileName, new RemadeRecord(solidInput, facts, recorded) { Volume = volume, Unbevelled = remade.CouldNotBevel ? recipe.Hash : null }.ToBytes(), CancellationToken.None);
                folder.Keep();
            }

            _times.Add(new(Stage.Files, clock.Elapsed.TotalSeconds, made.Count == 0 && !summariesMade));
            return remade with { Seconds = _whole.Elapsed.TotalSeconds };
        }

        // ---- what there is to be made ----------------------------------------------------------------------------------

        private List<Planned> Plan(string program, Recipe recipe, Reconciled reconciled)
        {
            string name = job.Job.PartName, caution = string.Join('\n', JobCautions.Of(job.Job));
            string File(string ending) => FileNames.For(name, State, ending);
            string triangles = InputHash.Of(program, recipe.Hash, name, caution);
            string picture = InputHash.Of(program, recipe.Hash, PictureOf.Words(job.Job, reconciled, _drawing.Fits));
            List<Planned> files =
            [
                new(Kind.ThreeMf, File(".3mf"), "printing: one part in millimetres, with what it is and what to beware of", InputHash.Of(triangles, job.Job.About ?? ""), Wanted.Mesh | Wanted.Isometric),
                new(Kind.Stl, FileNames.ForStl(name, State), "printing with programs that read nothing newer; STL knows no unit, take mm", triangles, Wanted.Mesh),
                new(Kind.Step, File(".step"), "machining and other design programs: the exact solid, with true cylinders", InputHash.Of(program, recipe.Hash, StepName()), Wanted.Step),
                new(Kind.Png, File(".png"), "looking: the part with its main sizes", picture, Wanted.Mesh | Wanted.Isometric | Wanted.Views),
                new(Kind.Svg, File(".svg"), "the same picture to enlarge, print and search", picture, Wanted.Mesh | Wanted.Isometric | Wanted.Views),
            ];
            if (extent == Extent.Solid) files.RemoveAll(f => f.Kind == Kind.ThreeMf);
            if (extent == Extent.ForTheFits) files.RemoveAll(f => f.Kind is Kind.Png or Kind.Svg);
            return files;
        }

        private static bool IsUpToDate(OutputFolder folder, RemadeRecord record, Planned planned) =>
            record.Files.FirstOrDefault(f => f.Name == planned.Name) is { } last && last.Input == planned.Input && folder.HashOf(planned.Name) == last.Hash;

        private static string Words(ObservedReading r, PlacedShape shape) => string.Create(CultureInfo.InvariantCulture,
            $"{r.Reading.Id} {r.Reading.Way} {r.Reading.First} {r.Reading.Second} {r.Reading.Across} {r.Reading.AtHeight?.At(shape.Sizes).Value:R} {r.ObservedMm:R}");

        private string StepName() => string.Join(' ', [$"{job.Job.PartName} ({State})", .. JobCautions.Of(job.Job)]);

        // ---- making it --------------------------------------------------------------------------------------------------

        /// <summary>Makes the files that are wanted: print files on one side, pictures on the other, both at once.</summary>
        private async Task<Failure?> WriteAsync(OutputFolder? folder, HashSet<Planned> made, Reconciled reconciled, Recipe recipe, MadeSolid? solid, Lettering? font)
        {
            Task<Result<MadeBytes>> printing = Task.Run(() => PrintFiles(made, recipe, solid), CancellationToken.None);
            Result<MadeBytes> pictures = font is null ? new MadeBytes([]) : Pictures(made, reconciled, recipe, solid!, font);
            Result<MadeBytes> prints = await printing.ConfigureAwait(false);
            if ((prints.Failure ?? pictures.Failure) is { } failure) return failure;
            foreach (var (file, bytes) in prints.Value!.Files.Concat(pictures.Value!.Files)) folder!.Put(file.Name, bytes, cancel);
            return null;
        }

        private sealed record MadeBytes(IReadOnlyList<(Planned File, byte[] Bytes)> Files);

        private Result<MadeBytes> PrintFiles(HashSet<Planned> made, Recipe recipe, MadeSolid? solid)
        {
            var files = new List<(Planned, byte[])>();
            foreach (Planned file in made.Where(p => p.Kind is Kind.ThreeMf or Kind.Stl))
            {
                cancel.ThrowIfCancellationRequested();
                using var bytes = new MemoryStream();
                Problem? problem = file.Kind == Kind.Stl
                    ? Stl.Write(bytes, solid!.Mesh!, StlRemark())
                    : ThreeMfWriter.Write(bytes, solid!.Mesh!, Label(recipe), PictureFile.Thumbnail(solid.Mesh!, solid.Views.First(v => v.Name == ViewName.Isometric).Drawn));
                if (problem is not null) return new Failure(false, [problem.In(file.Name)]);
                files.Add((file, bytes.ToArray()));
            }

            return new MadeBytes(files);
        }

        private Result<MadeBytes> Pictures(HashSet<Planned> made, Reconciled reconciled, Recipe recipe, MadeSolid solid, Lettering font)
        {
            var title = new TitleBlock(job.Job.PartName, job.Job.About ?? "", Identification(recipe), today, _drawing.Fits is null ? State : JobCautions.ForTheFitsInShort, Program);
            if (!SheetLayout.TryCompose(PictureOf.Part(job.Job, reconciled, _drawing.Shape, _drawing.Fits, solid, title), font, out Sheet? sheet, out Problem? cannot)) return Failure.Of(job.Path, [cannot]);
            var files = new List<(Planned, byte[])>();
            foreach (Planned file in made.Where(p => p.Kind is Kind.Png or Kind.Svg))
            {
                cancel.ThrowIfCancellationRequested();
                files.Add((file, file.Kind == Kind.Png ? PictureFile.Png(sheet, font) : Encoding.UTF8.GetBytes(PictureFile.Svg(sheet, font))));
            }

            return new MadeBytes(files);
        }

        /// <summary>Writes text and JSON summaries where they differ from what is there.</summary>
        private bool Summaries(OutputFolder folder, ref Remade remade)
        {
            if (extent != Extent.Everything) return false;
            List<(MadeFile File, Func<Remade, byte[]> Write)> summaries =
            [
                (new("summary.txt", "reading: sizes, contradictions, proof, cautions", true), r => Encoding.UTF8.GetBytes(PlainText.Of(RemadeReport.Of(r, LengthUnit.Millimetre, inFile: true)))),
                (new("summary.json", "other programs: all of it as numbers", true), r => RemadeJson.Of(r, inFile: true)),
            ];
            remade = remade with { Files = [.. remade.Files, .. summaries.Select(s => s.File)] };
            Remade whole = remade;
            var changed = new HashSet<string>();
            foreach (var (file, write) in summaries)
            {
                byte[] content = write(whole);
                if (folder.Read(file.Name) is { } there && there.AsSpan().SequenceEqual(content)) continue;
                folder.Put(file.Name, content, cancel);
                changed.Add(file.Name);
            }

            remade = remade with { Files = [.. remade.Files.Select(f => changed.Contains(f.Name) ? f with { UpToDate = false } : f)] };
            return changed.Count > 0;
        }

        private void Times(double reconcileSeconds, bool factsKept, MadeSolid? solid, List<Planned> planned, HashSet<Planned> made)
        {
            double Of(Stage stage) => solid?.Times.FirstOrDefault(t => t.Stage == stage)?.Seconds ?? 0;
            // Reading and reconciling find out what is up to date, and are always done.
            _times.Add(new(Stage.Read, job.SecondsToRead, factsKept));
            _times.Add(new(Stage.Reconcile, reconcileSeconds, factsKept));
            if (_fitSeconds is { } seconds) _times.Add(new(Stage.Fit, seconds, factsKept));
            _times.Add(new(Stage.Solid, Of(Stage.Solid), solid is null));
            _times.Add(new(Stage.Remeasure, Of(Stage.Remeasure), factsKept));
            _times.Add(new(Stage.Mesh, Of(Stage.Mesh), solid?.Mesh is null));
            if (planned.Count == 0) return;
            _times.Add(new(Stage.Step, Of(Stage.Step), !made.Any(p => p.Kind == Kind.Step)));
            _times.Add(new(Stage.Views, Of(Stage.Views), solid is null || solid.Views.Count == 0));
        }

        // ---- words ---------------------------------------------------------------------------------------------------------

        /// <summary>The same for the same shape at the same sizes, and only then.</summary>
        private static string Identification(Recipe recipe) => recipe.Hash[..12];

        private string StlRemark() => job.Job.CouldInjure.Could ? $"CAUTION could injure; {State}; {job.Job.PartName}" : $"{State}: {job.Job.PartName}";

        private PartLabel Label(Recipe recipe) => new(job.Job.PartName, string.Join(' ', [.. job.Job.About is { } about ? [about] : Array.Empty<string>(), StateInWords, string.Join(' ', Handover.Cautions.Always)]),
            Identification(recipe), today, Program, State)
        { Cautions = JobCautions.Of(job.Job) };

        private Result<Lettering> Letters() => Lettering.TryLoad(fonts, out Lettering? lettering, out Problem? problem) ? lettering : new Failure(false, [$"{problem.What}; {problem.Remedy}"]);

    }

    private static Failure FailureOf(OpenedJob job, SolidProblem problem, Reconciled reconciled)
    {
        PlacedFeature? feature = reconciled.Shape.Features.FirstOrDefault(f => f.Name == problem.Feature);
        return Failure.Of(job.Path, problem, feature?.Place ?? Place.None);
    }
}
