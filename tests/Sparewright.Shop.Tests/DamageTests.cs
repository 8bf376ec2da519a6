using Sparewright.Shop.Store;
using Xunit;
using static Sparewright.Shop.Tests.TestShop;

namespace Sparewright.Shop.Tests;

/// <summary>A database that was damaged answers truly or says that it is damaged; it never answers with something else, and nothing is written to it.</summary>
public sealed class DamageTests : IDisposable
{
    /// <summary>SQLite documentation, "PRAGMA page_size": 4096 unless said.</summary>
    private const int PageBytes = 4096;

    private readonly DirectoryInfo _scratch = Directory.CreateTempSubdirectory("shop-damage-");

    public void Dispose() => _scratch.Delete(recursive: true);

    private string Shop => Path.Combine(_scratch.FullName, "shop");

    private string File => Path.Combine(Shop, "shop.db");

    [Fact]
    public async Task A_flipped_bit_is_noticed_or_changes_no_answer()
    {
        string[] answers = await FillAsync();
        byte[] whole = await System.IO.File.ReadAllBytesAsync(File);
        var random = new Random(20);
        int noticed = 0;
        for (int k = 0; k < 150; k++)
        {
            byte[] damaged = [.. whole];
            int bit = random.Next(whole.Length * 8);
            damaged[bit / 8] ^= (byte)(1 << (bit % 8));
            noticed += await TruthAsync(damaged, answers, $"bit {bit}") ? 0 : 1;
        }

        Assert.InRange(noticed, 20, 150);
    }

    [Fact]
    public async Task A_file_cut_off_anywhere_is_noticed()
    {
        string[] answers = await FillAsync();
        byte[] whole = await System.IO.File.ReadAllBytesAsync(File);
        for (int length = 0; length < whole.Length; length += Math.Max(1, whole.Length / 40))
        {
            bool isTrue = await TruthAsync(whole[..length], answers, $"{length} bytes");
            // The end of the last page may be empty: without it everything is still there.
            Assert.False(isTrue && length <= whole.Length - PageBytes, $"{length} bytes");
        }

        System.IO.File.Delete(File);
        Assert.Equal(StoreProblemKind.Unavailable, ShopData.Open(Shop, TimeProvider.System).Problem!.Kind);
        Assert.False(System.IO.File.Exists(File));
    }

    [Fact]
    public async Task Rows_changed_by_hand_are_noticed()
    {
        await FillAsync();
        byte[] whole = await System.IO.File.ReadAllBytesAsync(File);
        foreach (string sql in (string[])
        [
            "update job set latest = 3", "update photograph set name = 'x'", "delete from photograph where number = 1", "update photograph set removed_at = null where number = 2", "update photograph set removed_at = '2026-01-01T00:00:00.0000000Z' where number = 1", "update record set number = 2",
            "drop trigger revision_stays; update revision set what = 'x' where number = 6", "drop trigger revision_is_kept; delete from revision where number = 6",
            "drop trigger content_stays; update content set bytes = x'00'",
        ])
        {
            await System.IO.File.WriteAllBytesAsync(File, whole);
            using (var connection = new Microsoft.Data.Sqlite.SqliteConnection($"Data Source={File};Pooling=False"))
            {
                connection.Open();
                using var command = connection.CreateCommand();
                command.CommandText = sql;
                command.ExecuteNonQuery();
            }

            await using ShopData shop = Good(ShopData.Open(Shop, TimeProvider.System));
            Kept<string[]> said = await AnswersAsync(shop);
            Assert.True(said.Problem is { Kind: StoreProblemKind.Unavailable }, sql);
            Assert.Contains("damaged", said.Problem.What, StringComparison.Ordinal);
        }
    }

