using System.Security.Cryptography;
using System.Text;
using Sparewright.Part.Record;
using Sparewright.Remake;
using Sparewright.Shop;

namespace Sparewright.Web.HandOver;

/// <summary>How the making of a job's files stands.</summary>
/// <param name="Revision">Of the text that they are made from.</param>
/// <param name="Doing">What is being done; null when nothing is.</param>
/// <param name="Fraction">How far that has come, 0 to 1.</param>
/// <param name="Done">What came of the last run that was carried to its end.</param>
/// <param name="Failure">Why the last run was not.</param>
public sealed record MakingState(int Revision, string? Doing, double Fraction, Remade? Done, Failure? Failure)
{
    public bool IsRunning => Doing is not null;
}

/// <summary>Makes a job's files: the main job, in a folder of the shop's data. It goes on when the window is closed, and can be stopped from any.</summary>
public sealed class Making(JobId job, string folder, DoorSettings settings) : IDisposable
{
    private readonly Lock _lock = new();
    private CancellationTokenSource? _stop;

    /// <summary>Raised on any thread after <see cref="State"/> changed.</summary>
    public event Action? Changed;

    public MakingState State { get; private set; } = new(0, null, 0, null, null);

    /// <summary>Where the files lie.</summary>
    public string Folder => folder;

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
            State = new(revision, "beginning", 0, State.Done, null);
        }

        Changed?.Invoke();
        _ = Task.Run(() => MakeAsync(revision, new OpenedJob($"{job}/job.yaml", read, Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text))), 0), stop), CancellationToken.None);
    }

    /// <summary>Stops what is under way; the files stay as they were.</summary>
    public void Stop()
    {
        lock (_lock) _stop?.Cancel();
    }

    public void Dispose()
    {
        lock (_lock) _stop?.Dispose();
    }

    private async Task MakeAsync(int revision, OpenedJob opened, CancellationToken stop)
    {
        MakingState ended;
        try
        {
            Result<Remade> result = await new RemakePipeline(settings.Kernel, settings.Fonts, settings.Clock).RunAsync(opened, folder, Extent.Everything, new Reporting(this), stop).ConfigureAwait(false);
            ended = new(revision, null, 0, result.Value ?? State.Done, result.Failure);
        }
        catch (OperationCanceledException)
        {
            ended = new(revision, null, 0, State.Done, new Failure(false, ["stopped; the files are as they were"]));
        }

        lock (_lock) State = ended;
        Changed?.Invoke();
    }

    /// <summary>Hands progress to the windows, at most ten times a second.</summary>
    private sealed class Reporting(Making making) : IProgress<StageProgress>
    {
        private long _last;

        public void Report(StageProgress value)
        {
            long now = making.Now();
            if (now - Interlocked.Exchange(ref _last, now) < TimeSpan.TicksPerSecond / 10) return;
            lock (making._lock)
            {
                if (!making.State.IsRunning) return;
                making.State = making.State with { Doing = value.Doing, Fraction = value.Fraction };
            }

            making.Changed?.Invoke();
        }
    }

    private long Now() => settings.Clock.GetUtcNow().UtcTicks;
}

/// <summary>The makings of all jobs, each once for all windows.</summary>
public sealed class Makings(DoorSettings settings) : IDisposable
{
    private readonly Lock _lock = new();
    private readonly Dictionary<JobId, Making> _all = [];

    public Making Of(JobId job)
    {
        lock (_lock)
            return _all.TryGetValue(job, out Making? making) ? making : _all[job] = new Making(job, Path.Combine(settings.DataFolder, "outputs", job.Text), settings);
    }

    public void Dispose()
    {
        foreach (Making making in _all.Values) making.Dispose();
    }
}
