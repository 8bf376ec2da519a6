using Bunit;
using Sparewright.Measure.Quantities;
using Sparewright.Part;
using Sparewright.Reconcile.Findings;
using Sparewright.Reconcile.Nominals;
using Sparewright.Web.Sizes;
using Xunit;
using Quantity = Sparewright.Part.Sizes.Quantity;

namespace Sparewright.Web.Tests.Sizes;

/// <summary>What the designer may have meant, as it stands at a size, and what becomes of it.</summary>
public sealed class ProposalTests : PaneTests
{
    private const string Text = """
        sparewright: 1
        part: Spacer
        could_injure: no
        sizes:
          od:   {about: 20}  # over the paint
          tall: {about: 8}
        shape:
          - {boss: ring, diameter: od, height: tall}
        readings:
          - {outside: ring.side, reads: [20.01, 20.02]}
          - {outside: [ring.bottom, ring.top], reads: [8.01, 7.99]}
        """;

    private static readonly Nominal Twelve = new(new(12, "whole mm", 0.962), new(12.1, "tenth of a mm", 0.03), 0.008);

    private string _said = "";

    private static ReconciledSize Size(Nominal nominal) =>
        new("bore_d", Quantity.Length, 12.03, 0.02, ["r1"], SizeStatus.Decided) { Nominal = nominal };

    private IRenderedComponent<Proposals> Shown(OpenShop shop, ReconciledSize? of = null) => Shown<Proposals>(shop, p => p
        .Add(s => s.Kept, said => _said = said)
        .Add(s => s.Size, shop.Desk.Live.Job!.Sizes.All[0]).Add(s => s.Of, of ?? shop.Desk.Live.Reconciled!.Sizes[0]));

    [Fact]
    public async Task Best_next_and_none_stand_with_their_odds()
    {
        await using OpenShop shop = await OpenAsync(Text);
        var shown = Shown(shop, Size(Twelve));
        Assert.Equal(["96 %", "3 %", "0.8 %"], shown.FindAll(".percent").Select(e => e.TextContent));
        Assert.Equal(["12 mm", "12.1 mm"], shown.FindAll(".meant").Select(e => e.TextContent));
        Assert.Equal("none of these", shown.FindAll(".words")[^1].TextContent);
        Assert.Equal(0.008 * 39, double.Parse(shown.FindAll("rect.share")[2].GetAttribute("width")!, System.Globalization.CultureInfo.InvariantCulture), 0.06);
        Assert.Empty(shown.FindAll("[style]"));
    }

    [Fact]
    public void A_fraction_is_shown_as_one_in_either_unit()
    {
        Nominal inches = new(new(15.0 / 32 * 25.4, "15/32 in", 0.9) { Form = NominalForm.InchFraction }, null, 0.1);
        Assert.All([LengthUnit.Millimetre, LengthUnit.Inch], unit => Assert.Equal("15/32 in", Proposal.All(Size(inches), unit)[0].Value));
        Assert.Equal("0.472 in", Proposal.All(Size(Twelve), LengthUnit.Inch)[0].Value);
    }

    [Fact]
    public async Task Settling_binds_the_size_and_can_be_taken_back()
    {
        await using OpenShop shop = await OpenAsync(Text);
        await Button(Shown(shop), "Settle od at 20 mm").ClickAsync(new());
        Assert.StartsWith("od settled at 20 mm: kept ", _said, StringComparison.Ordinal);
        Assert.Equal(Text.Replace("{about: 20}", "{about: 20, nominal: 20}", StringComparison.Ordinal), shop.Text);
        Assert.Equal((20.0, SizeStatus.Fixed), (shop.Desk.Live.Reconciled!.Sizes[0].Estimate, shop.Desk.Live.Reconciled.Sizes[0].Status));
        Assert.Equal("= settled at its nominal", SizeRow.Of(shop.Desk.Live.Job!.Sizes.All[0], shop.Desk.Live.Reconciled, LengthUnit.Millimetre).Status);

        await shop.Desk.Settled;
        var settled = Shown(shop);
        Assert.Equal("20 mm", settled.Find(".meant").TextContent);
        await Button(settled, "Open again: the nominal of od").ClickAsync(new());
        Assert.Equal(Text, shop.Text);
    }

