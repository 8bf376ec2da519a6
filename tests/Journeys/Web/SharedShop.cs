namespace Sparewright.Journeys.Web;

/// <summary>One open shop for all journeys that leave it open, with a job of its own for each: whoever takes one has it alone.</summary>
internal sealed class SharedShop : IAsyncDisposable
{
    /// <summary>Copies of each example: more than there are journeys that want one.</summary>
    private static readonly (string Example, int Copies)[] Stock = [("vent-knuckle", 36), ("line-reel-crank", 12)];

    private readonly Dictionary<string, Queue<string>> _jobs;

    private SharedShop(OpenShop shop, Dictionary<string, Queue<string>> jobs) => (Shop, _jobs) = (shop, jobs);

    public OpenShop Shop { get; }

    /// <summary>Opens it, and finds its jobs in a first window.</summary>
    public static async Task<SharedShop> OpenAsync(Browser browser)
    {
        OpenShop shop = await OpenShop.OpenAsync([.. Stock.SelectMany(s => Enumerable.Repeat(Tool.Example(s.Example), s.Copies))]);
        await using Window window = await browser.OpenAsync(shop);
        IReadOnlyList<(string Part, string Job)> all = await window.AllJobsAsync();
        return new(shop, Stock.ToDictionary(s => s.Example, s => new Queue<string>(all.Where(j => j.Part.Replace(' ', '-').Equals(s.Example, StringComparison.OrdinalIgnoreCase)).Select(j => j.Job))));
    }

    /// <summary>The address of a job that nobody has had yet.</summary>
    public string Take(string example) => _jobs[example].TryDequeue(out string? job) ? job : throw new InvalidOperationException($"there is no copy of {example} left: keep more in stock");

    public ValueTask DisposeAsync() => Shop.DisposeAsync();
}
