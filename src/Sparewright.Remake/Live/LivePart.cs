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
    public void Follow(int version, string text) => Follow(version, Reckon(text));

    /// <summary>Takes what a new text comes to, and has its solid built. One older than the one in hand is left.</summary>
    public void Follow(int version, Reckoned reckoned)
    {
        lock (_lock)
        {
            if (State is { } now && now.Version >= version) return;
            State = new LiveState(version, reckoned.Text, reckoned.Job, reckoned.Reconciled, reckoned.Problems, State?.InView, null, IsBuilding: reckoned.Reconciled is not null) { Volume = reckoned.Volume };
            if (reckoned.Reconciled is not null && _building.IsCompleted) _building = Task.Run(BuildNewestAsync);
        }

        Changed?.Invoke();
    }

    /// <summary>Reads and reconciles a text, and does nothing else: whoever keeps it may do so at the same time.</summary>
    public Reckoned Reckon(string text)
    {
        JobReading reading = JobFile.Read(text);
        if (reading.Job is not { } job) return new Reckoned(text, null, null, null, reading.Problems);
        PartVolume? volume = KnownOf(job);
        if (volume is not null && Reconciliation.TryReconcile(job, out Reconciled? weighed, out _, volume: volume)) return new Reckoned(text, job, weighed, volume, []);
        return Reconciliation.TryReconcile(job, out Reconciled? reconciled, out IReadOnlyList<Problem> problems) ? new Reckoned(text, job, reconciled, null, []) : new Reckoned(text, job, null, null, problems);
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

            if (wanted.Volume is null && PartVolume.IsNeededBy(wanted.Job!))
            {
                // A volume that nothing is known of yet takes a solid for each size: meanwhile there is something to look at.
                if (wanted.InView is null && await BuildAsync(wanted).ConfigureAwait(false) is { IsGood: true } first) Show(wanted, first, isLast: false);
                wanted = await WeighedAsync(wanted, KnownOf(wanted.Job!)).ConfigureAwait(false);
            }

            Outcome<PartInView> built = await BuildAsync(wanted).ConfigureAwait(false);
            // The solid to be seen is itself the proof of the volume that was foretold for it.
            if (wanted.Volume is { } volume && built.Value is { Solid.VolumeMm3: var exact } && !VolumeEvidence.IsForetold(volume, wanted.Reconciled!.Free, exact))
            {
                wanted = await WeighedAsync(wanted, volume with { At = wanted.Reconciled.Free, Mm3 = exact }).ConfigureAwait(false);
                built = await BuildAsync(wanted).ConfigureAwait(false);
            }

            Show(wanted, built, isLast: true);
        }
    }

    /// <param name="isLast">Whether nothing further is built for this text.</param>
    private void Show(LiveState wanted, Outcome<PartInView> built, bool isLast)
    {
        // Windows ask for it in a moment, when they have been told.
        if (built.Value is { } drawn) _ = Task.Run(() => drawn.Drawable);
        lock (_lock)
        {
            bool isNewest = State!.Version == wanted.Version, isDone = isNewest && isLast;
            State = built.IsGood
                ? State with { InView = built.Value, IsBuilding = !isDone && State.IsBuilding }
                : isDone ? State with { SolidProblem = InText(built.Problem, wanted.Reconciled!), IsBuilding = false } : State;
        }

        Changed?.Invoke();
    }

    /// <summary>The volume of this shape, as it was found before; null where that was another, or nothing needs it.</summary>
    private PartVolume? KnownOf(Job job)
    {
        if (!PartVolume.IsNeededBy(job)) return null;
        (PartVolume Volume, string Shape)? known;
        lock (_lock) known = _volume;
        return known is { } of && VolumeEvidence.ShapeOf(job, of.Volume.At) == of.Shape ? of.Volume : null;
    }

    /// <summary>The same with what the volume of its solid says of its sizes, where readings speak of it; as it is where none do, or there is no solid.</summary>
    /// <param name="near">What was found of the volume of this shape before; null where nothing was.</param>
    private async Task<LiveState> WeighedAsync(LiveState of, PartVolume? near)
    {
        if (!PartVolume.IsNeededBy(of.Job!)) return of;
        try
        {
            var (weighed, volume) = await new VolumeEvidence([worker]).ReconcileAsync(of.Job!, of.Reconciled!, near, CancellationToken.None).ConfigureAwait(false);
            if (volume is null || VolumeEvidence.ShapeOf(of.Job!, volume.At) is not { } shape) return of;
            lock (_lock)
            {
                _volume = (volume, shape);
                if (State!.Version == of.Version) State = State with { Reconciled = weighed, Volume = volume };
            }

            return of with { Reconciled = weighed, Volume = volume };
        }
        catch (Exception e) when (e is OperationCanceledException or ObjectDisposedException)
        {
            // The shop is closing; building the solid says so.
            return of;
        }
    }

    private async Task<Outcome<PartInView>> BuildAsync(LiveState of)
    {
        Outcome<Recipe> recipe = Recipe.Of(of.Reconciled!.Shape);
        if (!recipe.IsGood) return recipe.Problem;
        if (State!.InView is { } last && last.Key == recipe.Value.Hash) return last with { Version = of.Version, Job = of.Job!, Reconciled = of.Reconciled };
        try
        {
            Outcome<ExactSolid> solid = await worker.BuildAsync(recipe.Value).ConfigureAwait(false);
            if (!solid.IsGood) return solid.Problem;
            Outcome<Mesh> mesh = await solid.Value.MeshAsync(ExactSolid.GuardChordMm, ExactSolid.GuardTurnDegrees).ConfigureAwait(false);
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
