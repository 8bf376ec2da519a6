using System.Globalization;
using AngleSharp.Dom;
using Bunit;
using Microsoft.Extensions.DependencyInjection;
using Sparewright.Measure.Quantities;
using Sparewright.Reconcile.Findings;
using Sparewright.Remake.Fits;
using Sparewright.Remake.Live;
using Sparewright.Web.Desk;
using Sparewright.Web.Fit;
using Xunit;

namespace Sparewright.Web.Tests.Fit;

/// <summary>The step that shows the fits: what is said of them, and that it follows the job.</summary>
public sealed class FitPaneTests : FittedPaneTests
{
    private static readonly string Ring = Bush("", "{rod: axle, reads: [7.98, 7.99], goes_through: eye, changes: bore, fit: slides}");

    private IRenderedComponent<FitPane> Shown(OpenShop shop) => Shown<FitPane>(shop);

    private static Step.State State(OpenShop shop) => Step.All.Single(s => s.Path == "fit").Of(shop.Desk.Live, shop.Desk.Fits.State, null);

    [Fact]
    public async Task Each_fit_stands_with_its_odds_clearance_window_and_size_to_draw()
    {
        await using OpenShop shop = await OpenFittedAsync(Ring);
        FoundFits found = shop.Desk.Fits.State.Found!;
        ExpectedFit axle = Assert.Single(found.Each);
        var shown = Shown(shop);
        IElement fit = shown.Find("#fit-axle");
        Assert.Equal("rod axle", fit.QuerySelector("h2")!.TextContent);
        Assert.Equal(OddsInWords.Percent(axle.Odds.Value), fit.QuerySelector(".value")!.TextContent);
        Assert.Contains(FitText.Expected(axle, LengthUnit.Millimetre), fit.TextContent, StringComparison.Ordinal);
        Assert.Contains("0.15 to 0.50 mm (slides)", fit.TextContent, StringComparison.Ordinal);
        Assert.StartsWith("Curve of the clearance to be expected: ", fit.QuerySelector("svg.clearance")!.GetAttribute("aria-label"), StringComparison.Ordinal);
        Assert.Equal(FitText.Change(Assert.Single(found.Drawn.Changes), found, LengthUnit.Millimetre), shown.Find(".sizes .change").TextContent);
        Assert.StartsWith(LengthsShown.Display(found.Fits.DrawnMm["bore"], LengthUnit.Millimetre) + " → ", shown.Find(".sizes .change").TextContent, StringComparison.Ordinal);
        Assert.Contains("axle wants 0.15 to 0.50 mm of clearance", shown.Find(".sizes .why").TextContent, StringComparison.Ordinal);
        Assert.Contains("is assumed, not measured", shown.Find(".printer").TextContent, StringComparison.Ordinal);
        Assert.Contains("90 % are wanted", shown.Find(".all").TextContent, StringComparison.Ordinal);
        Assert.Empty(shown.FindAll("[style]"));
        Assert.Equal(new Step.State($"{OddsInWords.Percent(found.AllTogether)} will fit", true), State(shop));
    }

