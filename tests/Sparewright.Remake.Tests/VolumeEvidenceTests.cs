using Sparewright.Part;
using Sparewright.Part.Record;
using Sparewright.Reconcile;
using Sparewright.Reconcile.Findings;
using Sparewright.Reconcile.Readings;
using Sparewright.Remake.Live;
using Sparewright.Solid;
using Xunit;

namespace Sparewright.Remake.Tests;

/// <summary>Weights and displaced water as evidence, against closed forms of simple solids.</summary>
public class VolumeEvidenceTests
{
    private static readonly CancellationToken Never = CancellationToken.None;

    /// <summary>A drilled block; its caliper cannot reach the bottom of the hole.</summary>
    private static Job Drilled(string readings, string madeBy = "moulding") => Read(TextOf(readings, madeBy));

    private static string TextOf(string readings, string madeBy = "moulding") => $$$"""
        sparewright: 1
        part: drilled block
        made_by: {{{madeBy}}}
        could_injure: no
        instruments:
          caliper: {kind: digital caliper, resolution: 0.01, mpe: 0.03, zero_error: 0.00, inside_jaw_flat: 0}
          scale: {kind: scale, resolution: 0.01 g, mpe: 0.02 g, zero_error: 0 g}
        sizes: {w: {about: 30}, d: {about: 10}, deep: {about: 12}}
        shape:
          - block: body
            long: w
            deep: 25 mm
            tall: 20 mm
            corner_at: [0, 0, 0]
          - hole: bore
            from: body.top
            at: [15, 12.5]
            diameter: d
            depth: deep
        readings:
          - {outside: [body.left, body.right], reads: 30.00}
          - {inside: bore.wall, reads: 10.00}
        {{{readings}}}
        """;

    private static Job Read(string text)
    {
        JobReading read = JobFile.Read(text);
        Assert.Empty(read.Problems.Select(p => p.In("job.yaml")));
        return read.Job!;
    }

    private static Reconciled Without(Job job)
    {
        bool done = Reconciliation.TryReconcile(job, out Reconciled? reconciled, out IReadOnlyList<Problem> problems);
        Assert.True(done, string.Join('\n', problems.Select(p => p.What)));
        return reconciled!;
    }

    private static async Task<(Reconciled Reconciled, PartVolume Volume)> With(Job job, PartVolume? near = null)
    {
        await using var worker = new KernelWorker(KernelProgram.Find().OrThrow());
        var (reconciled, volume) = await new VolumeEvidence([worker]).ReconcileAsync(job, Without(job), near, Never);
        Assert.NotNull(volume);
        return (reconciled, volume);
    }

    private static double VolumeOf(double w, double d, double deep) => w * 25 * 20 - Math.PI * d * d / 4 * deep;

    private static ReconciledSize Size(Reconciled reconciled, string name) => reconciled.Sizes.Single(s => s.Name == name);

    [Fact]
    public async Task The_volume_and_its_derivatives_are_those_of_the_solid()
    {
        await using var worker = new KernelWorker(KernelProgram.Find().OrThrow());
        PartVolume volume = (await new VolumeEvidence([worker]).NearAsync(Drilled("  - {weight: whole, reads: 10 g, density: 1.05 ± 0.02}"), [30, 10, 12], Never))!;
        Assert.Equal(VolumeOf(30, 10, 12), volume.Mm3, 1e-6);
        Assert.Equal(500, volume.BySize[0], 1e-4);
        // To one side, and the volume goes with the square of the diameter.
        Assert.Equal(-Math.PI * 10 / 2 * 12, volume.BySize[1], 0.1);
        Assert.Equal(-Math.PI * 25, volume.BySize[2], 1e-4);
    }

    [Fact]
    public async Task A_weight_decides_a_depth_that_no_rod_reached()
    {
        // As if the hole were 13.2 mm deep, 1.2 mm deeper than supposed.
        double grams = 1.05 / 1000 * VolumeOf(30, 10, 13.2);
        Job job = Drilled(FormattableString.Invariant($"  - {{weight: whole, reads: {grams:R} g, density: 1.05 ± 0.01}}"));
        Assert.Equal(SizeStatus.Undecided, Size(Without(job), "deep").Status);
        ReconciledReading before = Without(job).Readings[2];
        Assert.Equal("not used yet: it needs the volume of the exact solid", before.WhyNotUsed);
        Assert.Equal(ReadingVerdict.Compared, before.Verdict);

        var (reconciled, volume) = await With(job);
        ReconciledSize deep = Size(reconciled, "deep");
        Assert.Equal(13.2, deep.Estimate, 2e-4);
        ReconciledReading weight = reconciled.Readings[2];
        Assert.Equal(grams, weight.Observed!.Value, 1e-12);
        Assert.Equal(grams, weight.Adjusted!.Value, 1e-6);

        // By hand: u(deep) = √(u(m)² + (∂m/∂w·u(w))² + (∂m/∂d·u(d))²) / |∂m/∂deep|.
        double rho = 1.05 / 1000, byW = rho * 500, byD = -rho * Math.PI * 10 / 2 * 13.2, byDeep = -rho * Math.PI * 25;
        double u = Math.Sqrt(Math.Pow(weight.Budget!.StandardUncertaintyMm, 2) + Math.Pow(byW * Size(reconciled, "w").StandardUncertainty, 2) + Math.Pow(byD * Size(reconciled, "d").StandardUncertainty, 2)) / Math.Abs(byDeep);
        Assert.Equal(u, deep.StandardUncertainty, 0.002 * u);
        Assert.Contains(weight.Budget!.Lines, l => l.Name == "density" && Math.Abs(l.StandardUncertaintyMm - grams * 0.005 / 1.05) < 1e-12);

        // What was found of the volume before serves again, as it is where the sizes come out the same.
        var (again, same) = await With(job, volume);
        Assert.Same(volume, same);
        Assert.Equal(deep.Estimate, Size(again, "deep").Estimate, 1e-4);
    }

