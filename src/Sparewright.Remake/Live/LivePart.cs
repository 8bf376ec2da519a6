using Sparewright.Part;
using Sparewright.Part.Record;
using Sparewright.Reconcile;
using Sparewright.Reconcile.Findings;
using Sparewright.Reconcile.Readings;
using Sparewright.Solid;

namespace Sparewright.Remake.Live;

/// <summary>
/// Follows the text of a job while somebody works on it: reads and reconciles at once, and builds the solid behind, always of the newest text.
/// A solid under way is finished, not stopped: stopping would cost the worker and all that it keeps.
/// </summary>
public sealed class LivePart(KernelWorker worker)
{
    /// <summary>How far the display mesh may lie from the surface, and how far it may turn across one triangle.</summary>
    private const double DisplayChordMm = 0.05, DisplayTurnDegrees = 15;

    private readonly Lock _lock = new();
    private Task _building = Task.CompletedTask;
    private (PartVolume Volume, string Shape)? _volume;

    /// <summary>Raised on any thread after <see cref="State"/> changed.</summary>
    public event Action? Changed;

    /// <summary>What the newest text comes to; null before the first.</summary>
    public LiveState? State { get; private set; }

    /// <summary>When no solid is under way any more.</summary>
    public Task Settled
    {
        get { lock (_lock) return _building; }
    }

    /// <summary>Takes a new text: reads and reconciles it before coming back, and has its solid built. A text older than the one in hand is left.</summary>
    public void Follow(int version, string text)
    {
        JobReading reading = JobFile.Read(text);
        IReadOnlyList<Problem> problems = reading.Problems;
        Reconciled? reconciled = null;
        if (reading.Job is { } job && !(KnownOf(job) is { } volume && Reconciliation.TryReconcile(job, out reconciled, out problems, volume: volume)) && !Reconciliation.TryReconcile(job, out reconciled, out problems)) reconciled = null;
        lock (_lock)
        {
            if (State is { } now && now.Version >= version) return;
            State = new LiveState(version, text, reading.Job, reconciled, problems, State?.InView, null, IsBuilding: reconciled is not null);
            if (reconciled is not null && _building.IsCompleted) _building = Task.Run(BuildNewestAsync);
        }

        Changed?.Invoke();
    }

    private async Task BuildNewestAsync()
    {
        while (true)
        {
            LiveState wanted;
            lock (_lock)
            {
                wanted = State!;
                if (!wanted.IsBuilding)
                {
                    // Under the lock, so that the next text finds either this loop or none.
                    _building = Task.CompletedTask;
                    return;
                }
            }

            if (await WeighedAsync(wanted).ConfigureAwait(false) is { } weighed)
            {
                wanted = wanted with { Reconciled = weighed };
                lock (_lock)
                    if (State!.Version == wanted.Version) State = State with { Reconciled = weighed };
            }

            Outcome<PartInView> built = await BuildAsync(wanted).ConfigureAwait(false);
            lock (_lock)
            {
                bool isNewest = State!.Version == wanted.Version;
                State = built.IsGood
                    ? State with { InView = built.Value, IsBuilding = !isNewest && State.IsBuilding }
                    : isNewest ? State with { SolidProblem = InText(built.Problem, wanted.Reconciled!), IsBuilding = false } : State;
            }

            Changed?.Invoke();
        }
    }

    /// <summary>The volume of this shape, as it was found before; null where that was another, or nothing needs it.</summary>
    private PartVolume? KnownOf(Job job)
    {
        if (!PartVolume.IsNeededBy(job)) return null;
        (PartVolume Volume, string Shape)? known;
        lock (_lock) known = _volume;
        return known is { } of && VolumeEvidence.ShapeOf(job, of.Volume.At) == of.Shape ? of.Volume : null;
    }

    /// <summary>The same readings with what the volume of their solid says; null where nothing of them needs it.</summary>
    private async Task<Reconciled?> WeighedAsync(LiveState of)
    {
        if (!PartVolume.IsNeededBy(of.Job!)) return null;
        try
        {
            var (weighed, volume) = await new VolumeEvidence([worker]).ReconcileAsync(of.Job!, of.Reconciled!, KnownOf(of.Job!), CancellationToken.None).ConfigureAwait(false);
            if (volume is null || VolumeEvidence.ShapeOf(of.Job!, volume.At) is not { } shape) return null;
            lock (_lock) _volume = (volume, shape);
            return weighed;
        }
        catch (Exception e) when (e is OperationCanceledException or ObjectDisposedException)
        {
            // The shop is closing; building the solid says so.
            return null;
        }
    }

    private async Task<Outcome<PartInView>> BuildAsync(LiveState of)
    {
        Outcome<Recipe> recipe = Recipe.Of(of.Reconciled!.Shape);
        if (!recipe.IsGood) return recipe.Problem;
        if (of.InView is { } last && last.Key == recipe.Value.Hash) return last with { Version = of.Version, Job = of.Job!, Reconciled = of.Reconciled };
        try
        {
            Outcome<ExactSolid> solid = await worker.BuildAsync(recipe.Value).ConfigureAwait(false);
            if (!solid.IsGood) return solid.Problem;
            Outcome<Mesh> mesh = await solid.Value.MeshAsync(DisplayChordMm, DisplayTurnDegrees).ConfigureAwait(false);
            return mesh.IsGood ? new PartInView(of.Version, recipe.Value.Hash, of.Job!, of.Reconciled, solid.Value, mesh.Value) : mesh.Problem;
        }
        catch (Exception e) when (e is OperationCanceledException or ObjectDisposedException)
        {
            return new SolidProblem(SolidProblemKind.Crashed, null, "the shop is closing", "open the job again");
        }
    }

    private static Problem InText(SolidProblem problem, Reconciled reconciled) => new(
        reconciled.Shape.Features.FirstOrDefault(f => f.Name == problem.Feature)?.Place ?? Place.None,
        problem.Why, problem.Advice ?? "change the sizes or the order of the features");
}
