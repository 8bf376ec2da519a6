using Bunit;
using Sparewright.Measure.Quantities;
using Sparewright.Reconcile.Findings;
using Sparewright.Web.Desk;
using Sparewright.Web.Readings;
using Xunit;

namespace Sparewright.Web.Tests.Readings;

/// <summary>What to measure next, as it is shown, picked, and entered.</summary>
public sealed class NextReadingsTests : PaneTests
{
    private const string Bare = """
        sparewright: 1
        part: Spacer
        could_injure: no
        sizes:
          od: {about: 20}
          tall: {about: 8}
          bore_d: {about: 6}
        shape:
          - boss: ring
            diameter: od
            height: tall
          - hole: bore
            axis: up
            at: [0, 0, 0]
            diameter: bore_d
            through: whole part
        readings: []
        """;

    /// <summary>What is found beside the window's own work takes a while where much else runs.</summary>
    private static readonly TimeSpan Long = TimeSpan.FromSeconds(30);

    private IRenderedComponent<NextReadings> Shown(OpenShop shop)
    {
        var shown = Shown<NextReadings>(shop);
        shown.WaitForElement("section", Long);
        return shown;
    }

    [Fact]
    public async Task A_job_without_readings_shows_its_plan()
    {
        await using OpenShop shop = await OpenAsync(Bare);
        var shown = Shown(shop);
        Assert.Equal("What to measure, in this order", shown.Find("h2").TextContent);
        Assert.Equal(Reconcile(Bare).Plan.Count, shown.FindAll("li").Count);
        Assert.Empty(shown.FindAll("[style]"));
    }

    [Fact]
    public async Task Picking_a_line_puts_it_on_the_part_with_its_value_open()
    {
        await using OpenShop shop = await OpenAsync(Bare);
        var shown = Shown(shop);
        await shown.FindAll("button.what")[1].ClickAsync();
        NextRow second = NextRow.Of(Reconcile(Bare), LengthUnit.Millimetre)[1];
        Assert.Equal(second.Elements, Attention.Elements);
        Assert.Equal("?", Attention.Reading?.Id);
        Assert.Empty(Attention.Reading!.ReadsMm);
        Assert.Equal(["false", "true"], shown.FindAll("button.what").Take(2).Select(b => b.GetAttribute("aria-pressed")));
    }

    [Fact]
    public async Task A_value_typed_at_a_line_is_a_new_reading_and_the_plan_goes_on_without_it()
    {
        await using OpenShop shop = await OpenAsync(Bare);
        var shown = Shown(shop);
        NextRow first = NextRow.Of(Reconcile(Bare), LengthUnit.Millimetre)[0];
        await shown.Find("input").ChangeAsync(new() { Value = Display(first.AboutMm!.Value) });
        NextRow then = NextRow.Of(shop.Desk.Live.Reconciled!, LengthUnit.Millimetre)[0];
        Assert.NotEqual(first.Text, then.Text);
        shown.WaitForAssertion(() => Assert.Equal(then.Elements, shown.FindAll("li")[0].QuerySelectorAll(".element").Select(e => e.TextContent)), Long);
        Assert.Contains($"{{{first.Text}, reads: {Display(first.AboutMm!.Value)}}}", shop.Text, StringComparison.Ordinal);
        Assert.Single(shop.Desk.Live.Job!.Readings);
        Assert.Equal("What to measure, in this order", shown.Find("h2").TextContent);

        static string Display(double mm) => mm.ToString("0.00", System.Globalization.CultureInfo.InvariantCulture);
    }

    [Fact]
    public async Task A_reading_on_a_cone_is_shown_and_kept_with_its_height()
    {
        string cone = Bare.Replace("diameter: od", "diameter: od\n    top_diameter: od - 4", StringComparison.Ordinal);
        await using OpenShop shop = await OpenAsync(cone);
        var shown = Shown(shop);
        int at = Array.FindIndex([.. NextRow.Of(Reconcile(cone), LengthUnit.Millimetre)], r => r.Text.Contains("at_height", StringComparison.Ordinal));
        Assert.Contains("at height ", shown.FindAll("button.what")[at].TextContent, StringComparison.Ordinal);
        await shown.FindAll("input")[at].ChangeAsync(new() { Value = "19.00" });
        Assert.NotNull(Assert.IsType<Part.Record.CaliperReading>(Assert.Single(shop.Desk.Live.Job!.Readings)).AtHeight);
        Assert.NotNull(shop.Desk.Live.Reconciled!.Readings[0].Observed);
    }

