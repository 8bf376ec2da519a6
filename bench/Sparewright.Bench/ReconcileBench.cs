using BenchmarkDotNet.Attributes;
using Sparewright.Part.Record;
using Sparewright.Reconcile;
using Sparewright.Reconcile.Findings;

namespace Sparewright.Bench;

/// <summary>A whole reconciliation after warm-up: from the job in memory to sizes, tests and suspects.</summary>
public class ReconcileBench
{
    private Job _job = null!;

    /// <summary>Sizes × readings.</summary>
    [Params("40x60", "40x120", "40x240", "80x400", "160x800", "400x2000")]
    public string Job { get; set; } = "";

    [GlobalSetup]
    public void MakeJob()
    {
        int[] counts = [.. Job.Split('x').Select(int.Parse)];
        _job = SyntheticJobs.Of(counts[0], counts[1]);
    }

    [Benchmark]
    public Reconciled Reconcile()
    {
        if (Reconciliation.TryReconcile(_job, out Reconciled? reconciled, out var problems)) return reconciled;
        throw new InvalidOperationException(problems[0].What);
    }
}
