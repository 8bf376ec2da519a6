using Bunit;
using Sparewright.Measure.Quantities;
using Sparewright.Web.Readings;
using Xunit;

namespace Sparewright.Web.Tests.Readings;

/// <summary>One row of the ledger as it is drawn: the ARIA grid pattern, and what it says at the row.</summary>
public sealed class LedgerLineTests : BunitContext
{
    private static async Task<LedgerRow> RowAsync(int index)
    {
        await using OpenShop shop = await OpenShop.WithAsync(Jobs.Examples["vent-knuckle"]);
        return LedgerRow.All(shop.Desk.Live, LengthUnit.Millimetre, new RowKeys())[index];
    }

    private static Entered Typed(string text) => EntryText.TryRead(text, LengthUnit.Millimetre, out Entered? e, out _) ? e : throw new ArgumentException(text);

    [Fact]
    public async Task Every_column_has_one_place_for_the_keyboard_and_none_is_a_stop_of_its_own()
    {
        LedgerRow row = await RowAsync(0);
        var line = Render<LedgerLine>(p => p.Add(l => l.Row, row));
        Assert.Equal(Enum.GetNames<LedgerColumn>(), line.FindAll("[data-cell]").Select(c => c.GetAttribute("data-cell")));
        Assert.All(line.FindAll("[data-cell]"), c => Assert.Equal("-1", c.GetAttribute("tabindex")));
        Assert.Equal("row", line.Find("[data-row]").GetAttribute("role"));
        Assert.Equal("2", line.Find("[data-row]").GetAttribute("aria-rowindex"));
        Assert.Empty(line.FindAll("[style]"));
        Assert.Contains("what the display says, mm", line.Find("input").GetAttribute("aria-label"), StringComparison.Ordinal);
        Assert.Equal("decimal", line.Find("input").GetAttribute("inputmode"));
    }

    [Fact]
    public async Task A_contradiction_is_told_in_words_with_a_sign_and_joined_to_its_cell()
    {
        LedgerRow row = await RowAsync(14);
        var line = Render<LedgerLine>(p => p.Add(l => l.Row, row));
        Assert.StartsWith("✗", line.Find(".verdict").TextContent, StringComparison.Ordinal);
        Assert.Contains("34.01 mm", line.Find("#" + line.Find(".verdict").GetAttribute("aria-describedby")).TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_doubt_about_the_unit_offers_both_and_neither()
    {
        LedgerRow row = await RowAsync(0);
        Entered? answered = Typed("1");
        UnitDoubt doubt = UnitDoubt.Of(Typed("0.669"), row.Reads, row.AdjustedMm)!;
        var line = Render<LedgerLine>(p => p.Add(l => l.Row, row).Add(l => l.Say, new RowSay.Doubts(doubt, true)).Add(l => l.Answer, e => answered = e));
        Assert.Equal(["0.669 in", "0.669 mm, as typed", "neither"], line.FindAll(".say button").Select(b => b.TextContent));
        Assert.Equal("true", line.Find("input").GetAttribute("aria-invalid"));
        await line.FindAll(".say button")[0].ClickAsync();
        Assert.Equal("0.669 in", answered?.Written);
        await line.FindAll(".say button")[2].ClickAsync();
        Assert.Null(answered);
    }

    [Fact]
    public async Task What_is_refused_says_why_at_the_field()
    {
        LedgerRow row = await RowAsync(0);
        var line = Render<LedgerLine>(p => p.Add(l => l.Row, row).Add(l => l.Say, new RowSay.Refused(new Refusal("\"abc\" is not a value", "type what the display says"))));
        Assert.Contains("Not kept.", line.Find("#" + line.Find("input").GetAttribute("aria-describedby")).TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Two_entries_stand_side_by_side()
    {
        LedgerRow row = await RowAsync(14);
        bool? mine = null;
        var line = Render<LedgerLine>(p => p.Add(l => l.Row, row).Add(l => l.Say, new RowSay.Changed("34.01", [Typed("30.40")])).Add(l => l.Choose, m => mine = m));
        Assert.Equal(["34.01", "30.40"], line.FindAll(".both dd").Select(d => d.TextContent));
        await line.FindAll(".say button")[1].ClickAsync();
        Assert.False(mine);
    }

    [Fact]
    public async Task What_is_kept_says_when_and_how()
    {
        LedgerRow row = await RowAsync(0);
        var line = Render<LedgerLine>(p => p.Add(l => l.Row, row).Add(l => l.Say, new RowSay.Kept("from the instrument", new DateTimeOffset(2026, 3, 1, 14, 2, 11, TimeSpan.Zero))));
        Assert.Equal("kept 14:02:11, from the instrument", line.Find(".kept").TextContent);
    }

    [Fact]
    public async Task A_row_that_looks_the_same_is_not_drawn_again()
    {
        LedgerRow row = await RowAsync(0);
        var line = Render<LedgerLine>(p => p.Add(l => l.Row, row));
        line.Render(p => p.Add(l => l.Row, row with { }));
        Assert.Equal(1, line.RenderCount);
        line.Render(p => p.Add(l => l.Row, row with { Verdict = "? may be wrong" }));
        Assert.Equal(2, line.RenderCount);
    }
}
