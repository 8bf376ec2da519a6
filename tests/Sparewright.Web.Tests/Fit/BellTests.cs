using System.Globalization;
using Sparewright.Fit;
using Sparewright.Measure.Quantities;
using Sparewright.Web.Fit;
using Xunit;

namespace Sparewright.Web.Tests.Fit;

/// <summary>The curve of the clearance, and odds and lengths in words.</summary>
public class BellTests
{
    private static readonly ClearanceWindow Slides = new(0.15, 0.5, "slides: common practice");

    [Fact]
    public void The_scale_holds_the_curve_and_the_window()
    {
        var bell = new Bell(new(0.1, 0.05), 0.002, 0.198, Slides);
        var (low, high) = bell.Scale;
        Assert.True(low < 0.1 - 3 * 0.05 && high > 0.5);
        Assert.Equal((0, Bell.Width), (bell.X(low), bell.X(high)));
        Assert.Equal((bell.X(0.15), bell.X(0.5)), bell.Goes);
    }

    [Fact]
    public void An_open_window_reaches_the_edge_of_the_picture()
    {
        var bell = new Bell(new(0.3, 0.1), 0.1, 0.5, new ClearanceWindow(0, double.PositiveInfinity, "goes"));
        Assert.Equal((bell.X(0), Bell.Width), bell.Goes);
        Assert.Null((bell with { Window = null }).Goes);
    }

    [Fact]
    public void The_curve_is_highest_at_the_mean_and_alike_on_both_sides()
    {
        var bell = new Bell(new(0.3, 0.1), 0.1, 0.5, null);
        (double X, double Y)[] points = [.. bell.Line.Split(" L").Select(p => p.TrimStart('M').Split(' ')).Select(p => (Number(p[0]), Number(p[1])))];
        var top = points.MinBy(p => p.Y);
        Assert.Equal(Bell.Top, top.Y, 0.05);
        Assert.Equal(bell.X(0.3), top.X, 2.0);
        Assert.Equal(points[0].Y, points[^1].Y, 0.011);
        // At one standard deviation e^(-1/2) of the height is left.
        double at = bell.X(0.4);
        Assert.Equal(Bell.Base - (Bell.Base - Bell.Top) * Math.Exp(-0.5), points.MinBy(p => Math.Abs(p.X - at)).Y, 3.0);

        static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);
    }

    [Fact]
    public void A_length_that_is_exact_still_has_a_picture() =>
        Assert.DoesNotContain("NaN", new Bell(new(0.3, 0), 0.3, 0.3, Slides).Line, StringComparison.Ordinal);

    [Fact]
    public void Negative_clearance_has_a_real_minus_and_an_open_window_is_said_in_words()
    {
        Assert.Equal("−0.10 to 0.00 mm (press)", FitText.Window(new(-0.1, 0, "press: common practice"), LengthUnit.Millimetre));
        Assert.Equal("0.00 mm or more (goes)", FitText.Window(new(0, double.PositiveInfinity, "goes"), LengthUnit.Millimetre));
        Assert.Equal("−0.05 ±0.12 mm", FitText.WithPlusMinus(-0.05, 0.12, LengthUnit.Millimetre));
    }
}
