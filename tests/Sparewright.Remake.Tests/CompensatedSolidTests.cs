using Sparewright.Fit.Capability;
using Sparewright.Fit.Counterparts;
using Sparewright.Fit.Drawn;
using Sparewright.Fit.Odds;
using Sparewright.Handover.Picture;
using Sparewright.Part.Elements;
using Sparewright.Reconcile.Findings;
using Sparewright.Solid;
using Xunit;

namespace Sparewright.Remake.Tests;

/// <summary>The solid that is drawn for the fits.</summary>
public sealed class CompensatedSolidTests
{
    private static readonly DateOnly Day = new(2026, 3, 1);

    private static OpenedJob Example() => OpenedJob.Open(Path.Combine(LadderWorkTests.Repository(), "examples", "vent-knuckle")).Value!;

    /// <summary>An exact printer that has the learnt bias and nothing else: the clearances of what it makes of the exact solid are those that were wanted.</summary>
    [Theory]
    [InlineData(-0.21, 0.002)]
    [InlineData(0.07, -0.004)]
    public async Task Printed_by_an_exact_printer_with_the_learnt_bias_it_has_the_wanted_clearances_to_a_micrometre(double biasMm, double share)
    {
        OpenedJob job = Example();
        Reconciled reconciled = job.ReconcileWithoutVolume().Value!;
        var process = ProcessCapability.Learn(JobProcess.Of(job.Job.Print), [.. from k in Sparewright.Fit.SurfaceKinds.All from d in (double[])[4, 8, 12, 40] select new MeasuredTrial(k, d, Day, d + biasMm + share * d - 0.2 / d, 0.01)]);
        Assert.True(JobFits.TryFind(job.Job, reconciled, process, out JobFits? fits, out _));
        var rods = fits.Met.Where(m => m.Condition is OneClearance { Clearance.Printed: [{ PerSize.Count: 1 }] }).Select(m => (Met: m, Printed: ((OneClearance)m.Condition).Clearance.Printed[0], WantedMm: m.Window!.MiddleMm)).ToArray();
        Assert.Equal(["clevis", "stay"], rods.Select(r => r.Met.Counterpart.Name).Order());

        Compensation solved = Compensation.Solve(process, [.. rods.Select(r => new WantedSurface(r.Met.Counterpart.Name, r.Printed, r.Met.Own!.Length.MeanMm + r.WantedMm))]);
        PlacedShape shape = JobFits.ShapeChanged(job.Job, reconciled, solved.Changes.ToDictionary(c => c.Size, c => c.ByMm));
        await using var worker = new KernelWorker(KernelProgram.Find().OrThrow());
        ExactSolid solid = (await worker.BuildAsync(Recipe.Of(shape).OrThrow(), fullGuards: true, cancel: TestContext.Current.CancellationToken)).OrThrow();
        foreach (var (met, printed, wantedMm) in rods)
        {
            double drawn = 2 * solid.Faces.First(f => f.Bears(met.Surfaces[0].Name)).RadiusMm;
            double made = drawn + process[printed.Kind].Bias(drawn).MeanMm;
            Assert.Equal(wantedMm, made - met.Own!.Length.MeanMm, 1e-3);
        }
    }

    [Fact]
    public async Task The_main_job_draws_for_the_fits_and_bevels_the_screws_holes_on_the_bed()
    {
        Result<Remade> made = await new RemakePipeline(KernelProgram.Find().OrThrow(), Lettering.UsualFiles, TimeProvider.System).RunAsync(Example(), null, Extent.Everything, new Progress<StageProgress>(), TestContext.Current.CancellationToken);
        Remade remade = made.Value!;
        Assert.Equal(JobCautions.ForTheFits, remade.State);
        Assert.False(remade.CouldNotBevel);
        Assert.True(remade.Facts.Proven);
        Assert.Equal(["screw_hole#1.wall", "screw_hole#2.wall"], remade.Fits!.Relief.Select(e => e.Wall).Order());
        // Two bevels of 45° and the larger bores take off what they must: nothing else is another volume than that of the part as measured.
        Result<Remade> measured = await new RemakePipeline(KernelProgram.Find().OrThrow(), Lettering.UsualFiles, TimeProvider.System).RunAsync(Example(), null, Extent.Solid, new Progress<StageProgress>(), TestContext.Current.CancellationToken);
        Assert.InRange(measured.Value!.Facts.VolumeMm3 - remade.Facts.VolumeMm3, 10, 600);
        Assert.Equal(measured.Value.Facts.Faces + 2, remade.Facts.Faces);
    }

    /// <summary>A bevel that the solid does not allow must cost nobody the part.</summary>
    [Fact]
    public async Task A_part_whose_edges_cannot_be_bevelled_is_made_without()
    {
        string folder = Directory.CreateTempSubdirectory("sparewright-bevel-").FullName;
        try
        {
            string job = Path.Combine(folder, "job.yaml");
            // The wall around the bore is thinner on the bed than the bevel is wide.
            await File.WriteAllTextAsync(job, """
                sparewright: 1
                part: thin ring
                could_injure: no
                sizes:
                  bore: {about: 10}
                shape:
                  - {boss: ring, diameter: 10.5, height: 8}
                  - {hole: eye, from: ring.top, diameter: bore, through: ring}
                readings:
                  - {inside: eye.wall, reads: 10.00}
                counterparts:
                  - {rod: stay, reads: 9.9, goes_through: eye, clearance: [0, 0.5]}
                print: {way_up: up}
                """, TestContext.Current.CancellationToken);
            var pipeline = new RemakePipeline(KernelProgram.Find().OrThrow(), Lettering.UsualFiles, TimeProvider.System);
            string output = Path.Combine(folder, "out");
            Result<Remade> made = await pipeline.RunAsync(OpenedJob.Open(job).Value!, output, Extent.Everything, new Progress<StageProgress>(), TestContext.Current.CancellationToken);
            Assert.Null(made.Failure);
            Assert.True(made.Value!.CouldNotBevel);
            Assert.Empty(made.Value.Fits!.Relief);
            Result<Remade> again = await pipeline.RunAsync(OpenedJob.Open(job).Value!, output, Extent.Everything, new Progress<StageProgress>(), TestContext.Current.CancellationToken);
            Assert.True(again.Value!.IsUpToDate);
            Assert.True(again.Value.CouldNotBevel);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }
}
