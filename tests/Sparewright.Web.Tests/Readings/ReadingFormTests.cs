using AngleSharp.Dom;
using Bunit;
using Sparewright.Web.Readings;
using Xunit;

namespace Sparewright.Web.Tests.Readings;

/// <summary>The form that describes a reading.</summary>
public sealed class ReadingFormTests : PaneTests
{
    [Fact]
    public async Task What_is_typed_while_the_reading_before_is_being_kept_stays()
    {
        await using OpenShop shop = await OpenAsync(Jobs.Examples["vent-knuckle"]);
        string before = shop.Text;
        IRenderedComponent<ReadingForm> form = Shown<ReadingForm>(shop);
        await Field(form, 0).ChangeAsync("foot.top");
        await Field(form, 1).ChangeAsync("foot.bottom");
        await Field(form, 2).ChangeAsync("5.00");
        Task keeping = form.Find("form").SubmitAsync();
        Assert.Equal("", Field(form, 0).GetAttribute("value") ?? "");
        await Field(form, 0).ChangeAsync("next.one");
        await keeping;
        await shop.Desk.Settled;
        Assert.NotEqual(before, shop.Text);
        Assert.Equal("next.one", Field(form, 0).GetAttribute("value"));
        Assert.Equal("", Field(form, 2).GetAttribute("value") ?? "");
    }

    private static IElement Field(IRenderedComponent<ReadingForm> form, int number) => form.FindAll(".fields input")[number];
}
