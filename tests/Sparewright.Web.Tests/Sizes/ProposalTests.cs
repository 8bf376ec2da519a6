using Bunit;
using Sparewright.Reconcile.Findings;
using Sparewright.Reconcile.Nominals;
using Sparewright.Web.Readings;
using Sparewright.Web.Sizes;
using Xunit;

namespace Sparewright.Web.Tests.Sizes;

/// <summary>What the designer may have meant, as it stands at a size.</summary>
public sealed class ProposalTests : BunitContext
{
    private static ReconciledSize Size(Nominal nominal) =>
        new("bore_d", Sparewright.Part.Sizes.Quantity.Length, 12.03, 0.02, ["r1"], SizeStatus.Decided) { Nominal = nominal };

    private static readonly Nominal Twelve = new(new(12, "whole mm", 0.962), new(12.1, "tenth of a mm", 0.03), 0.008);

    [Fact]
    public void Best_next_and_none_stand_with_their_odds()
    {
        var shown = Render<Proposals>(p => p.Add(s => s.Of, Size(Twelve)));
        Assert.Equal(["96 %", "3 %", "0.8 %"], shown.FindAll(".percent").Select(e => e.TextContent));
        Assert.Equal(["12 mm", "12.1 mm"], shown.FindAll(".meant").Select(e => e.TextContent));
        Assert.Equal("none of these", shown.FindAll(".why")[^1].TextContent);
        Assert.Equal(0.008 * 39, double.Parse(shown.FindAll("rect.share")[2].GetAttribute("width")!, System.Globalization.CultureInfo.InvariantCulture), 0.06);
        Assert.Empty(shown.FindAll("[style]"));
    }

    [Fact]
    public void A_fraction_is_shown_as_one_in_either_unit()
    {
        Nominal inches = new(new(15.0 / 32 * 25.4, "15/32 in", 0.9), null, 0.1);
        Assert.All([LengthUnit.Millimetre, LengthUnit.Inch], unit => Assert.Equal("15/32 in", Proposal.All(Size(inches), unit)[0].Value));
        Assert.Equal("0.4724 in", Proposal.All(Size(Twelve), LengthUnit.Inch)[0].Value);
    }
}
