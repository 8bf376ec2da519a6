using System.Diagnostics;
using System.Globalization;
using System.Text.RegularExpressions;

namespace Sparewright.StoreSoak;

/// <summary>What the trace of a writing program shows.</summary>
/// <param name="Synced">Acknowledgements with a write to the log before them and a finished sync of the log after that write.</param>
/// <param name="WhyNot">Why there is no trace; null when there is one.</param>
public sealed record SyncReport(int Acknowledged, int Synced, string? WhyNot)
{
    public bool IsGood => WhyNot is null && Acknowledged > 0 && Synced == Acknowledged;

    public override string ToString() => WhyNot is null ? $"sqlite: {Synced} of {Acknowledged} acknowledgements came after a sync of the write-ahead log" : $"sqlite: no trace: {WhyNot}";
}

/// <summary>
/// Runs the writing program under strace and reads from the trace whether between the last write to the write-ahead log and each acknowledgement the log was synced.
/// It shows what was asked of the kernel; whether the disk keeps its word no program can see.
/// </summary>
public static partial class SyncTrace
{
    public static SyncReport Run(int writes)
    {
        string folder = Directory.CreateTempSubdirectory("shop-trace-").FullName;
        try
        {
            string trace = Path.Combine(folder, "trace");
            var start = new ProcessStartInfo("strace") { RedirectStandardOutput = true, RedirectStandardError = true };
            foreach (string argument in (string[])["-f", "-y", "-s", "16", "-e", "trace=pwrite64,write,fdatasync,fsync", "-o", trace, "dotnet", Victim.Path, "write", "sqlite", Path.Combine(folder, "shop"), writes.ToString(CultureInfo.InvariantCulture)])
                start.ArgumentList.Add(argument);
            using Process process = Process.Start(start)!;
            Task<string> errors = process.StandardError.ReadToEndAsync();
            process.StandardOutput.ReadToEnd();
            process.WaitForExit();
            return process.ExitCode == 0 ? Read(File.ReadLines(trace)) : new SyncReport(0, 0, errors.Result.Trim());
        }
        catch (System.ComponentModel.Win32Exception)
        {
            return new SyncReport(0, 0, "strace is not here: scripts/setup --tests installs it");
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    /// <summary>Reads a trace of several threads: a call may be told in two lines, with others between them.</summary>
    internal static SyncReport Read(IEnumerable<string> trace)
    {
        int acknowledged = 0, synced = 0;
        bool isWritten = false, isSynced = false;
        int writes = 0;
        // The syncs under way by thread, and how many writes there were when they began.
        var begun = new Dictionary<string, int>();
        foreach (string line in trace)
        {
            if (Call().Match(line) is not { Success: true } call) continue;
            string thread = call.Groups["thread"].Value, name = call.Groups["name"].Value, what = call.Groups["what"].Value;
            bool resumes = call.Groups["resumed"].Success, ofLog = what.Contains("shop.db-wal>", StringComparison.Ordinal), ends = !what.Contains("<unfinished", StringComparison.Ordinal);
            if (name is "pwrite64" or "write" && ofLog)
            {
                (isWritten, isSynced) = (true, false);
                writes++;
            }
            else if (name is "write" && what.Contains("\"ack ", StringComparison.Ordinal))
            {
                acknowledged++;
                if (isWritten && isSynced) synced++;
                (isWritten, isSynced) = (false, false);
            }
            else if (name is "fdatasync" or "fsync")
            {
                if (!resumes && ofLog) begun[thread] = writes;
                if (ends && begun.Remove(thread, out int then) && then == writes && what.EndsWith("= 0", StringComparison.Ordinal)) isSynced = true;
            }
        }

        return new SyncReport(acknowledged, synced, null);
    }

    [GeneratedRegex(@"^(?<thread>\d+)\s+(?:<\.\.\. (?<name>\w+) (?<resumed>resumed)>|(?<name>\w+)\()(?<what>.*)$")]
    private static partial Regex Call();
}
