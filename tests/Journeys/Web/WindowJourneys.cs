using Xunit;

namespace Sparewright.Journeys.Web;

/// <summary>The windows through which all other journeys look notice what they must.</summary>
[Collection(BrowserJourneys.Name)]
public sealed class WindowJourneys(Browser browser)
{
    [Fact]
    public async Task A_shop_opens_and_lists_its_jobs()
    {
        await using OpenShop shop = await OpenShop.OpenAsync(Tool.Example("vent-knuckle"));
        await using Window window = await browser.OpenAsync(shop);
        Assert.Single(await window.JobsAsync());
        Assert.DoesNotContain("start=", window.Page.Url, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("document.body.setAttribute('style', 'color: red')", "Content Security Policy")]
    [InlineData("document.body.appendChild(document.createElement('script')).textContent = '1'", "Content Security Policy")]
    [InlineData("setTimeout(() => { throw new Error('thrown here'); })", "thrown here")]
    [InlineData("document.body.appendChild(document.createElement('img')).src = 'http://127.0.0.2:9/x.png'", "127.0.0.2")]
    public async Task A_window_notices_what_a_page_must_not_do(string offence, string noticed)
    {
        Window window = await browser.OnJobAsync("intake");
        await window.Page.EvaluateAsync($"() => {{ {offence}; }}");
        await window.Page.EvaluateAsync("() => new Promise(done => setTimeout(done, 200))");
        Assert.Contains(window.Offences, o => o.Contains(noticed, StringComparison.Ordinal));
        await Assert.ThrowsAnyAsync<Exception>(async () => await window.DisposeAsync());
    }
}
