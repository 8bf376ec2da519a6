using Sparewright.Fit.Counterparts;
using Sparewright.Fit.Odds;
using Sparewright.Fit.Windows;
using Xunit;

namespace Sparewright.Fit.Tests.Windows;

/// <summary>Openings that a snap arm must pass and catch behind.</summary>
public class SnapFitTests
{
    private static (ClearanceWindow Window, JobFits Fits) Of(string said)
    {
        JobFits fits = Jobs.Fits(Jobs.With($"{{snap arm: catch, reads: 2.9, {said}, goes_into: gap, changes: slot_w}}"));
        return (Assert.IsType<OneClearance>(fits.Case.Conditions[0]).Window, fits);
    }

    /// <summary>An arm of 15 × 2 mm at 2 % gives way by 1.50 mm (process notes 3.4, computed from a maker's handbook).</summary>
    [Fact]
    public void An_arm_gives_way_as_the_handbook_says() => Assert.Equal(1.5, new SnapFit(new(1, 1, 15, 2, 0.02)).BearsMm!.Value, 1e-9);

    /// <summary>Half of a hook of 1.2 mm may be lost, by two arms twice that; an arm that bears 1.5 mm is no limit, so that only going in is.</summary>
    [Theory]
    [InlineData("hook: 1.2, arm_length: 15, arm_thickness: 2", 0.15, 0.6)]
    [InlineData("hook: 1.2, arms: 2, arm_length: 15, arm_thickness: 2", 0.15, 1.2)]
    [InlineData("hook: 1.2", 0.15, 0.6)]
    // ⅔ · 0.02 · 10²/1.6 = 0.833 mm: of 1.2 mm, 0.367 mm must be spared it.
    [InlineData("hook: 1.2, arm_length: 10, arm_thickness: 1.6", 0.3667, 0.6)]
    [InlineData("hook: 1.2, arms: 2, arm_length: 10, arm_thickness: 1.6", 0.7333, 1.2)]
    [InlineData("hook: 1.2, arm_length: 10, arm_thickness: 1.6, arm_strain: 0.04", 0.15, 0.6)]
    [InlineData("hook: 1.2, clearance: [0.1, 0.2]", 0.1, 0.2)]
    public void It_passes_and_catches_between_two_openings(string said, double lowMm, double highMm)
    {
        var (window, _) = Of(said);
        Assert.Equal(lowMm, window.LowMm, 1e-3);
        Assert.Equal(highMm, window.HighMm, 1e-3);
    }

    [Fact]
    public void An_arm_without_a_hook_only_goes_in() => Assert.StartsWith("slides", FitWindows.Of(Jobs.With("{snap arm: catch, reads: 2.9, goes_into: gap}").Counterparts[0], new(2.9, 0.02), Capability.ProcessKind.Mex).Why, StringComparison.Ordinal);

    /// <summary>A stiff arm with a high hook: said, and no odds are promised.</summary>
    [Fact]
    public void Where_no_opening_does_both_it_is_said_and_nothing_is_promised()
    {
        var (_, fits) = Of("hook: 2, arm_length: 8, arm_thickness: 2");
        Assert.Equal("to catch by half its hook the arm must give way by 1.00 mm, and bears 0.43 mm: no opening lets it pass and catch. A longer or thinner arm would, or a lower hook", Assert.Single(fits.Met[0].Remarks));
        Assert.Equal(0, FitOdds.Of(fits.Case).AllTogether.Value);
        Assert.Equal("how far its arm can bend is not said: add `arm_length` and `arm_thickness`", Assert.Single(Of("hook: 1.2").Fits.Met[0].Remarks));
        Assert.StartsWith("half of a hook of 0.25 mm is less than what its arm needs to go in", Assert.Single(Of("hook: 0.25").Fits.Met[0].Remarks), StringComparison.Ordinal);
        Assert.Empty(Of("hook: 1.2, arm_length: 15, arm_thickness: 2").Fits.Met[0].Remarks);
    }
}
