using Bunit;
using Sparewright.Measure.Quantities;
using Sparewright.Reconcile.Findings;
using Sparewright.Web.Sizes;
using Xunit;

namespace Sparewright.Web.Tests.Sizes;

/// <summary>The budget of the readings that decide a size, opened where its evidence stands.</summary>
public sealed class BudgetsTests : PaneTests
{
    private const string Text = """
        sparewright: 1
        part: Spacer
        could_injure: no
        instruments:
          caliper: {kind: digital caliper, resolution: 0.01, mpe: 0.03, zero_error: 0.00, inside_jaw_flat: 0.5}
        sizes:
          od:   {about: 20}
          tall: {fixed: 8}
        shape:
          - {boss: ring, diameter: od, height: tall}
        readings:
          - {outside: ring.side, reads: [20.01, 20.02]}
        """;

    [Fact]
    public async Task It_opens_at_the_size_that_its_readings_decide_and_adds_up()
    {
        await using OpenShop shop = await OpenAsync(Text);
        var shown = Shown<SizeTable>(shop);
        // What is fixed is decided by no reading.
        AngleSharp.Dom.IElement button = Assert.Single(shown.FindAll("button"), b => b.GetAttribute("aria-label") == "Budget of the readings that decide od");
        Assert.DoesNotContain(shown.FindAll("button"), b => b.GetAttribute("aria-label") == "Budget of the readings that decide tall");
        Assert.Equal("false", button.GetAttribute("aria-expanded"));
        Assert.Empty(shown.FindAll("table"));

        await button.ClickAsync(new());
        Assert.Equal("true", shown.Find("button[aria-label='Budget of the readings that decide od']").GetAttribute("aria-expanded"));
        ReconciledReading reading = shop.Desk.Live.Reconciled!.Readings[0];
        Assert.Equal("Budget of r1", shown.Find("table").GetAttribute("aria-label"));
        Assert.Equal(reading.Budget!.Lines.Select(l => l.Name), shown.FindAll("tbody th").Select(e => e.TextContent));
        Assert.Equal("u, mm", shown.FindAll("thead th")[1].TextContent);
        Assert.Contains("r1, outside diameter of ring.side", shown.Find("h3").TextContent, StringComparison.Ordinal);
        Assert.Matches(@"^Standard uncertainty u = 0\.0\d+ mm, ±0\.0\d+ mm in 95 of 100 cases\.$", shown.Find(".budget p").TextContent);
        int[] shares = [.. shown.FindAll("tbody tr").Select(r => int.Parse(r.Children[2].TextContent.Split(' ')[0], System.Globalization.CultureInfo.InvariantCulture))];
        Assert.InRange(shares.Sum(), 98, 102);

        await shown.Find("button[aria-label='Budget of the readings that decide od']").ClickAsync(new());
        Assert.Empty(shown.FindAll("table"));
    }

    [Fact]
    public async Task In_inches_it_is_told_in_inches()
    {
        await using OpenShop shop = await OpenAsync(Text);
        ReconciledReading reading = shop.Desk.Live.Reconciled!.Readings[0];
        var shown = Render<Budgets>(p => p.Add(b => b.Of, [reading]).Add(b => b.Unit, LengthUnit.Inch));
        Assert.Equal("u, in", shown.FindAll("thead th")[1].TextContent);
        Assert.Contains(Measure.Quantities.Shown.TwoDigits(reading.Budget!.StandardUncertaintyMm / 25.4) + " in", shown.Find("p").TextContent, StringComparison.Ordinal);
    }
}
