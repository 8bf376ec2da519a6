using System.Diagnostics;
using System.Globalization;
using System.Security.Cryptography;
using System.Text.Json;

namespace Sparewright.Solid;

/// <summary>
/// The kernel worker, kept warm: one request at a time, each within its time; a worker that crashes or hangs costs one clear error and is replaced.
/// What has brought it down twice is not tried a third time.
/// </summary>
public sealed class KernelWorker : IAsyncDisposable
{
    private const int MostTries = 2;
    private static readonly TimeSpan Grace = TimeSpan.FromMilliseconds(500);

    private readonly KernelProgram _program;
    private readonly WorkerLimits _limits;
    private readonly bool _allowFaults;
    private readonly SemaphoreSlim _gate = new(1, 1);
    private readonly CancellationTokenSource _closing = new();
    private readonly Dictionary<string, (int Times, SolidProblem Problem)> _broughtDown = new(StringComparer.Ordinal);
    private WorkerProcess? _process;

    /// <summary>Starts nothing yet: the first request does.</summary>
    /// <param name="allowFaults">Whether the worker may be told to crash, hang or eat memory: for tests.</param>
    public KernelWorker(KernelProgram program, WorkerLimits? limits = null, bool allowFaults = false) =>
        (_program, _limits, _allowFaults) = (program, limits ?? new WorkerLimits(), allowFaults);

    /// <summary>The running process, or null when there is none just now.</summary>
    public int? ProcessId => _process is { HasEnded: false } running ? running.Id : null;

    /// <summary>Starts a worker if there is none, and hears what it says of itself.</summary>
    /// <exception cref="OperationCanceledException">Cancelled.</exception>
    public async Task<Outcome<KernelGreeting>> GreetAsync(CancellationToken cancel = default)
    {
        ObjectDisposedException.ThrowIf(_closing.IsCancellationRequested, this);
        using var stopping = CancellationTokenSource.CreateLinkedTokenSource(cancel, _closing.Token);
        await _gate.WaitAsync(stopping.Token).ConfigureAwait(false);
        try
        {
            return await StartedAsync(stopping.Token).ConfigureAwait(false) is { } problem ? problem : _process!.Greeting!;
        }
        finally
        {
            _gate.Release();
        }
    }

    /// <summary>Builds the solid.</summary>
    /// <param name="fullGuards">Whether rounds and the final solid are also meshed to see that the mesh is closed and holds the right volume.</param>
    /// <exception cref="OperationCanceledException">Cancelled; the worker is gone within a second.</exception>
    public async Task<Outcome<ExactSolid>> BuildAsync(Recipe recipe, bool fullGuards = true, IProgress<SolidProgress>? progress = null, CancellationToken cancel = default)
    {
        void Request(Utf8JsonWriter json)
        {
            json.WriteString("do", "build");
            json.WritePropertyName("recipe");
            recipe.WriteTo(json);
            json.WriteBoolean("fullGuards", fullGuards);
        }

        Outcome<WorkerAnswer> answer = await AskAsync(Request, progress, cancel).ConfigureAwait(false);
        if (!answer.IsGood) return answer.Problem;
        using (answer.Value.Line)
            return new ExactSolid(this, answer.Value.Root, again => BuildAsync(recipe, fullGuards: false, null, again));
    }

    /// <summary>Reads the solid in a STEP file.</summary>
    /// <exception cref="OperationCanceledException">Cancelled.</exception>
    public async Task<Outcome<ExactSolid>> ReadStepAsync(string path, CancellationToken cancel = default)
    {
        void Request(Utf8JsonWriter json)
        {
            json.WriteString("do", "readStep");
            json.WriteString("path", Path.GetFullPath(path));
        }

        Outcome<WorkerAnswer> answer = await AskAsync(Request, null, cancel).ConfigureAwait(false);
        if (!answer.IsGood) return answer.Problem;
        using (answer.Value.Line)
            return new ExactSolid(this, answer.Value.Root, again => ReadStepAsync(path, again));
    }

    /// <summary>Ends the worker, and with it any request under way, which comes back cancelled.</summary>
    public async ValueTask DisposeAsync()
    {
        if (_closing.IsCancellationRequested) return;
        await _closing.CancelAsync().ConfigureAwait(false);
        await _gate.WaitAsync().ConfigureAwait(false);
        DropProcess();
        _gate.Release();
    }

    /// <summary>Asks one thing; starts a worker when there is none, and tries once more when it goes down over it.</summary>
    /// <param name="request">Writes the request, all but its number and time limit.</param>
    internal async Task<Outcome<WorkerAnswer>> AskAsync(Action<Utf8JsonWriter> request, IProgress<SolidProgress>? progress, CancellationToken cancel)
    {
        ObjectDisposedException.ThrowIf(_closing.IsCancellationRequested, this);
        using var stopping = CancellationTokenSource.CreateLinkedTokenSource(cancel, _closing.Token);
        await _gate.WaitAsync(stopping.Token).ConfigureAwait(false);
        try
        {
            string hash = HashOf(request);
            if (_broughtDown.TryGetValue(hash, out var before) && before.Times >= MostTries) return before.Problem;
            var clock = Stopwatch.StartNew();
            while (true)
            {
                TimeSpan left = _limits.PerRequest - clock.Elapsed;
                Outcome<WorkerAnswer> answer = await TryAsync(request, left, progress, stopping.Token).ConfigureAwait(false);
                if (answer.IsGood || answer.Problem.Kind is not (SolidProblemKind.Crashed or SolidProblemKind.Memory or SolidProblemKind.Time)) return answer;
                int times = _broughtDown.GetValueOrDefault(hash).Times + 1;
                _broughtDown[hash] = (times, answer.Problem);
                // What has used up its time would only do so again.
                if (times >= MostTries || answer.Problem.Kind == SolidProblemKind.Time) return answer;
            }
        }
        finally
        {
            _gate.Release();
        }
    }

