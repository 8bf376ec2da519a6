using AngleSharp.Dom;
using Bunit;
using Microsoft.Extensions.DependencyInjection;
using Sparewright.Part;
using Sparewright.Part.Record;
using Sparewright.Web.Trials;
using Xunit;

namespace Sparewright.Web.Tests.Trials;

/// <summary>The step in which trial prints are entered: what is kept of them in the job, what is refused, and what they taught.</summary>
public sealed class TrialsPaneTests : FittedPaneTests
{
    private static readonly string Ring = Bush("wanted_odds: 0.95", "{rod: axle, reads: [7.98, 7.99], goes_through: eye, changes: bore, clearance: [0.1, 0.2]}", "{hole: seat, reads: [20.15, 20.16], goes_over: ring, changes: od, clearance: [0.05, 0.15]}");

    private static Trial[] Trials(OpenShop shop) => [.. JobFile.Read(shop.Text).Job!.Trials];

    private static IElement Group(IRenderedComponent<TrialsPane> shown, string counterpart) => shown.Find($"[aria-label='Gauges for {counterpart}']");

    /// <summary>The strip's dots count from the tightest: of a bore that is the smallest, of what goes into a seat the largest.</summary>
    [Fact]
    public async Task Gauges_are_numbered_as_their_dots_are()
    {
        await using OpenShop shop = await OpenFittedAsync(Ring);
        var shown = Shown<TrialsPane>(shop);
        foreach (var (name, sign) in ((string, int)[])[("axle", 1), ("seat", -1)])
        {
            double[] steps = [.. shop.Desk.Fits.State.Ladders.Single(l => l.Counterpart == name).Steps!.DrawnMm];
            Assert.True(steps.Length > 1);
            Assert.Equal(steps.OrderBy(mm => sign * mm), steps);
            string[] legends = [.. Group(shown, name).QuerySelectorAll("legend").Select(l => l.TextContent)];
            Assert.Equal(steps.Length, legends.Length);
            for (int k = 0; k < steps.Length; k++) Assert.StartsWith(FormattableString.Invariant($"Gauge {k + 1}: {(name == "axle" ? "bore" : "od")} {steps[k]:0.00}"), legends[k], StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task Answers_of_gauges_become_a_trial_of_the_job()
    {
        await using OpenShop shop = await OpenFittedAsync(Ring);
        double[] steps = [.. shop.Desk.Fits.State.Ladders.Single(l => l.Counterpart == "axle").Steps!.DrawnMm];
        var shown = Shown<TrialsPane>(shop);
        Assert.Contains("Nothing yet.", shown.Markup, StringComparison.Ordinal);
        Assert.True(Group(shown, "axle").QuerySelectorAll("button")[^1].HasAttribute("disabled"));
        await Group(shown, "axle").QuerySelectorAll("fieldset")[0].QuerySelectorAll("input")[1].ChangeAsync("on");
        await Group(shown, "axle").QuerySelectorAll("fieldset")[1].QuerySelectorAll("input")[0].ChangeAsync("on");
        await Group(shown, "axle").QuerySelectorAll("button")[^1].ClickAsync(new());
        GaugeTrial gauges = Assert.Single(Assert.Single(Trials(shop)).Gauges);
        Assert.Equal(("axle", steps[0], steps[1]), (gauges.Counterpart, Assert.Single(gauges.TooTightMm), Assert.Single(gauges.GoesMm)));
        shown.WaitForAssertion(() => Assert.Contains("axle", shown.Find(".taught").TextContent, StringComparison.Ordinal), TimeSpan.FromSeconds(30));

        await shown.Find(".printed button").ClickAsync(new());
        Assert.Empty(Trials(shop));
    }

    [Fact]
    public async Task A_trial_of_the_part_is_kept_with_the_sizes_as_drawn()
    {
        await using OpenShop shop = await OpenFittedAsync(Ring);
        var shown = Shown<TrialsPane>(shop);
        await shown.Find("#drawn-bore").ChangeAsync("8.30");
        await shown.Find("section[aria-labelledby=part-title]").QuerySelectorAll("fieldset")[0].QuerySelectorAll("input")[1].ChangeAsync("on");
        Assert.False(shown.Find("#keep-part").HasAttribute("disabled"));
        await shown.Find("#keep-part").ClickAsync(new());
        Assert.Equal([], shown.FindAll("[role=alert]").Select(alert => alert.TextContent));
        Trial trial = Assert.Single(Trials(shop));
        Assert.Equal(["axle"], trial.Part!.TooTight);
        Assert.Equal(8.30, trial.Part.DrawnMm["bore"], 1e-9);
        // What was too tight is drawn wider from now on.
        Assert.True(JobFile.Read(shop.Text).Job!.Print!.DrawnMm["bore"] > 8.30);
    }

    [Fact]
    public async Task What_is_no_length_is_refused_where_it_stands()
    {
        await using OpenShop shop = await OpenFittedAsync(Ring);
        var shown = Shown<TrialsPane>(shop);
        await shown.Find("#feature-drawn").ChangeAsync("eight");
        await shown.Find("#feature-reads").ChangeAsync("7.81");
        await shown.Find("section[aria-labelledby=feature-title] button").ClickAsync(new());
        Assert.NotEmpty(shown.Find("section[aria-labelledby=feature-title] [role=alert]").TextContent);
        Assert.Empty(Trials(shop));

        await shown.Find("#feature-drawn").ChangeAsync("8");
        await shown.Find("section[aria-labelledby=feature-title] button").ClickAsync(new());
        MeasuredFeature feature = Assert.Single(Assert.Single(Trials(shop)).Measured);
        Assert.Equal((8.0, 7.81), (feature.DrawnMm, Assert.Single(feature.ReadsMm)));
    }

    [Fact]
    public async Task A_day_that_is_none_is_said_and_the_day_before_counts()
    {
        await using OpenShop shop = await OpenFittedAsync(Ring);
        var shown = Shown<TrialsPane>(shop);
        await shown.Find("#trial-on").ChangeAsync("2026-05-31");
        await shown.Find("#trial-on").ChangeAsync("31 May");
        Assert.Contains("31 May is no day", shown.Find("[role=alert]").TextContent, StringComparison.Ordinal);
        Assert.Contains("Until then 2026-05-31 counts", shown.Find("[role=alert]").TextContent, StringComparison.Ordinal);
    }
}
