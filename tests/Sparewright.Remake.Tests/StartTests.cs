using System.Globalization;
using Sparewright.Handover.Picture;
using Sparewright.Part;
using Sparewright.Part.Elements;
using Sparewright.Part.Record;
using Sparewright.Reconcile;
using Sparewright.Reconcile.Findings;
using Sparewright.Reconcile.Readings;
using Sparewright.Remake.Start;
using Sparewright.Solid;
using Xunit;

namespace Sparewright.Remake.Tests;

public class StartTests
{
    public static TheoryData<string> Patterns => [.. StartingPattern.All.Select(p => p.Name)];

    private static NewJob JobOf(string pattern, string part = "A part") => new(part, "what it does", MadeBy.Moulding, "it broke", null, null, StartingPattern.Find(pattern)!);

    private static Job Read(string text)
    {
        JobReading reading = JobFile.Read(text);
        Assert.True(reading.Job is not null, string.Join('\n', reading.Problems.Select(p => p.In("job.yaml"))));
        return reading.Job!;
    }

    [Theory]
    [MemberData(nameof(Patterns))]
    public void A_new_job_reads_without_a_problem(string pattern)
    {
        Job job = Read(JobOf(pattern).Text());
        Assert.Equal("A part", job.PartName);
        Assert.Equal(MadeBy.Moulding, job.MadeBy);
        Assert.False(job.CouldInjure.Could);
        Assert.Empty(job.Readings);
        Assert.Empty(ShapePlacer.Place(job.Shape, job.Sizes.At(Abouts(job))).Problems);
    }

    [Theory]
    [MemberData(nameof(Patterns))]
    public async Task A_new_job_can_be_remade_and_says_that_nothing_is_measured(string pattern)
    {
        string folder = Directory.CreateTempSubdirectory("sparewright-start-").FullName;
        try
        {
            string path = Path.Combine(folder, "job.yaml"), output = Path.Combine(folder, "out");
            await File.WriteAllTextAsync(path, JobOf(pattern).Text(), TestContext.Current.CancellationToken);
            var pipeline = new RemakePipeline(KernelProgram.Find().OrThrow(), Lettering.UsualFiles, TimeProvider.System);
            Remade made = (await pipeline.RunAsync(OpenedJob.Open(path).Value!, output, Extent.Everything, new Progress<StageProgress>(), TestContext.Current.CancellationToken)).Value!;
            Assert.True(made.Facts.VolumeMm3 > 0);
            Assert.All(made.Reconciled.Sizes, s => Assert.Equal(SizeStatus.Undecided, s.Status));
            Assert.NotEmpty(made.Reconciled.Undecided);
            Assert.Contains("not measured", await File.ReadAllTextAsync(Path.Combine(output, "summary.txt"), TestContext.Current.CancellationToken), StringComparison.Ordinal);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    [Theory]
    [InlineData("\"quoted\" \\ : # {a} [b]")]
    [InlineData("Ü – ⌀12 × 3")]
    [InlineData("- dash")]
    [InlineData("yes")]
    [InlineData("12")]
    public void Any_name_comes_back_as_it_was_typed(string name) => Assert.Equal(name, Read(JobOf("cap", name).Text()).PartName);

    [Fact]
    public void The_caution_comes_back_with_its_reason()
    {
        Job job = Read((JobOf("cap") with { CouldInjure = "it holds a lamp: over a desk", Acknowledged = Injury.Acknowledgement }).Text());
        Assert.True(job.CouldInjure.Could);
        Assert.Equal("it holds a lamp: over a desk", job.CouldInjure.Why);
    }

    /// <summary>What the comments say to measure: a caliper can take every one of these readings, and together they decide every size but the rounds and bevels.</summary>
    [Theory]
    [MemberData(nameof(Patterns))]
    public void What_is_to_be_measured_first_can_be_measured_and_decides_the_sizes(string pattern)
    {
        string[] lines = [.. JobOf(pattern).Text().Split('\n').Select(l => l.StartsWith("# readings:", StringComparison.Ordinal) || l.StartsWith("#   - {", StringComparison.Ordinal) ? l[2..] : l)];
        Job asked = Read(Filled(lines, _ => 1.0));
        PlacedShape shape = ShapePlacer.Place(asked.Shape, asked.Sizes.At(Abouts(asked)));
        var shown = new Queue<double>();
        foreach (CaliperReading reading in asked.Readings.OfType<CaliperReading>())
        {
            CaliperValue value = CaliperGeometry.Of(reading, shape);
            Assert.True(value.Mm is not null, value.Refusal?.What);
            shown.Enqueue(value.Mm!.Value.Value);
        }

        Assert.NotEmpty(shown);
        Job measured = Read(Filled(lines, _ => shown.Dequeue()));
        Assert.True(Reconciliation.TryReconcile(measured, out Reconciled? reconciled, out var problems), string.Join('\n', problems.Select(p => p.What)));
        Assert.Empty(reconciled.Contradictions);
        string[] rounds = ["corner_r", "edge", "edge_r"];
        Assert.All(reconciled.Undecided.SelectMany(u => u.Sizes), s => Assert.Contains(s, rounds));
        // The rounds lie between the gauge leaves that were filled in, and nothing says where.
        foreach (ReconciledSize size in reconciled.Sizes.Where(s => rounds.Contains(s.Name) && s.Status != SizeStatus.Undecided)) Assert.InRange(size.Estimate, 0.5, 3);
        foreach (ReconciledSize size in reconciled.Sizes.Where(s => !rounds.Contains(s.Name))) Assert.Equal(((Part.Sizes.Given.About)measured.Sizes.All.First(s => s.Name == size.Name).Given).Value, size.Estimate, 0.05);
    }

    private static double[] Abouts(Job job) => [.. job.Sizes.Free.Select(s => ((Part.Sizes.Given.About)s.Given).Value)];

    private static string Filled(IEnumerable<string> lines, Func<int, double> shows) => string.Join('\n', lines.Select((line, k) =>
        line.Contains("reads: [ ]", StringComparison.Ordinal) ? line.Replace("[ ]", $"[{shows(k).ToString("0.####", CultureInfo.InvariantCulture)}]", StringComparison.Ordinal) : line.Replace("leaf: [ ]", "leaf: [0.5, 3]", StringComparison.Ordinal)));

    [Fact]
    public void Where_a_part_can_injure_is_asked_in_full() =>
        // The stop list of the job's design: process knowledge, section on cautions.
        Assert.All(["brakes", "steering", "climbing", "child seats", "lifting", "pressure", "gas", "mains insulation", "guards", "medical", "hot water", "toys", "protective"],
            word => Assert.Contains(StopList.Entries, e => e.Contains(word, StringComparison.Ordinal)));
}
