using System.Diagnostics;
using System.Globalization;
using System.Text.Json;

namespace Sparewright.Solid;

/// <summary>One running kernel worker: its pipes, its log, its end.</summary>
internal sealed class WorkerProcess : IDisposable
{
    private const int Protocol = 1, LogBytes = 4096;
    private const string BuildAgain = "build it again: `scripts/build tool`";

    private readonly Process _process;
    private readonly WorkerLimits _limits;
    private readonly TaskCompletionSource<int> _ended = new(TaskCreationOptions.RunContinuationsAsynchronously);
    private readonly LogTail _log = new(LogBytes);
    private AnswerReader? _answers;
    private long _lastId;

    private WorkerProcess(Process process, WorkerLimits limits) => (_process, _limits) = (process, limits);

    public int Id => _process.Id;

    /// <summary>What it said of itself; there once it has started.</summary>
    public KernelGreeting? Greeting { get; private set; }

    public bool HasEnded => _ended.Task.IsCompleted;

    /// <summary>The last that it wrote to its log.</summary>
    public string Log => _log.Text;

    /// <summary>True when it has used so much of what it may use that a fresh one should go on.</summary>
    public bool IsWornOut
    {
        get
        {
            try
            {
                _process.Refresh();
                return _process.TotalProcessorTime.TotalSeconds > _limits.CpuSeconds / 2.0 || _process.WorkingSet64 > (long)_limits.MemoryMiB << 19;
            }
            catch (Exception e) when (e is InvalidOperationException or System.ComponentModel.Win32Exception)
            {
                // It has just ended.
                return true;
            }
        }
    }

    /// <summary>Starts a worker and hears its greeting.</summary>
    public static async Task<Outcome<WorkerProcess>> StartAsync(KernelProgram program, WorkerLimits limits, bool allowFaults, CancellationToken cancel)
    {
        var start = new ProcessStartInfo(program.Path) { RedirectStandardInput = true, RedirectStandardOutput = true, RedirectStandardError = true, UseShellExecute = false };
        foreach ((string option, int value) in new[] { ("--parent", Environment.ProcessId), ("--memory-mib", limits.MemoryMiB), ("--cpu-seconds", limits.CpuSeconds) })
        {
            start.ArgumentList.Add(option);
            start.ArgumentList.Add(value.ToString(CultureInfo.InvariantCulture));
        }

        if (allowFaults) start.ArgumentList.Add("--allow-faults");
        var worker = new WorkerProcess(new Process { StartInfo = start }, limits);
        if (await worker.LiveAsync().ConfigureAwait(false) is { } didNotStart)
            return NoWorker($"the kernel worker {program.Path} does not start: {didNotStart}", BuildAgain);
        try
        {
            if (await worker.GreetingAsync(cancel).ConfigureAwait(false) is not { } problem) return worker;
            worker.Dispose();
            return problem with { Log = worker.Log };
        }
        catch (OperationCanceledException)
        {
            worker.Dispose();
            throw;
        }
    }

    /// <summary>Sends one request and waits for its answer. To stop waiting, <see cref="Kill"/>.</summary>
    /// <param name="rest">Writes the request's properties after its number.</param>
    /// <returns>The answer, or null if the worker ended before giving one.</returns>
    /// <exception cref="BadAnswerException">The answer breaks the protocol or is longer than allowed.</exception>
    public async Task<WorkerAnswer?> AskAsync(Action<Utf8JsonWriter> rest, Action<JsonElement> onProgress)
    {
        long id = ++_lastId;
        using var request = new MemoryStream();
        using (var json = new Utf8JsonWriter(request))
        {
            json.WriteStartObject();
            json.WriteNumber("id", id);
            rest(json);
            json.WriteEndObject();
        }

        request.WriteByte((byte)'\n');
        // Sending and hearing go on at once, so that neither side waits on a full pipe.
        Task sending = SendAsync(request.GetBuffer().AsMemory(0, (int)request.Length));
        while (await _answers!.NextAsync().ConfigureAwait(false) is { } answer)
        {
            if (!answer.Root.TryGetProperty("id", out JsonElement answered) || !answered.TryGetInt64(out long about) || about != id)
                throw new BadAnswerException("the worker answered something that was not asked");
            if (!answer.Root.TryGetProperty("progress", out _))
            {
                await sending.ConfigureAwait(false);
                return answer;
            }

            using (answer.Line) onProgress(answer.Root);
        }

        return null;
    }

