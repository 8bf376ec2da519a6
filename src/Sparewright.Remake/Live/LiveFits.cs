using Sparewright.Reconcile.Findings;
using Sparewright.Remake.Fits;
using Sparewright.Remake.Ladders;

namespace Sparewright.Remake.Live;

/// <summary>What a job's fits come to at this moment.</summary>
/// <param name="Version">Of the newest text.</param>
/// <param name="Found">The last fits that could be judged, perhaps of an earlier version; null before the first, and where they cannot be judged.</param>
/// <param name="Ladders">The gauges for each of them, in the same order.</param>
/// <param name="FoundVersion">Of the text that <paramref name="Found"/> belongs to.</param>
/// <param name="Failure">Why this version's cannot be judged.</param>
/// <param name="IsFinding">Whether this version's are still being worked out.</param>
public sealed record FitState(int Version, FoundFits? Found, IReadOnlyList<PlannedLadder> Ladders, int FoundVersion, Failure? Failure, bool IsFinding)
{
    /// <summary>True when what was found does not belong to the text as it stands.</summary>
    public bool IsOutOfDate => Found is not null && FoundVersion != Version;
}

/// <summary>Follows a job while somebody works on it, and works out its fits behind, always of the newest text; what is under way of an older one is given up.</summary>
public sealed class LiveFits : IDisposable
{
    /// <summary>Entries come in bursts; only the last of them is worth the work.</summary>
    private static readonly TimeSpan Pause = TimeSpan.FromSeconds(0.2);

    /// <summary>How long they wait for what goes first.</summary>
    private static readonly TimeSpan LongestWait = TimeSpan.FromSeconds(2);

    private readonly Lock _lock = new();
    private CancellationTokenSource? _stop;
    private Task _finding = Task.CompletedTask;
    private Reconciled? _of;

    /// <summary>Raised on any thread after <see cref="State"/> changed.</summary>
    public event Action? Changed;

    public FitState State { get; private set; } = new(int.MinValue, null, [], int.MinValue, null, false);

    /// <summary>When nothing is being worked out any more.</summary>
    public Task Settled
    {
        get { lock (_lock) return _finding; }
    }

    /// <summary>Takes what a newer text comes to and begins; comes back at once.</summary>
    /// <param name="first">What people wait for more, such as the picture: the fits begin when it is done, or takes long.</param>
    public void Follow(LiveState live, Task first)
    {
        lock (_lock)
        {
            // A text that is weighed comes to other sizes a moment later.
            if (live.Version < State.Version || (live.Version == State.Version && ReferenceEquals(live.Reconciled, _of))) return;
            _of = live.Reconciled;
            _stop?.Cancel();
            if (live is { Job: { } job, Reconciled: { } reconciled })
            {
                _stop = new CancellationTokenSource();
                CancellationToken stop = _stop.Token;
                Task before = _finding;
                State = State with { Version = live.Version, Failure = null, IsFinding = true };
                _finding = Task.Run(() => FindAsync(before, first, live.Version, new OpenedJob("job.yaml", job, "", 0), reconciled, stop), CancellationToken.None);
            }
            else
            {
                State = new(live.Version, null, [], int.MinValue, null, false);
            }
        }

        Changed?.Invoke();
    }

    public void Dispose()
    {
        lock (_lock) _stop?.Cancel();
    }

    private async Task FindAsync(Task before, Task first, int version, OpenedJob job, Reconciled reconciled, CancellationToken stop)
    {
        await before.ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
        try
        {
            await Task.WhenAny(first, Task.Delay(LongestWait, stop)).ConfigureAwait(false);
            await Task.Delay(Pause, stop).ConfigureAwait(false);
            Result<FoundFits> result = FitWork.Find(job, reconciled, cancel: stop);
            if (result.Value is not { } found)
            {
                Tell(version, now => new(version, null, [], int.MinValue, result.Failure, false));
                return;
            }

            stop.ThrowIfCancellationRequested();
            IReadOnlyList<PlannedLadder> ladders = PlannedLadder.Of(found);
            Tell(version, now => now with { Found = found, Ladders = ladders, FoundVersion = version, IsFinding = false });
        }
        catch (OperationCanceledException)
        {
            // A newer text is being followed.
        }
    }

    private void Tell(int version, Func<FitState, FitState> change)
    {
        lock (_lock)
        {
            if (State.Version != version) return;
            State = change(State);
        }

        Changed?.Invoke();
    }
}
