using System.Diagnostics;
using System.Security.Cryptography;
using Sparewright.Part;
using Sparewright.Part.Record;
using Sparewright.Reconcile;
using Sparewright.Reconcile.Findings;

namespace Sparewright.Remake;

/// <summary>A job read from its folder.</summary>
/// <param name="Path">Its file, as the user would name it.</param>
/// <param name="Hash">SHA-256 of the file, hexadecimal.</param>
public sealed record OpenedJob(string Path, Job Job, string Hash, double SecondsToRead)
{
    /// <summary>Opens a job by its folder or its file.</summary>
    public static Result<OpenedJob> Open(string folderOrFile)
    {
        var clock = Stopwatch.StartNew();
        string path = Directory.Exists(folderOrFile) ? System.IO.Path.Combine(folderOrFile, "job.yaml") : folderOrFile;
        JobReading reading = JobFile.ReadFile(path);
        if (reading.Job is not { } job) return Failure.Of(path, reading.Problems);
        try
        {
            return new OpenedJob(path, job, Convert.ToHexStringLower(SHA256.HashData(File.ReadAllBytes(path))), clock.Elapsed.TotalSeconds);
        }
        catch (IOException e)
        {
            return Failure.Of(e);
        }
    }

    /// <summary>Reconciles its readings.</summary>
    public Result<Reconciled> Reconcile() =>
        Reconciliation.TryReconcile(Job, out Reconciled? reconciled, out IReadOnlyList<Problem> problems) ? reconciled : Failure.Of(Path, problems);
}