    [Fact]
    public async Task What_is_not_that_is_not_offered_again()
    {
        await using OpenShop shop = await OpenAsync(Text);
        await Button(Shown(shop), "Not that: od was not meant as 20 mm").ClickAsync(new());
        Assert.Contains("not_nominal: [20]", shop.Text, StringComparison.Ordinal);
        var shown = Shown(shop);
        Assert.DoesNotContain(shown.FindAll(".meant"), m => m.TextContent == "20 mm");
        Assert.Contains("Not meant: 20 mm", shown.Markup, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_size_can_be_settled_as_the_same_as_another()
    {
        await using OpenShop shop = await OpenAsync(Text);
        var shown = Shown(shop, new ReconciledSize("od", Quantity.Length, 8.01, 0.02, ["r1"], SizeStatus.Decided) { SameAs = new("tall", 0.93) });
        Assert.Equal(["93 %"], shown.FindAll(".percent").Select(e => e.TextContent));
        await Button(shown, "Settle od as the same as tall").ClickAsync(new());
        Assert.Contains("od:   {about: 20, nominal: tall}", shop.Text, StringComparison.Ordinal);
        await shop.Desk.Settled;
        Assert.Equal("the same as tall", Shown(shop).Find(".meant").TextContent);
    }

    [Fact]
    public async Task A_middle_is_proposed_and_can_be_settled_or_ruled_out()
    {
        await using OpenShop shop = await OpenAsync(Text);
        ReconciledSize of = new("od", Quantity.Length, 16.01, 0.02, ["r1"], SizeStatus.Decided) { Centred = new("tall*2", "ring in the middle of ring, left to right", 0.93) };
        var shown = Shown(shop, of);
        Assert.Equal(["93 %"], shown.FindAll(".percent").Select(e => e.TextContent));
        Assert.Equal("tall*2 ring in the middle of ring, left to right", shown.Find(".words").TextContent);
        await Button(shown, "Not that: od was not meant as tall*2").ClickAsync(new());
        Assert.Contains("not_nominal: [tall*2]", shop.Text, StringComparison.Ordinal);
        await shop.Desk.Settled;
        await Button(Shown(shop, of), "Settle od at tall*2").ClickAsync(new());
        Assert.Contains("nominal: tall*2", shop.Text, StringComparison.Ordinal);
    }

    /// <summary>What shrank in its mould is said as the drawing had it, beside what the part then has.</summary>
    [Fact]
    public void A_value_that_shrank_says_from_what()
    {
        Proposal proposal = Proposal.All(Size(new(new(49.69, "50 mm, shrunk by 0.62 %", 0.9) { ShrunkFromMm = 50 }, null, 0.1)), LengthUnit.Millimetre)[0];
        Assert.Equal(("49.69 mm", "50 mm, shrunk by 0.62 %"), (proposal.Value, proposal.Why));
    }

    /// <summary>Somebody may still change what is said of a settled size; what is fixed has no nominal beside it.</summary>
    [Theory]
    [InlineData(SizeGiven.About, "{about: 21, nominal: 20}")]
    [InlineData(SizeGiven.Fixed, "{fixed: 21}")]
    public void What_is_said_beside_a_nominal_is_changed_where_it_stands(SizeGiven given, string said)
    {
        string settled = Settling.Settle(Text, "od", "20").Text!;
        SizeDraft draft = SizeDraft.Of(JobFile.Read(settled).Job!.Sizes.All[0], Written.Read(settled, out _)!.At("sizes", "od"));
        Assert.Equal((SizeGiven.About, "20"), (draft.Given, draft.Value));
        draft = draft with { Given = given, Value = "21" };
        Assert.True(draft.TryMake(LengthUnit.Millimetre, out JobValue? made, out _));
        Assert.Contains($"od:   {said}  # over", draft.WriteOver(settled, made).Text, StringComparison.Ordinal);
    }

    private static AngleSharp.Dom.IElement Button(IRenderedComponent<Proposals> shown, string label) => shown.FindAll("button").Single(b => b.GetAttribute("aria-label") == label);
}
