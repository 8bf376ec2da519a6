using System.Security.Cryptography;
using System.Text;
using Sparewright.Part.Record;
using Sparewright.Remake;
using Sparewright.Shop;

namespace Sparewright.Web.Desk;

/// <summary>How a piece of long work on a job stands.</summary>
/// <param name="Revision">Of the text that it is done for.</param>
/// <param name="Doing">What is being done; null when nothing is.</param>
/// <param name="Fraction">How far that has come, 0 to 1.</param>
/// <param name="Done">What came of the last run that was carried to its end, or null.</param>
/// <param name="DoneRevision">Of the text that <paramref name="Done"/> came of.</param>
/// <param name="Failure">Why the last run was not.</param>
public sealed record WorkState<T>(int Revision, string? Doing, double Fraction, T? Done, int DoneRevision, Failure? Failure) where T : class
{
    public bool IsRunning => Doing is not null;
}

/// <summary>Work on a job that takes seconds or minutes. It goes on when the window is closed, and can be stopped from any.</summary>
/// <param name="whenStopped">What is said of what there was before, when it was stopped.</param>
public abstract class LongWork<T>(JobId job, TimeProvider clock, string whenStopped) : IDisposable where T : class
{
    private readonly Lock _lock = new();
    private CancellationTokenSource? _stop;

    /// <summary>Raised on any thread after <see cref="State"/> changed.</summary>
    public event Action? Changed;

    public WorkState<T> State { get; private set; } = new(0, null, 0, null, 0, null);

    /// <summary>Begins, unless it is under way.</summary>
    public void Begin(int revision, string text, Job read)
    {
        CancellationToken stop;
        lock (_lock)
        {
            if (State.IsRunning) return;
            _stop?.Dispose();
            _stop = new CancellationTokenSource();
            stop = _stop.Token;
            State = State with { Revision = revision, Doing = "beginning", Fraction = 0, Failure = null };
        }

        Changed?.Invoke();
        _ = Task.Run(() => RunAsync(revision, new OpenedJob($"{job}/job.yaml", read, Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text))), 0), stop), CancellationToken.None);
    }

    /// <summary>Stops what is under way.</summary>
    public void Stop()
    {
        lock (_lock) _stop?.Cancel();
    }

    public void Dispose()
    {
        lock (_lock) _stop?.Dispose();
        GC.SuppressFinalize(this);
    }

    /// <summary>The work itself.</summary>
    /// <exception cref="OperationCanceledException">Stopped.</exception>
    protected abstract Task<Result<T>> WorkAsync(OpenedJob opened, IProgress<StageProgress> progress, CancellationToken stop);

    private async Task RunAsync(int revision, OpenedJob opened, CancellationToken stop)
    {
        WorkState<T> ended;
        try
        {
            Result<T> result = await WorkAsync(opened, new Reporting(this), stop).ConfigureAwait(false);
            ended = result.Value is { } done ? new(revision, null, 0, done, revision, null) : Without(result.Failure);
        }
        catch (OperationCanceledException)
        {
            ended = Without(new Failure(false, [$"stopped; {whenStopped}"]));
        }

        lock (_lock) State = ended;
        Changed?.Invoke();

        WorkState<T> Without(Failure? failure) => State with { Revision = revision, Doing = null, Fraction = 0, Failure = failure };
    }

    /// <summary>Hands progress to the windows: what is newly done at once, how far it has come at most ten times a second.</summary>
    private sealed class Reporting(LongWork<T> work) : IProgress<StageProgress>
    {
        private long _last;

        public void Report(StageProgress value)
        {
            long now = work.Now();
            bool soon = now - Interlocked.Exchange(ref _last, now) < TimeSpan.TicksPerSecond / 10;
            lock (work._lock)
            {
                if (!work.State.IsRunning || soon && value.Doing == work.State.Doing) return;
                work.State = work.State with { Doing = value.Doing, Fraction = value.Fraction };
            }

            work.Changed?.Invoke();
        }
    }

    private long Now() => clock.GetUtcNow().UtcTicks;
}