    private async Task<Outcome<WorkerAnswer>> TryAsync(Action<Utf8JsonWriter> request, TimeSpan left, IProgress<SolidProgress>? progress, CancellationToken cancel)
    {
        if (left <= TimeSpan.Zero) return TimeIsOver(null);
        if (await StartedAsync(cancel).ConfigureAwait(false) is { } notStarted) return notStarted;
        WorkerProcess process = _process!;
        SolidProgress last = default;
        void Heard(JsonElement line)
        {
            last = new(line.GetProperty("progress").GetDouble(), line.GetProperty("doing").GetString() ?? "", line.TryGetProperty("feature", out JsonElement f) ? f.GetString() : null);
            progress?.Report(last);
        }

        void Whole(Utf8JsonWriter json)
        {
            request(json);
            json.WriteNumber("deadlineMs", Math.Ceiling(left.TotalMilliseconds));
        }

        using var limit = CancellationTokenSource.CreateLinkedTokenSource(cancel);
        // The worker is given the chance to stop by itself; it keeps its solids then.
        limit.CancelAfter(left + Grace);
        Outcome<WorkerAnswer> outcome;
        bool keeps = true;
        await using (limit.Token.Register(process.Kill).ConfigureAwait(false))
        {
            try
            {
                WorkerAnswer? told = await process.AskAsync(Whole, Heard).ConfigureAwait(false);
                if (told is not null && told.Root.GetProperty("ok").GetBoolean()) return told;
                if (told is null) outcome = Ended(await process.EndAsync().ConfigureAwait(false), last, process.Log);
                else
                    using (told.Line) outcome = Told(told.Root.GetProperty("error"));
            }
            catch (Exception e) when (e is BadAnswerException or KeyNotFoundException or InvalidOperationException or FormatException)
            {
                outcome = new SolidProblem(SolidProblemKind.Misunderstood, null, $"the kernel worker cannot be understood: {e.Message}", "build it again: `scripts/build tool`") { Log = process.Log };
                keeps = false;
            }
        }

        // One that ran out of memory holds solids that the next request has no use for.
        keeps &= outcome.Problem!.Kind is not (SolidProblemKind.Crashed or SolidProblemKind.Memory) && !limit.IsCancellationRequested;
        if (!keeps) DropProcess();
        cancel.ThrowIfCancellationRequested();
        return limit.IsCancellationRequested ? TimeIsOver(last.Feature) with { Log = process.Log } : outcome;
    }

    /// <summary>Makes sure that a worker runs that can go on.</summary>
    /// <returns>Why there is none, or null.</returns>
    private async Task<SolidProblem?> StartedAsync(CancellationToken cancel)
    {
        if (_process is { HasEnded: true } or { IsWornOut: true }) DropProcess();
        if (_process is not null) return null;
        Outcome<WorkerProcess> started = await WorkerProcess.StartAsync(_program, _limits, _allowFaults, cancel).ConfigureAwait(false);
        _process = started.Value;
        return started.Problem;
    }

    private SolidProblem TimeIsOver(string? feature) => new(SolidProblemKind.Time, feature,
        string.Create(CultureInfo.InvariantCulture, $"{(feature is null ? "the solid" : feature)} was not done within {_limits.PerRequest.TotalSeconds:0.#} s"),
        feature is null ? "make the part simpler, or allow more time" : $"change {feature}, or allow more time");

    private static SolidProblem Ended(int exitCode, SolidProgress last, string log)
    {
        string during = last.Feature ?? last.Doing ?? "";
        string why = WorkerEnd.InWords(exitCode);
        return new(SolidProblemKind.Crashed, last.Feature, during.Length == 0 ? why : $"{during}: {why}",
            last.Feature is null ? "try again; if it stays so, change the last thing that you changed" : $"change {last.Feature} a little, or put it elsewhere in the list")
        { Log = log };
    }

    /// <summary>A refusal in the worker's own words.</summary>
    private static SolidProblem Told(JsonElement error)
    {
        string kind = error.GetProperty("kind").GetString() ?? "", why = error.GetProperty("why").GetString() ?? "";
        return new(kind switch
        {
            "refused" => SolidProblemKind.Refused,
            "failed" => SolidProblemKind.Failed,
            "wrong" => SolidProblemKind.Wrong,
            "missing" => SolidProblemKind.Missing,
            "memory" => SolidProblemKind.Memory,
            "cancelled" => SolidProblemKind.Time,
            _ => SolidProblemKind.Misunderstood,
        }, error.GetProperty("feature").GetString(), why, error.GetProperty("advice").GetString());
    }

    private void DropProcess()
    {
        _process?.Dispose();
        _process = null;
    }

    private static string HashOf(Action<Utf8JsonWriter> request)
    {
        using var bytes = new MemoryStream();
        using (var json = new Utf8JsonWriter(bytes))
        {
            json.WriteStartObject();
            request(json);
            json.WriteEndObject();
        }

        return Convert.ToHexStringLower(SHA256.HashData(bytes.GetBuffer().AsSpan(0, (int)bytes.Length)));
    }
}
