using System.Collections.Immutable;
using System.Diagnostics;
using Sparewright.Handover.Picture;
using Sparewright.Part.Elements;
using Sparewright.Solid;

namespace Sparewright.Remake;

/// <summary>What is wanted of the solid.</summary>
[Flags]
internal enum Wanted { Facts = 0, Mesh = 1, Step = 2, Isometric = 4, Views = 8 }

/// <summary>What was made of it; what was not wanted is null or empty.</summary>
internal sealed record MadeSolid(ExactSolid Solid, IReadOnlyList<Remeasured> Remeasured, Mesh? Mesh, IReadOnlyList<NamedView> Views, IReadOnlyList<StageTime> Times);

/// <summary>
/// Builds the solid and what is made from it alone. Two kernel workers share the work: one builds, is guarded, measured, meshed and written as STEP;
/// the other builds the same recipe for the views, which take about as long as all the rest.
/// </summary>
internal sealed class SolidWork(KernelProgram kernel, IProgress<StageProgress> progress, CancellationToken cancel) : IAsyncDisposable
{
    /// <summary>How far triangles may lie from the surface; and how far it may turn across one, which keeps a cylinder's volume within 0.1 % (1 − sin θ/θ).</summary>
    internal const double ChordMm = 0.01, TurnDegrees = 4.4;

    /// <summary>Standing in front of the part: sight, and what points up the page (ISO 5456-2).</summary>
    internal static readonly ImmutableArray<(ViewName Name, Point3 Sight, Point3 Up)> Eyes =
    [
        (ViewName.Isometric, new Point3(-1, 1, -1) * (1 / Math.Sqrt(3)), new Point3(-1, 1, 2) * (1 / Math.Sqrt(6))),
        (ViewName.Front, new(0, 1, 0), new(0, 0, 1)),
        (ViewName.Left, new(1, 0, 0), new(0, 0, 1)),
        (ViewName.Top, new(0, 0, -1), new(0, 1, 0)),
    ];

    private readonly KernelWorker _builder = new(kernel), _drawer = new(kernel);

    /// <summary>Both workers, for whoever has to find out something of the solid before it is made.</summary>
    public IReadOnlyList<KernelWorker> Workers => [_builder, _drawer];

    public async ValueTask DisposeAsync()
    {
        await _builder.DisposeAsync().ConfigureAwait(false);
        await _drawer.DisposeAsync().ConfigureAwait(false);
    }

    /// <param name="stepPath">Where the STEP file is to be written, if one is wanted.</param>
    /// <param name="stepName">What the STEP file says of the part.</param>
    public async Task<Outcome<MadeSolid>> MakeAsync(Recipe recipe, PlacedShape shape, IReadOnlyList<ObservedReading> readings, Wanted wanted, string? stepPath, string stepName)
    {
        // When one side fails the other is of no use any more.
        using var both = CancellationTokenSource.CreateLinkedTokenSource(cancel);
        Task<Outcome<DrawnViews>> drawing = Task.Run(() => StoppingOthers(DrawAsync(recipe, wanted, both.Token), both), CancellationToken.None);
        Task<Outcome<MadeSolid>> building = Task.Run(() => StoppingOthers(BuildAsync(recipe, shape, readings, wanted, stepPath, stepName, both.Token), both), CancellationToken.None);
        try
        {
            await Task.WhenAll(drawing, building).ConfigureAwait(false);
        }
        catch (OperationCanceledException) when (!cancel.IsCancellationRequested)
        {
            // One of the two has the reason.
        }

        if (building.IsCompletedSuccessfully && !building.Result.IsGood) return building.Result;
        if (drawing.IsCompletedSuccessfully && !drawing.Result.IsGood) return drawing.Result.Problem;
        MadeSolid made = (await building.ConfigureAwait(false)).OrThrow();
        DrawnViews drawn = (await drawing.ConfigureAwait(false)).OrThrow();
        return made with { Views = drawn.Views, Times = [.. made.Times, new(Stage.Views, drawn.Seconds, false)] };
    }

