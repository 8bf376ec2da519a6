using Microsoft.Playwright;

namespace Sparewright.Journeys.Web;

/// <summary>The shop's pages, as somebody finds them who follows every link of the index: steps that are added are found by themselves.</summary>
internal static class Pages
{
    /// <summary>A page's name, fit for a file, and its address.</summary>
    internal sealed record Entry(string Name, string Path);

    /// <summary>All pages of a shop with at least one job in it.</summary>
    public static async Task<IReadOnlyList<Entry>> AllAsync(Window window)
    {
        string job = (await window.JobsAsync()).Values.First();
        var pages = new List<Entry> { new("jobs", ""), new("no-such-page", "nowhere") };
        // Pages beside the list of jobs, such as the one that begins a new job.
        foreach (ILocator link in await window.Page.Locator("a[href]:not([href^='jobs/'])").AllAsync())
            if (await link.GetAttributeAsync("href") is { Length: > 0 } path && path.All(c => char.IsAsciiLetterOrDigit(c) || c is '-' or '/') && pages.All(p => p.Path != path))
                pages.Add(new(path.Trim('/').Replace('/', '-'), path));
        await window.GoAsync($"{job}/readings");
        foreach (ILocator link in await window.Page.Locator("nav.index a[href^='jobs/']").AllAsync())
            if (await link.GetAttributeAsync("href") is { } path) pages.Add(new(path.Split('/')[^1], path));
        return pages;
    }
}