    /// <summary>Every weighing has its own scatter, all have the scale's shift in common.</summary>
    [Fact]
    public async Task Fragments_weighed_one_by_one_come_to_the_whole()
    {
        double grams = 1.05 / 1000 * VolumeOf(30, 10, 13.2);
        string Weights(params double[] each) => $"  - {{weights: {{{string.Join(", ", each.Select((g, k) => FormattableString.Invariant($"f{k}: {g:R} g")))}}}, density: 1.05 ± 0.01}}";
        var (reconciled, _) = await With(Drilled(Weights(4, 3, grams - 7)));
        Assert.Equal(13.2, Size(reconciled, "deep").Estimate, 2e-4);
        var (whole, _) = await With(Drilled(FormattableString.Invariant($"  - {{weight: whole, reads: {grams:R} g, density: 1.05 ± 0.01}}")));
        double Of(Reconciled r, string line) => r.Readings[2].Budget!.Lines.Single(l => l.Name == line).StandardUncertaintyMm;
        Assert.Equal(Math.Sqrt(3) * Of(whole, "repeatability"), Of(reconciled, "repeatability"), 1e-12);
        Assert.Equal(3 * Of(whole, "permissible error, as a shift"), Of(reconciled, "permissible error, as a shift"), 1e-12);
        Assert.Equal(Of(whole, "density"), Of(reconciled, "density"), 1e-12);
        Assert.Contains("weights of f0, f1 and f2", reconciled.Readings[2].Says, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("ml", 1000.0)]
    [InlineData("g", 1000 / 0.998)]
    public async Task Displaced_water_decides_it_too_by_rise_or_by_weight(string unit, double mm3PerUnit)
    {
        double reads = VolumeOf(30, 10, 12.5) / mm3PerUnit;
        var (reconciled, _) = await With(Drilled(FormattableString.Invariant($"  - {{displacement: whole, reads: {reads:R} {unit}}}")));
        Assert.Equal(12.5, Size(reconciled, "deep").Estimate, 2e-4);
        ReconciledReading water = reconciled.Readings[2];
        Assert.Equal(unit == "g", water.Budget!.Lines.Any(l => l.Name == "density of water"));
        Assert.Contains(water.Budget!.Lines, l => l.Name == "bubbles, thread and meniscus");
    }

    [Fact]
    public async Task A_weight_with_swapped_digits_is_set_aside_and_explained()
    {
        double grams = Math.Round(1.05 / 1000 * VolumeOf(30, 10, 12), 2);
        Assert.Equal(14.76, grams);
        var (reconciled, _) = await With(Drilled("  - {depth: [body.top, bore.end], reads: [12.00, 12.01]}\n  - {weight: whole, reads: 17.46 g, density: 1.05 ± 0.01}\n  - {displacement: whole, reads: 14.03 g, with: scale}"));
        ReconciledReading wrong = reconciled.Readings[3];
        Assert.Equal(ReadingVerdict.SetAside, wrong.Verdict);
        Assert.Equal("two digits swapped", wrong.Explanations[0].Why);
        Assert.Equal(14.76, wrong.Explanations[0].ShouldHaveReadMm!.Value, 1e-9);
        Assert.Contains("17.46 g", Assert.Single(reconciled.Contradictions).Words, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("  - {depth: [body.top, bore.end], reads: 12}\n  - {weight: whole, reads: 14 g, density: 1.05 ± 0.01}", "printing", "not used: a printed part may be hollow inside")]
    [InlineData("  - {depth: [body.top, bore.end], reads: 12}\n  - {weight: tip, reads: 14 g, density: 1.05 ± 0.01}", "moulding", "not used: the shape does not say where the part broke; weigh all fragments, together or each (`weights`)")]
    public async Task What_the_shape_says_nothing_of_is_not_used_and_that_is_said(string readings, string madeBy, string why)
    {
        Job job = Drilled(readings, madeBy);
        Assert.False(PartVolume.IsNeededBy(job));
        var (reconciled, volume) = await VolumeEvidence.ReconcileAsync(KernelProgram.Find().OrThrow(), job, Without(job), Never);
        Assert.Null(volume);
        Assert.Equal(why, reconciled.Readings[3].WhyNotUsed);
    }

    /// <summary>A weight says next to nothing of a round; by itself it would make it smaller than nothing, and the leaves must bring it back.</summary>
    [Fact]
    public async Task A_weight_that_hardly_knows_a_round_leaves_it_between_its_leaves()
    {
        Job job = Read("""
            sparewright: 1
            part: rounded block
            could_injure: no
            sizes: {w: {about: 30}, r: {about: 0.9}}
            shape:
              - block: body
                long: w
                deep: 25 mm
                tall: 20 mm
                corner_at: [0, 0, 0]
              - edge_round: soft
                edges_of: body
                radius: r
            readings:
              - {outside: [body.left, body.right], reads: 30.00}
              - {radius_gauge: soft, leaf: [0.75, 1.0]}
              - {weight: whole, reads: 15.9 g, density: 1.05 ± 0.02}
            """);
        var (reconciled, _) = await With(job);
        Assert.Equal(0.875, Size(reconciled, "r").Estimate, 0.02);
        Assert.Equal(ReadingVerdict.Compared, reconciled.Readings[1].Verdict);
        Assert.Equal(ReadingVerdict.Agrees, reconciled.Readings[2].Verdict);
    }

    [Fact]
    public async Task Where_no_solid_can_be_built_the_readings_stay_without_a_say()
    {
        Job job = Drilled("  - {depth: [body.top, bore.end], reads: 12}\n  - {weight: whole, reads: 14 g, density: 1.05 ± 0.01}");
        var (reconciled, volume) = await VolumeEvidence.ReconcileAsync(new KernelProgram("/nowhere/sparewright-kernel"), job, Without(job), Never);
        Assert.Null(volume);
        Assert.NotNull(reconciled.Readings[3].WhyNotUsed);
    }

    /// <summary>While somebody works on the text, the weight counts as soon as the solid is there; a reading that changes afterwards is answered with it at once, a shape that changes is looked at anew.</summary>
    [Fact]
    public async Task The_part_that_is_worked_on_is_weighed_too()
    {
        static string Text(double grams, string tall = "20 mm") => TextOf(FormattableString.Invariant($"  - {{weight: whole, reads: {grams:R} g, density: 1.05 ± 0.01}}")).Replace("20 mm", tall, StringComparison.Ordinal);
        static double Grams(double deep, double tall = 20, double d = 10) => 1.05 / 1000 * (30 * 25 * tall - Math.PI * d * d / 4 * deep);
        await using var worker = new KernelWorker(KernelProgram.Find().OrThrow());
        var live = new LivePart(worker);
        double Deep() => Size(live.State!.Reconciled!, "deep").Estimate;

        var shown = new List<LiveState>();
        live.Changed += () => shown.Add(live.State!);
        live.Follow(1, Text(Grams(13.2)));
        await live.Settled;
        // There is something to look at before the volume is known with its derivatives.
        Assert.Equal([(false, false, true), (true, false, true), (true, true, false)], shown.Select(s => (s.InView is not null, s.Volume is not null, s.IsBuilding)));
        Assert.Equal(13.2, Deep(), 5e-4);
        Assert.Equal(Grams(13.2) / 1.05 * 1000, live.State!.InView!.Solid.VolumeMm3, 0.05);

        live.Follow(2, Text(Grams(13.0)));
        Assert.Equal(13.0, Deep(), 5e-4);
        Reconciled atOnce = live.State!.Reconciled!;
        await live.Settled;
        // The solid to be seen has the volume that was foretold: nothing was reckoned or built twice.
        Assert.Same(atOnce, live.State!.Reconciled);
        Assert.Same(atOnce, live.State!.InView!.Reconciled);
        Assert.Equal(13.0, Deep(), 5e-4);

        // So far off, a straight line no longer foretells the volume of a bore: it is found anew where the sizes come out.
        live.Follow(3, Text(Grams(13.0, d: 9)).Replace("reads: 10.00", "reads: 9.00", StringComparison.Ordinal));
        PartVolume? foretold = live.State!.Volume;
        await live.Settled;
        Assert.NotNull(foretold);
        Assert.NotSame(foretold, live.State!.Volume);
        Assert.Equal(13.0, Deep(), 5e-3);
        PartInView seen = live.State!.InView!;
        Assert.Same(live.State!.Reconciled, seen.Reconciled);
        Assert.True(VolumeEvidence.IsForetold(live.State!.Volume!, seen.Reconciled.Free, seen.Solid.VolumeMm3));

        live.Follow(4, Text(Grams(13.0, 21), "21 mm"));
        await live.Settled;
        Assert.Equal(13.0, Deep(), 5e-4);
    }
}
