using System.Globalization;
using Sparewright.Shop;

namespace Sparewright.StoreSoak;

/// <summary>A program that writes revisions and says of each when it was acknowledged, until it is killed.</summary>
public static class Victim
{
    /// <summary>Where this program lies, beside whoever refers to it.</summary>
    public static string Path { get; } = System.IO.Path.Combine(AppContext.BaseDirectory, "StoreSoak.dll");

    /// <summary>The text of a revision, known to whoever checks it.</summary>
    public static string TextOf(int number) =>
        string.Create(CultureInfo.InvariantCulture, $"sparewright: 1\npart: Revision {number}\n# {new string((char)('a' + (number % 26)), number * 37 % 3000)}\n");

    /// <summary>Opens a shop of either kind.</summary>
    public static Task<Kept<ShopData>> OpenAsync(string kind, string place) =>
        kind == "sqlite" ? Task.FromResult(ShopData.Open(place, TimeProvider.System)) : ShopData.OpenPostgresAsync(place, TimeProvider.System);

    /// <summary>Writes <c>job ID</c> after the first revision and <c>ack N</c> after each one.</summary>
    public static async Task<int> WriteAsync(string kind, string place, int most)
    {
        Kept<ShopData> opened = await OpenAsync(kind, place).ConfigureAwait(false);
        if (!opened.IsGood) return Fail(opened.Problem);
        await using ShopData shop = opened.Value;
        Kept<JobHead> head = await shop.Jobs.BeginAsync(TextOf(1), "begun").ConfigureAwait(false);
        if (!head.IsGood) return Fail(head.Problem);
        Say($"job {head.Value.Job}");
        Say("ack 1");
        for (int number = 2; number <= most; number++)
        {
            head = await shop.Jobs.EnterAsync(head.Value!.Job, number - 1, TextOf(number), "entry").ConfigureAwait(false);
            if (!head.IsGood) return Fail(head.Problem);
            Say(string.Create(CultureInfo.InvariantCulture, $"ack {number}"));
        }

        return 0;
    }

    /// <summary>
    /// Uses up the files that this process may open, says how the store takes it, gives them back and says how it goes on. Two are left: without any the runtime itself ends the process
    /// as soon as it needs another thread. A database needs three.
    /// </summary>
    public static async Task<int> WriteWithoutFilesAsync(string place)
    {
        Kept<ShopData> opened = ShopData.Open(place, TimeProvider.System);
        if (!opened.IsGood) return Fail(opened.Problem);
        // Another one, opened and closed, so that all code is loaded before there are no files left to load it from.
        await ShopData.Open(place + ".other", TimeProvider.System).Value!.DisposeAsync().ConfigureAwait(false);
        // A thread needs files of its own to begin, and the runtime gives up when it has none: so all threads have begun by then.
        ThreadPool.SetMinThreads(8, 8);
        await Task.WhenAll(Enumerable.Range(0, 8).Select(_ => Task.Run(() => Thread.Sleep(300)))).ConfigureAwait(false);
        await using ShopData shop = opened.Value;
        JobId job = (await shop.Jobs.BeginAsync(TextOf(1), "begun").ConfigureAwait(false)).Value!.Job;
        var hoard = new List<FileStream>();
        try
        {
            while (true) hoard.Add(File.OpenRead("/dev/null"));
        }
        catch (IOException)
        {
            foreach (FileStream file in hoard.TakeLast(2)) await file.DisposeAsync().ConfigureAwait(false);
            Kept<JobHead> entered = await shop.Jobs.EnterAsync(job, 1, TextOf(2), "entry").ConfigureAwait(false);
            Kept<JobHead> read = await shop.Jobs.HeadAsync(job).ConfigureAwait(false);
            Kept<ShopData> another = ShopData.Open(place + ".new", TimeProvider.System);
            foreach (FileStream file in hoard) await file.DisposeAsync().ConfigureAwait(false);
            Say($"files {hoard.Count}");
            Say($"enter {entered.Problem?.Kind.ToString() ?? "kept"}");
            Say($"read {read.Problem?.Kind.ToString() ?? "read"}");
            Say($"open {another.Problem?.Kind.ToString() ?? "opened"}");
        }

        int now = (await shop.Jobs.HeadAsync(job).ConfigureAwait(false)).Value!.Latest.Number;
        Kept<JobHead> after = await shop.Jobs.EnterAsync(job, now, TextOf(now + 1), "entry").ConfigureAwait(false);
        Say($"after {after.Value?.Latest.Number}");
        return 0;
    }

    private static void Say(string line)
    {
        // One write, so that the line is out before anything else is done.
        Console.Out.Write(line + "\n");
        Console.Out.Flush();
    }

    private static int Fail(StoreProblem problem)
    {
        Console.Error.WriteLine(problem);
        return 3;
    }
}
