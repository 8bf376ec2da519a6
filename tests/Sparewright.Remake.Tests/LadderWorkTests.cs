using System.Runtime.Versioning;
using Sparewright.Handover.Picture;
using Sparewright.Handover.PrintFiles.ThreeMf;
using Sparewright.Remake.Fits;
using Sparewright.Remake.Ladders;
using Sparewright.Solid;
using Xunit;

[assembly: SupportedOSPlatform("linux")]

namespace Sparewright.Remake.Tests;

/// <summary>A ladder of gauges for the example, as files.</summary>
public sealed class LadderWorkTests
{
    [Theory]
    [InlineData("bore_d", "bore.wall", 12.1, 12.15, 12.2, 12.25)]
    [InlineData("pin_d", "pin_hole.wall", 5.0, 5.1, 5.2)]
    [InlineData("screw_d", "screw_hole#1.wall", 4.4, 4.5)]
    public async Task The_strip_of_any_fit_of_the_example_is_sound_and_its_picture_says_which_is_which(string size, string met, params double[] drawn)
    {
        string folder = Directory.CreateTempSubdirectory("sparewright-ladder-").FullName;
        try
        {
            OpenedJob job = OpenedJob.Open(Path.Combine(Repository(), "examples", "vent-knuckle")).Value!;
            FoundFits found = FitWork.Find(job, job.ReconcileWithoutVolume().Value!, cancel: TestContext.Current.CancellationToken).Value!;
            var wanted = new GaugeSteps("stay", size, [met], drawn);
            Result<MadeLadder> made = await new LadderWork(KernelProgram.Find().OrThrow(), Lettering.UsualFiles, TimeProvider.System)
                .MakeAsync(found, wanted, folder, new Progress<StageProgress>(), TestContext.Current.CancellationToken);
            Assert.Null(made.Failure);
            Assert.Equal([".3mf", ".png", ".svg"], made.Value!.Files.Select(f => Path.GetExtension(f.Name)));

            Assert.True(ThreeMfReader.TryRead(File.ReadAllBytes(Path.Combine(folder, made.Value.Files[0].Name)), out var shape, out _));
            Assert.Equal(made.Value.VolumeMm3, shape.VolumeMm3, made.Value.VolumeMm3 * 2e-3);
            string svg = File.ReadAllText(Path.Combine(folder, made.Value.Files[2].Name));
            for (int k = 0; k < drawn.Length; k++) Assert.Contains(FormattableString.Invariant($"{k + 1} {(k == 0 ? "dot" : "dots")}: {size} {drawn[k]:0.00} mm"), svg);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    /// <summary>A row of screw holes is one piece of the part, with all its holes and their distance.</summary>
    [Fact]
    public async Task One_gauge_holds_a_pattern_of_holes_whole()
    {
        string folder = Directory.CreateTempSubdirectory("sparewright-pattern-").FullName;
        try
        {
            OpenedJob job = OpenedJob.Open(Path.Combine(Repository(), "examples", "vent-knuckle")).Value!;
            job = job with { Job = job.Job with { WantedOdds = 0.9999 } };
            FoundFits found = FitWork.Find(job, job.ReconcileWithoutVolume().Value!, advise: false, cancel: TestContext.Current.CancellationToken).Value!;
            PlannedLadder screws = PlannedLadder.Of(found).Single(p => p.Counterpart == "sash_screw");
            Assert.True(screws.Steps is { HoldsPattern: true, DrawnMm.Count: 1, Met: ["screw_hole#1.wall", "screw_hole#2.wall"] }, screws.WhyNot);
            Assert.InRange(screws.OddsExpected, screws.OddsNow, 1);
            Result<MadeLadder> made = await new LadderWork(KernelProgram.Find().OrThrow(), Lettering.UsualFiles, TimeProvider.System)
                .MakeAsync(found, screws.Steps, folder, new Progress<StageProgress>(), TestContext.Current.CancellationToken);
            Assert.Null(made.Failure);
            Assert.True(ThreeMfReader.TryRead(File.ReadAllBytes(Path.Combine(folder, made.Value!.Files[0].Name)), out var shape, out _));
            // Longer than the distance of the holes, and only a small part of the whole.
            Assert.InRange(made.Value.VolumeMm3, 1000, 12000);
            Assert.Equal(made.Value.VolumeMm3, shape.VolumeMm3, made.Value.VolumeMm3 * 2e-3);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    internal static string Repository()
    {
        for (DirectoryInfo? here = new(AppContext.BaseDirectory); here is not null; here = here.Parent)
            if (File.Exists(Path.Combine(here.FullName, "Sparewright.slnx"))) return here.FullName;
        throw new InvalidOperationException("the tests do not lie in the repository");
    }
}