    /// <summary>How it ended: 128 and more is a signal.</summary>
    public Task<int> EndAsync() => _ended.Task;

    /// <summary>Ends it and all that it started, at once.</summary>
    public void Kill()
    {
        if (HasEnded) return;
        try
        {
            _process.Kill(entireProcessTree: true);
        }
        catch (Exception e) when (e is InvalidOperationException or AggregateException or System.ComponentModel.Win32Exception)
        {
            // It was quicker.
        }
    }

    /// <summary>Ends it; comes back when it is gone.</summary>
    public void Dispose()
    {
        Kill();
        _ended.Task.Wait();
        _process.Dispose();
    }

    private async Task SendAsync(ReadOnlyMemory<byte> request)
    {
        try
        {
            Stream input = _process.StandardInput.BaseStream;
            await input.WriteAsync(request).ConfigureAwait(false);
            await input.FlushAsync().ConfigureAwait(false);
        }
        catch (IOException)
        {
            // It ended; the reading side hears that too, and says how.
        }
    }

    private void GiveWay()
    {
        try
        {
            _process.PriorityClass = ProcessPriorityClass.BelowNormal;
        }
        catch (Exception e) when (e is InvalidOperationException or System.ComponentModel.Win32Exception)
        {
            // It has ended already, which is told elsewhere, or the system does not allow it: then it works beside the others.
        }
    }

    /// <summary>
    /// Starts the process on a thread that stays until the process has ended: Linux tells a child of its parent's death when the *thread* that started it goes.
    /// </summary>
    /// <returns>Why it did not start, or null.</returns>
    private Task<string?> LiveAsync()
    {
        var started = new TaskCompletionSource<string?>(TaskCreationOptions.RunContinuationsAsynchronously);
        new Thread(() =>
        {
            try
            {
                _process.Start();
            }
            catch (System.ComponentModel.Win32Exception e)
            {
                _ended.SetResult(-1);
                started.SetResult(e.Message);
                return;
            }

            if (_limits.GivesWay) GiveWay();
            _process.StandardInput.AutoFlush = false;
            _answers = new AnswerReader(_process.StandardOutput.BaseStream, _limits.AnswerLineBytes, _limits.AnswerBlockBytes);
            Task logging = _log.KeepAsync(_process.StandardError.BaseStream);
            started.SetResult(null);
            _process.WaitForExit();
            int code = _process.ExitCode;
            logging.Wait(TimeSpan.FromSeconds(1));
            _ended.SetResult(code);
        })
        { IsBackground = true, Name = "kernel worker" }.Start();
        return started.Task;
    }

    private async Task<SolidProblem?> GreetingAsync(CancellationToken cancel)
    {
        using var limit = CancellationTokenSource.CreateLinkedTokenSource(cancel);
        limit.CancelAfter(_limits.ToStart);
        await using var killing = limit.Token.Register(Kill).ConfigureAwait(false);
        try
        {
            WorkerAnswer? greeting = await _answers!.NextAsync().ConfigureAwait(false);
            if (greeting is null)
            {
                int code = await EndAsync().ConfigureAwait(false);
                cancel.ThrowIfCancellationRequested();
                return limit.IsCancellationRequested
                    ? NoWorker(string.Create(CultureInfo.InvariantCulture, $"the kernel worker did not greet within {_limits.ToStart.TotalSeconds:0.#} s"), "try again; " + BuildAgain)
                    : NoWorker("the kernel worker ended before its greeting: " + WorkerEnd.InWords(code), BuildAgain);
            }

            using (greeting.Line)
            {
                int protocol = greeting.Root.GetProperty("protocol").GetInt32();
                Greeting = new(protocol, greeting.Root.GetProperty("occt").GetString() ?? "");
                return protocol == Protocol ? null : NoWorker(string.Create(CultureInfo.InvariantCulture, $"the kernel worker speaks protocol {protocol}, and {Protocol} is needed"), BuildAgain);
            }
        }
        catch (Exception e) when (e is BadAnswerException or KeyNotFoundException or InvalidOperationException or FormatException)
        {
            return NoWorker("what was started does not greet as a kernel worker does", $"check {KernelProgram.Variable}, or {BuildAgain}");
        }
    }

    private static SolidProblem NoWorker(string why, string advice) => new(SolidProblemKind.NoWorker, null, why, advice);
}