    private static async Task<Outcome<T>> StoppingOthers<T>(Task<Outcome<T>> work, CancellationTokenSource both) where T : class
    {
        Outcome<T> outcome = await work.ConfigureAwait(false);
        if (!outcome.IsGood) await both.CancelAsync().ConfigureAwait(false);
        return outcome;
    }

    private async Task<Outcome<MadeSolid>> BuildAsync(Recipe recipe, PlacedShape shape, IReadOnlyList<ObservedReading> readings, Wanted wanted, string? stepPath, string stepName, CancellationToken stop)
    {
        var times = new List<StageTime>();
        var clock = Stopwatch.StartNew();
        Outcome<ExactSolid> built = await _builder.BuildAsync(recipe, fullGuards: true, As(Stage.Solid), stop).ConfigureAwait(false);
        if (!built.IsGood) return built.Problem;
        ExactSolid solid = built.Value;
        times.Add(Done(Stage.Solid));

        progress.Report(new(Stage.Remeasure, 0, "taking every reading again on the solid"));
        Outcome<IReadOnlyList<Remeasured>> again = await VirtualCaliper.TakeAsync(solid, shape, readings, stop).ConfigureAwait(false);
        if (!again.IsGood) return again.Problem;
        times.Add(Done(Stage.Remeasure));

        Mesh? mesh = null;
        if (wanted.HasFlag(Wanted.Mesh))
        {
            progress.Report(new(Stage.Mesh, 0, "laying triangles over the solid"));
            Outcome<Mesh> meshed = await solid.MeshAsync(ChordMm, TurnDegrees, progress: As(Stage.Mesh), cancel: stop).ConfigureAwait(false);
            if (!meshed.IsGood) return meshed.Problem;
            mesh = meshed.Value;
            times.Add(Done(Stage.Mesh));
        }

        if (wanted.HasFlag(Wanted.Step))
        {
            progress.Report(new(Stage.Step, 0, "writing the exact solid"));
            Outcome<string> written = await solid.WriteStepAsync(stepPath!, stepName, cancel: stop).ConfigureAwait(false);
            if (!written.IsGood) return written.Problem;
            times.Add(Done(Stage.Step));
        }

        return new MadeSolid(solid, again.Value, mesh, [], times);

        StageTime Done(Stage stage)
        {
            var time = new StageTime(stage, clock.Elapsed.TotalSeconds, false);
            clock.Restart();
            return time;
        }
    }

    private sealed record DrawnViews(IReadOnlyList<NamedView> Views, double Seconds);

    private async Task<Outcome<DrawnViews>> DrawAsync(Recipe recipe, Wanted wanted, CancellationToken stop)
    {
        var eyes = Eyes.Where(e => wanted.HasFlag(e.Name == ViewName.Isometric ? Wanted.Isometric : Wanted.Views)).ToList();
        if (eyes.Count == 0) return new DrawnViews([], 0);
        var clock = Stopwatch.StartNew();
        // The other worker stands guard over the same recipe.
        Outcome<ExactSolid> built = await _drawer.BuildAsync(recipe, fullGuards: false, cancel: stop).ConfigureAwait(false);
        if (!built.IsGood) return built.Problem;
        var views = new List<NamedView>();
        foreach (var (name, sight, up) in eyes)
        {
            progress.Report(new(Stage.Views, views.Count / (double)eyes.Count, $"drawing the {(name == ViewName.Isometric ? "isometric view" : $"view from the {name.ToString().ToLowerInvariant()}")}"));
            Outcome<DrawnView> drawn = await built.Value.ViewAsync(sight, up, hidden: name != ViewName.Isometric, cancel: stop).ConfigureAwait(false);
            if (!drawn.IsGood) return drawn.Problem;
            views.Add(new NamedView(name, drawn.Value));
        }

        return new DrawnViews(views, clock.Elapsed.TotalSeconds);
    }

    private StepProgress As(Stage stage) => new(stage, progress);

    /// <summary>Hands the worker's progress on under the stage's name, at once and in order.</summary>
    internal sealed class StepProgress(Stage stage, IProgress<StageProgress> onward) : IProgress<SolidProgress>
    {
        public void Report(SolidProgress value) => onward.Report(new(stage, value.Fraction, value.Doing));
    }
}
