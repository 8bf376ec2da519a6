using System.Diagnostics;
using System.Security.Cryptography;
using Sparewright.Part;
using Sparewright.Part.Record;
using Sparewright.Reconcile;
using Sparewright.Reconcile.Findings;
using Sparewright.Reconcile.Readings;
using Sparewright.Solid;

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

    /// <summary>Reconciles its readings, weights and displaced water among them.</summary>
    /// <param name="kernel">Finds the kernel worker's program, where a volume needs it; without one weights have no say, and the readings' findings say so.</param>
    /// <exception cref="OperationCanceledException">Stopped.</exception>
    public async Task<Result<Reconciled>> ReconcileAsync(Func<Outcome<KernelProgram>> kernel, CancellationToken cancel)
    {
        Result<Reconciled> without = ReconcileWithoutVolume();
        if (without.Value is not { } reconciled || !PartVolume.IsNeededBy(Job) || kernel() is not { IsGood: true } found) return without;
        return (await VolumeEvidence.ReconcileAsync(found.Value, Job, reconciled, cancel).ConfigureAwait(false)).Reconciled;
    }

    /// <summary>What the readings come to without those that speak of the volume.</summary>
    public Result<Reconciled> ReconcileWithoutVolume() =>
        Reconciliation.TryReconcile(Job, out Reconciled? reconciled, out IReadOnlyList<Problem> problems) ? reconciled : Failure.Of(Path, problems);
}