    [Theory]
    [InlineData("update revision set what = 'x'")]
    [InlineData("delete from revision")]
    [InlineData("update content set bytes = x'00'")]
    [InlineData("delete from content")]
    public async Task What_was_kept_cannot_be_changed_in_passing(string sql)
    {
        await FillAsync();
        using var connection = new Microsoft.Data.Sqlite.SqliteConnection($"Data Source={File};Pooling=False");
        connection.Open();
        using var command = connection.CreateCommand();
        command.CommandText = sql;
        Assert.Contains("is never", Assert.Throws<Microsoft.Data.Sqlite.SqliteException>(() => command.ExecuteNonQuery()).Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_shop_of_a_newer_version_is_left_alone()
    {
        await FillAsync();
        using (var connection = new Microsoft.Data.Sqlite.SqliteConnection($"Data Source={File};Pooling=False"))
        {
            connection.Open();
            using var command = connection.CreateCommand();
            command.CommandText = "insert into SchemaVersions (ScriptName, Applied) values ('sqlite/0099-later.sql', '2030-01-01')";
            command.ExecuteNonQuery();
        }

        StoreProblem told = ShopData.Open(Shop, TimeProvider.System).Problem!;
        Assert.Equal(StoreProblemKind.Refused, told.Kind);
        Assert.Contains("0099-later", told.What, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_shop_from_before_photographs_could_be_removed_keeps_them()
    {
        await FillAsync();
        using (var connection = new Microsoft.Data.Sqlite.SqliteConnection($"Data Source={File};Pooling=False"))
        {
            connection.Open();
            using var command = connection.CreateCommand();
            // As the first script alone left it.
            command.CommandText = "delete from photograph where removed_at is not null; alter table photograph drop column removed_at; delete from SchemaVersions where ScriptName like '%0002-photographs-removed%'";
            command.ExecuteNonQuery();
        }

        await using ShopData shop = Good(ShopData.Open(Shop, TimeProvider.System));
        JobId job = Good(await shop.Jobs.JobsAsync()).Single().Job;
        Assert.Equal("0.png", Good(await shop.Jobs.PhotographsAsync(job)).There.Single().Name);
        Good(await shop.Jobs.RemovePhotographAsync(job, 1));
        Assert.Empty(Good(await shop.Jobs.PhotographsAsync(job)).There);
    }

    [Theory]
    [InlineData("nfs4", false)]
    [InlineData("cifs", false)]
    [InlineData("9p", false)]
    [InlineData("fuse.sshfs", false)]
    [InlineData("ext4", true)]
    [InlineData("btrfs", true)]
    [InlineData("overlay", true)]
    [InlineData("tmpfs", true)]
    public void A_disk_of_another_machine_will_not_do(string format, bool will) => Assert.Equal(will, DataFolder.LiesElsewhere(format, "x") is null);

    [Fact]
    public async Task Others_cannot_look_into_the_folder()
    {
        await FillAsync();
        if (!OperatingSystem.IsWindows()) Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute, System.IO.File.GetUnixFileMode(Shop));
    }

    [Fact]
    public async Task Two_programs_on_one_shop_see_and_keep_what_the_other_does()
    {
        await using ShopData one = Good(ShopData.Open(Shop, TimeProvider.System)), other = Good(ShopData.Open(Shop, TimeProvider.System));
        JobHead head = Good(await one.Jobs.BeginAsync("0", "begun"));
        Good(await other.Jobs.EnterAsync(head.Job, 1, "theirs", "theirs"));
        Assert.Equal("theirs", (await one.Jobs.EnterAsync(head.Job, 1, "mine", "mine")).Problem!.Head!.Latest.Text);
    }

    [Fact]
    public async Task Many_that_open_a_new_shop_at_once_make_it_once()
    {
        ShopData[] shops = await Task.WhenAll(Enumerable.Range(0, 6).Select(_ => Task.Run(() => Good(ShopData.Open(Shop, TimeProvider.System)))));
        await Task.WhenAll(shops.Select(async s => Good(await s.Jobs.BeginAsync("0", "begun"))));
        Assert.Equal(6, Good(await shops[0].Jobs.JobsAsync()).Count);
        foreach (ShopData shop in shops) await shop.DisposeAsync();
    }

    /// <summary>A shop with something of everything, closed again.</summary>
    private async Task<string[]> FillAsync()
    {
        await using ShopData shop = Good(ShopData.Open(Shop, TimeProvider.System));
        JobHead head = Good(await shop.Jobs.BeginAsync("sparewright: 1\npart: Hinge\n", "begun"));
        for (int k = 1; k < 6; k++) head = Good(await shop.Jobs.EnterAsync(head.Job, k, $"sparewright: 1\npart: Hinge {k}\n# {new string('x', 700 * k)}\n", $"entry {k}"));
        head = Good(await shop.Jobs.UndoAsync(head.Job, 6));
        for (int k = 0; k < 2; k++) Good(await shop.Jobs.AddPhotographAsync(head.Job, $"{k}.png", "image/png", 4, 4, Enumerable.Range(0, 9000).Select(n => (byte)(n * (k + 3))).ToArray()));
        Good(await shop.Jobs.RemovePhotographAsync(head.Job, 2));
        Good(await shop.Records.KeepAsync(new RecordName(RecordKind.Machine, "printer"), 0, "kind: MEX\n"));
        return Good(await AnswersAsync(shop));
    }

    /// <returns>True when every answer was the true one, false when the damage was noticed; anything else fails the test.</returns>
    private async Task<bool> TruthAsync(byte[] damaged, string[] answers, string how)
    {
        foreach (string left in Directory.GetFiles(Shop, "shop.db*")) System.IO.File.Delete(left);
        await System.IO.File.WriteAllBytesAsync(File, damaged);
        Kept<ShopData> opened = ShopData.Open(Shop, TimeProvider.System);
        if (!opened.IsGood)
        {
            Assert.Contains(opened.Problem.Kind, (StoreProblemKind[])[StoreProblemKind.Unavailable, StoreProblemKind.Refused]);
            Assert.Equal(damaged, await System.IO.File.ReadAllBytesAsync(File));
            return false;
        }

        await using ShopData shop = opened.Value;
        Kept<string[]> said = await AnswersAsync(shop);
        if (!said.IsGood)
        {
            Assert.True(said.Problem.Kind is StoreProblemKind.Unavailable, $"{how}: {said.Problem}");
            return false;
        }

        Assert.True(answers.SequenceEqual(said.Value), $"{how}: {string.Join(" | ", said.Value.Except(answers))}");
        return true;
    }

    private static async Task<Kept<string[]>> AnswersAsync(ShopData shop)
    {
        var said = new List<string>();
        var jobs = await shop.Jobs.JobsAsync();
        if (!jobs.IsGood) return jobs.Problem;
        foreach (JobEntry job in jobs.Value)
        {
            said.Add($"{job}");
            var head = await shop.Jobs.HeadAsync(job.Job);
            if (!head.IsGood) return head.Problem;
            said.Add($"{head.Value}");
            var revisions = await shop.Jobs.RevisionsAsync(job.Job);
            if (!revisions.IsGood) return revisions.Problem;
            said.AddRange(revisions.Value.Select(r => $"{r}"));
            var photographs = await shop.Jobs.PhotographsAsync(job.Job);
            if (!photographs.IsGood) return photographs.Problem;
            said.AddRange(photographs.Value.Removed.Select(p => $"removed {p}"));
            foreach (Photograph photograph in photographs.Value.There)
            {
                var content = await shop.Jobs.PhotographContentAsync(job.Job, photograph.Number);
                if (!content.IsGood) return content.Problem;
                said.Add($"{photograph} {Sealed.HashOf(content.Value)}");
            }
        }

        var records = await shop.Records.RecordsAsync(RecordKind.Machine);
        if (!records.IsGood) return records.Problem;
        said.AddRange(records.Value.Select(r => $"{r}"));
        return said.ToArray();
    }
}