    [Fact]
    public async Task A_value_in_the_other_unit_is_asked_about_before_it_is_kept()
    {
        await using OpenShop shop = await OpenAsync(Bare);
        var shown = Shown(shop);
        double about = NextRow.Of(Reconcile(Bare), LengthUnit.Millimetre)[0].AboutMm!.Value;
        await shown.Find("input").ChangeAsync(new() { Value = (about / 25.4).ToString("0.000", System.Globalization.CultureInfo.InvariantCulture) });
        Assert.Empty(shop.Desk.Live.Job!.Readings);
        Assert.EndsWith(" in", shown.FindAll(".say button")[0].TextContent, StringComparison.Ordinal);
        await shown.FindAll(".say button")[0].ClickAsync(new());
        shown.WaitForAssertion(() => Assert.Equal(about, Assert.IsType<Part.Record.CaliperReading>(Assert.Single(shop.Desk.Live.Job!.Readings)).ReadsMm[0], 0.02), Long);
    }

    [Fact]
    public async Task What_is_no_length_is_refused_at_its_line()
    {
        await using OpenShop shop = await OpenAsync(Bare);
        var shown = Shown(shop);
        await shown.Find("input").ChangeAsync(new() { Value = "abc" });
        Assert.Contains("Not kept.", shown.Find("li .say").TextContent, StringComparison.Ordinal);
        Assert.Empty(shop.Desk.Live.Job!.Readings);
    }

    [Fact]
    public async Task With_readings_each_line_says_before_and_after()
    {
        await using OpenShop shop = await OpenAsync(Jobs.Examples["vent-knuckle"]);
        var shown = Shown(shop);
        Assert.Equal("What to measure next", shown.Find("h2").TextContent);
        Assert.Contains(shown.FindAll(".why"), w => System.Text.RegularExpressions.Regex.IsMatch(w.TextContent, "±0\\.[0-9]+ → ±0\\.[0-9]+ mm"));
    }

    /// <summary>Every line that is offered can be taken as it stands: the form's draft of it is a reading that the part allows.</summary>
    [Theory]
    [InlineData("vent-knuckle")]
    [InlineData("line-reel-crank")]
    public void Every_line_can_be_entered(string example)
    {
        Reconciled reconciled = Reconcile(Jobs.Examples[example]);
        IReadOnlyList<NextRow> rows = NextRow.Of(reconciled, LengthUnit.Inch);
        Assert.NotEmpty(rows);
        Assert.All(rows, r => Assert.Null(r.Draft.On(reconciled.Shape).Why));
        Assert.All(rows.Where(r => r.AboutMm is not null), r => Assert.Equal(r.AboutMm!.Value, r.Draft.On(reconciled.Shape).Mm!.Value, 1e-9));
    }

    /// <summary>Who reads the display and not the screen goes by the list as it stood: what is entered at its first line takes that line away and moves no other, also when every size is decided and only checks are left.</summary>
    [Fact]
    public async Task A_plan_that_is_followed_stays_as_it_was_to_its_end()
    {
        await using OpenShop shop = await OpenAsync(Bare);
        NextRow[] plan = [.. NextRow.Of(shop.Desk.Live.Reconciled!, LengthUnit.Millimetre)];
        bool decided = false;
        for (int done = 0; done < plan.Length; done++)
        {
            Reconciled now = shop.Desk.Live.Reconciled!;
            Assert.True(NextRow.IsPlan(now));
            Assert.Equal(plan[done..].Select(r => r.Text), NextRow.Of(now, LengthUnit.Millimetre).Select(r => r.Text));
            decided |= now.Undecided.Count == 0;
            Assert.True(EntryText.TryRead(plan[done].AboutMm!.Value.ToString("0.00", System.Globalization.CultureInfo.InvariantCulture), LengthUnit.Millimetre, out Entered? value, out _));
            Assert.True((await new ReadingWriter(shop.Desk).AddAsync(plan[done].Draft, [value], "a reading")).IsGood);
        }

        Assert.True(decided, "checks were left when every size was decided");
        Assert.False(NextRow.IsPlan(shop.Desk.Live.Reconciled!));
    }

    [Fact]
    public void A_contradiction_comes_before_the_plan() => Assert.False(NextRow.IsPlan(Reconcile(Jobs.Examples["vent-knuckle"])));
}