    [Fact]
    public async Task Lengths_are_in_the_unit_of_the_window()
    {
        await using OpenShop shop = await OpenFittedAsync(Ring);
        var shown = Shown(shop);
        await shown.InvokeAsync(() => Attention.Show(LengthUnit.Inch));
        // 0.15 and 0.50 mm, of 25.4 mm to the inch.
        shown.WaitForAssertion(() => Assert.Contains("0.0059 to 0.0197 in (slides)", shown.Find("#fit-axle").TextContent, StringComparison.Ordinal));
        Assert.StartsWith((shop.Desk.Fits.State.Found!.Fits.DrawnMm["bore"] / 25.4).ToString("0.0000", CultureInfo.InvariantCulture) + " → ", shown.Find(".sizes .change").TextContent, StringComparison.Ordinal);
        Assert.DoesNotContain(" mm", string.Join(' ', shown.FindAll("#fit-axle dd, .sizes li, .gauges p").Select(e => e.TextContent)), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_change_of_the_job_is_followed()
    {
        await using OpenShop shop = await OpenFittedAsync(Ring);
        var shown = Shown(shop);
        string before = shown.Find("#fit-axle dl").TextContent;
        string text = shop.Text.Replace("reads: [7.98, 7.99]", "reads: [7.48, 7.49]", StringComparison.Ordinal);
        Assert.True((await shop.Desk.EnterAsync(shop.Desk.Head.Latest.Number, text, "axle read again")).IsGood);
        shown.WaitForAssertion(() => Assert.Contains("7.485 ", shown.Find("#fit-axle dl").TextContent, StringComparison.Ordinal), TimeSpan.FromSeconds(20));
        Assert.NotEqual(before, shown.Find("#fit-axle dl").TextContent);
        Assert.Equal($"Of revision {shop.Desk.Head.Latest.Number}.", shown.Find(".said").TextContent);
    }

    [Fact]
    public async Task What_cannot_be_judged_is_said_with_its_place_and_remedy()
    {
        await using OpenShop shop = await OpenFittedAsync(Ring.Replace("rod: axle", "tube: axle", StringComparison.Ordinal).Replace("goes_through: eye, changes: bore", "goes_over: eye", StringComparison.Ordinal));
        string shown = Shown(shop).Find(".problem").TextContent;
        Assert.Contains("job.yaml:", shown, StringComparison.Ordinal);
        Assert.Contains("name a boss or block", shown, StringComparison.Ordinal);
        Assert.Equal(new Step.State("cannot be judged", true), State(shop));
    }

    [Fact]
    public async Task A_press_fit_that_plastic_creeps_out_of_is_refused_with_what_else_would_hold()
    {
        await using OpenShop shop = await OpenFittedAsync(Ring.Replace("fit: slides", "fit: press", StringComparison.Ordinal));
        Assert.True(shop.Desk.Fits.State.Found!.Each[0].Press!.IsRefused);
        string fit = Shown(shop).Find("#fit-axle").TextContent;
        Assert.Contains("Refused as a press fit: ", fit, StringComparison.Ordinal);
        Assert.Contains("Choose a snug fit", fit, StringComparison.Ordinal);
        Assert.Contains("No gauges: the press fit is refused", fit, StringComparison.Ordinal);
        Assert.Equal(new Step.State("a press fit is refused", true), State(shop));
    }

    [Fact]
    public async Task A_job_without_counterparts_says_what_to_write()
    {
        await using OpenShop shop = await OpenFittedAsync(Ring[..Ring.IndexOf("counterparts:", StringComparison.Ordinal)]);
        Assert.Contains("counterparts", Shown(shop).Markup, StringComparison.Ordinal);
        Assert.Equal(new Step.State("no counterpart yet", false), State(shop));
    }

    [Fact]
    public async Task Gauges_are_offered_where_they_settle_a_fit_and_a_failed_making_says_why()
    {
        await using OpenShop shop = await OpenFittedAsync(Ring);
        var shown = Shown(shop);
        FitState state = shop.Desk.Fits.State;
        Assert.NotNull(state.Ladders[0].Steps);
        Assert.Equal("bore", state.Ladders[0].Steps!.Size);
        Assert.Equal(["eye.wall"], state.Ladders[0].Steps!.Met);
        Assert.Contains("with bore drawn otherwise: " + string.Join(", ", state.Ladders[0].Steps!.DrawnMm.Select(mm => LengthsShown.Display(mm, LengthUnit.Millimetre))), shown.Find(".gauges").TextContent, StringComparison.Ordinal);
        await shown.FindAll("button").Single(b => b.TextContent == "Make the gauges for axle").ClickAsync(new());
        // There is no worker here.
        shown.WaitForAssertion(() => Assert.NotEmpty(shown.Find(".gauges [role=alert]").TextContent), TimeSpan.FromSeconds(20));
        Assert.Empty(shown.FindAll(".gauges .files"));
    }
}
