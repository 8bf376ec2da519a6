using System.Diagnostics;
using System.Globalization;
using Sparewright.Shop;

namespace Sparewright.StoreSoak;

/// <summary>What became of what the victims had acknowledged.</summary>
/// <param name="Kept">Revisions found again, the last unacknowledged ones among them.</param>
/// <param name="Losses">One line for each acknowledged revision that was lost or changed, and for each shop that could not be opened again.</param>
public sealed record KillReport(string Kind, int Rounds, int Acknowledged, int Kept, int BeforeTheFirst, double Seconds, IReadOnlyList<string> Losses)
{
    public bool IsGood => Losses.Count == 0;

    public override string ToString() => string.Create(CultureInfo.InvariantCulture,
        $"{Kind}: {Rounds} kills ({BeforeTheFirst} before the first acknowledgement), {Acknowledged} revisions acknowledged, {Kept} kept, {Losses.Count} lost; {Seconds:0} s{string.Concat(Losses.Take(20).Select(l => $"\n  {l}"))}");
}

/// <summary>
/// Kills the writing program, or with PostgreSQL every other time the server and all its processes, with SIGKILL at random moments; opens the shop again and compares.
/// This proves that nothing is acknowledged before it is handed to the kernel. It cannot tell whether it was synced, since the kernel lives on: that is for <see cref="SyncTrace"/>.
/// </summary>
public static class KillRounds
{
    /// <param name="server">Null: SQLite.</param>
    public static async Task<KillReport> RunAsync(int rounds, int seed, PostgresServer? server, TextWriter? progress = null)
    {
        string kind = server is null ? "sqlite" : "postgresql";
        string folder = Directory.CreateTempSubdirectory("shop-kill-").FullName;
        string place = server?.NewDatabase() ?? Path.Combine(folder, "shop");
        var random = new Random(seed);
        var acknowledged = new Dictionary<JobId, int>();
        var losses = new List<string>();
        int kept = 0, none = 0;
        var clock = Stopwatch.StartNew();
        try
        {
            for (int round = 1; round <= rounds; round++)
            {
                bool killsServer = server is not null && round % 2 == 0;
                var (job, last) = KillOne(kind, place, random, killsServer ? server : null);
                if (killsServer) server!.Start();
                if (job is not { } written) none++;
                else acknowledged[written] = last;
                Kept<ShopData> opened = await Victim.OpenAsync(kind, place).ConfigureAwait(false);
                if (!opened.IsGood) losses.Add($"round {round}: {opened.Problem}");
                else
                {
                    await using ShopData shop = opened.Value;
                    if (job is { } now) kept += await CheckAsync(shop, now, last, $"round {round}", losses).ConfigureAwait(false);
                    // At the end all of them once more: a later crash must not take what an earlier one left.
                    if (round == rounds)
                        foreach (var (earlier, number) in acknowledged) await CheckAsync(shop, earlier, number, $"at the end, {earlier}", losses).ConfigureAwait(false);
                }

                if (round % 50 == 0) progress?.WriteLine($"{kind}: {round} kills, {acknowledged.Values.Sum()} acknowledged, {losses.Count} lost");
            }
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }

        return new KillReport(kind, rounds, acknowledged.Values.Sum(), kept, none, clock.Elapsed.TotalSeconds, losses);
    }

    /// <returns>The job that the victim wrote and the last number that it acknowledged.</returns>
    private static (JobId? Job, int Last) KillOne(string kind, string place, Random random, PostgresServer? server)
    {
        var start = new ProcessStartInfo("dotnet") { RedirectStandardOutput = true, RedirectStandardError = true };
        foreach (string argument in (string[])[Victim.Path, "write", kind, place, "1000000"]) start.ArgumentList.Add(argument);
        using Process victim = Process.Start(start)!;
        Task<string> errors = victim.StandardError.ReadToEndAsync();
        string? first = null;
        // Most die while they write; some while they start and open.
        if (random.Next(5) == 0) Thread.Sleep(random.Next(600));
        else
        {
            first = victim.StandardOutput.ReadLine();
            Thread.Sleep(random.Next(kind == "sqlite" ? 150 : 400));
        }

        if (server is null) victim.Kill();
        else server.Kill();
        string all = (first is null ? "" : first + "\n") + victim.StandardOutput.ReadToEnd();
        victim.WaitForExit();
        _ = errors.Result;
        // What stands behind the last line end was not said to the end.
        string[] lines = all[..(all.LastIndexOf('\n') + 1)].Split('\n', StringSplitOptions.RemoveEmptyEntries);
        JobId? job = lines.Length > 0 && lines[0].StartsWith("job ", StringComparison.Ordinal) ? new JobId(lines[0][4..]) : null;
        return (job, lines.Length > 1 ? int.Parse(lines[^1][4..], CultureInfo.InvariantCulture) : job is null ? 0 : 1);
    }

    /// <returns>How many revisions there are.</returns>
    private static async Task<int> CheckAsync(ShopData shop, JobId job, int last, string when, List<string> losses)
    {
        Kept<IReadOnlyList<Revision>> revisions = await shop.Jobs.RevisionsAsync(job).ConfigureAwait(false);
        if (!revisions.IsGood)
        {
            losses.Add($"{when}: {revisions.Problem}");
            return 0;
        }

        // One more than was acknowledged: it was kept, and the victim died before it could say so.
        if (revisions.Value.Count < last || revisions.Value.Count > last + 1) losses.Add($"{when}: {last} acknowledged, {revisions.Value.Count} kept");
        losses.AddRange(revisions.Value.Where(r => r.Text != Victim.TextOf(r.Number)).Select(r => $"{when}: revision {r.Number} has another text"));
        return revisions.Value.Count;
    }
}
