using System.Text;
using Microsoft.Playwright;
using Xunit;

namespace Sparewright.Journeys.Web;

/// <summary>Readings out as a table and in again.</summary>
[Collection(BrowserJourneys.Name)]
public sealed class TableJourneys(Browser browser)
{
    [Fact]
    public async Task Readings_go_out_as_a_table_and_come_in_again_also_when_one_file_follows_the_other_at_once()
    {
        await using Window window = await browser.OnJobAsync(null, "line-reel-crank");
        await window.ServerIsSlowAsync(() => TimeSpan.FromMilliseconds(150));
        await window.GoToAsync("readings");
        // The framework's file field listens only once the server has heard that it is drawn.
        await window.UntilAsync("document.querySelector('section.csv input[type=file]')?._blazorInputFileNextFileId === 0");
        ILocator section = window.Page.Locator("section.csv");
        string table = await (await window.Page.Context.APIRequest.GetAsync(window.Shop.Page((await section.Locator("a.out").GetAttributeAsync("href"))!))).TextAsync();

        await ChooseAsync("same.csv", table);
        await Assertions.Expect(section.GetByRole(AriaRole.Status)).ToContainTextAsync("same.csv holds nothing that is not there already (42 readings the same)");

        // Whoever took the wrong file takes the right one before the first is read.
        string changed = table.Replace("57.18,57.18", "57.20,57.21", StringComparison.Ordinal);
        Assert.NotEqual(table, changed);
        await ChooseAsync("wrong.csv", table + "nonsense\r\n" + new string('x', 700_000));
        await ChooseAsync("right.csv", changed);
        await Assertions.Expect(section.GetByRole(AriaRole.Status)).ToContainTextAsync("right.csv would change 1 reading and add 0 readings; 41 stay the same.");
        await window.Page.WaitForTimeoutAsync(1000);
        await Assertions.Expect(section).Not.ToContainTextAsync("wrong.csv");

        await section.GetByRole(AriaRole.Button, new() { Name = "Take these in" }).ClickAsync();
        await Assertions.Expect(window.Page.Locator("[role=row][data-row]").First).ToContainTextAsync("57.20 57.21");
        Assert.Contains("57.20,57.21", await (await window.Page.Context.APIRequest.GetAsync(window.Shop.Page($"{window.Job}/readings.csv"))).TextAsync(), StringComparison.Ordinal);

        Task ChooseAsync(string name, string content) => section.Locator("input[type=file]").SetInputFilesAsync(new FilePayload { Name = name, MimeType = "text/csv", Buffer = Encoding.UTF8.GetBytes(content) });
    }
}
