using System.Globalization;
using BenchmarkDotNet.Attributes;
using BenchmarkDotNet.Columns;
using BenchmarkDotNet.Configs;
using BenchmarkDotNet.Jobs;
using BenchmarkDotNet.Loggers;
using BenchmarkDotNet.Reports;
using BenchmarkDotNet.Running;
using BenchmarkDotNet.Toolchains.InProcess.Emit;
using Sparewright.Part;
using Sparewright.Reconcile;
using Sparewright.Reconcile.Findings;

namespace Sparewright.Bench;

/// <summary>How big a job.</summary>
public sealed record JobExtent(int Readings, int Sizes, bool OneWrong = false)
{
    public override string ToString() => $"{Readings} readings, {Sizes} sizes{(OneWrong ? ", one reading wrong" : "")}";
}

/// <summary>The whole of reconciling, from the job's records to the findings.</summary>
[MemoryDiagnoser]
public class ReconcileBench
{
    private SyntheticJob? _synthetic;

    public static IEnumerable<JobExtent> Extents =>
    [
        new(60, 40), new(60, 40, OneWrong: true),
        new(2000, 50), new(2000, 100), new(2000, 200), new(2000, 400),
        new(1000, 400), new(500, 400),
        new(2000, 40), new(1000, 40), new(500, 40),
    ];

    [ParamsSource(nameof(Extents))]
    public JobExtent Extent { get; set; } = new(60, 40);

    [GlobalSetup]
    public void SetUp()
    {
        _synthetic = SyntheticJob.Of(Extent.Readings, Extent.Sizes, Extent.OneWrong ? 1 : 0);
        Verify(Reconcile());
    }

    [Benchmark]
    public Reconciled Reconcile() => Reconciliation.TryReconcile(_synthetic!.Job, out Reconciled? reconciled, out IReadOnlyList<Problem> problems)
        ? reconciled
        : throw new InvalidOperationException(string.Join('\n', problems.Select(p => p.What)));

    /// <summary>Nonsense is not timed: the sizes must come out true, or the wrong reading be contradicted.</summary>
    private void Verify(Reconciled reconciled)
    {
        double worstMm = reconciled.Free.Zip(_synthetic!.True, (found, truth) => Math.Abs(found - truth)).Max();
        string[] contradicted = [.. reconciled.Contradictions.SelectMany(c => c.Ids)];
        if (_synthetic.Wrong is { } wrong ? !contradicted.Contains(wrong) : contradicted.Length > 0 || worstMm > 0.06)
            throw new InvalidOperationException(string.Create(CultureInfo.InvariantCulture, $"{Extent}: off by {worstMm:0.000} mm, contradicted: {string.Join(' ', contradicted)}"));
    }

    internal static void Write(bool quick)
    {
        Paper.UnderWay("reconcile: synthetic jobs through BenchmarkDotNet, in this process");
        Job job = (quick ? Job.Dry : Job.Default.WithWarmupCount(3).WithIterationCount(10)).WithToolchain(InProcessEmitToolchain.Instance);
        IConfig config = ManualConfig.CreateEmpty().AddJob(job).AddColumnProvider(DefaultColumnProviders.Instance).AddLogger(quick ? ConsoleLogger.Default : NullLogger.Instance)
            .WithOptions(ConfigOptions.DisableOptimizationsValidator).WithArtifactsPath(Path.Combine(Path.GetTempPath(), "sparewright-bench"));
        Summary summary = BenchmarkRunner.Run<ReconcileBench>(config);
        var found = summary.Reports.ToDictionary(r => (JobExtent)r.BenchmarkCase.Parameters[nameof(Extent)], r => r);
        double Ms(int readings, int sizes, bool oneWrong = false) => found[new(readings, sizes, oneWrong)].ResultStatistics!.Median / 1e6;

        Paper.Heading("Reconcile");
        Paper.Table(["job", "median ms", "goal ms", "allocated KiB"], Extents.Select(e => new[]
        {
            e.ToString(), Paper.Ms(Ms(e.Readings, e.Sizes, e.OneWrong)), e == new JobExtent(60, 40) ? "≤ 5" : "",
            (found[e].GcStats.GetBytesAllocatedPerOperation(found[e].BenchmarkCase) / 1024)?.ToString(CultureInfo.InvariantCulture) ?? "",
        }));
        Paper.Words("Growth, as the ratio of the times to the ratio that the allowed law gives; 1 or less keeps to it:");
        Paper.Table(["step", "time grows ×", "law", "allowed ×", "of the allowed"],
        [
            Grows("sizes 50 → 100 (2000 readings)", Ms(2000, 100) / Ms(2000, 50), "cubic", 8),
            Grows("sizes 100 → 200 (2000 readings)", Ms(2000, 200) / Ms(2000, 100), "cubic", 8),
            Grows("sizes 200 → 400 (2000 readings)", Ms(2000, 400) / Ms(2000, 200), "cubic", 8),
            Grows("readings 500 → 1000 (40 sizes)", Ms(1000, 40) / Ms(500, 40), "linear", 2),
            Grows("readings 1000 → 2000 (40 sizes)", Ms(2000, 40) / Ms(1000, 40), "linear", 2),
            Grows("readings 500 → 1000 (400 sizes)", Ms(1000, 400) / Ms(500, 400), "linear", 2),
            Grows("readings 1000 → 2000 (400 sizes)", Ms(2000, 400) / Ms(1000, 400), "linear", 2),
        ]);
    }

    private static string[] Grows(string step, double ratio, string law, double allowed) => [step, Paper.Ratio(ratio), law, Paper.Ratio(allowed), Paper.Ratio(ratio / allowed)];
}
