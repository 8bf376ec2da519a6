using System.Diagnostics;
using Sparewright.StoreSoak;
using Xunit;
using static Sparewright.Shop.Tests.TestShop;

namespace Sparewright.Shop.Tests;

/// <summary>Full disks, disks that can only be read, no more files: each ends in a value that says so, and what was kept before is there.</summary>
public sealed class FaultTests : IDisposable
{
    private readonly DirectoryInfo _scratch = Directory.CreateTempSubdirectory("shop-fault-");
    private bool _isMounted;

    public void Dispose()
    {
        // Lazily: a process that another test begins holds the files of this one until it runs its own program.
        if (_isMounted) Run("umount", "--lazy", _scratch.FullName);
        _scratch.Delete(recursive: true);
    }

    private string Shop => Path.Combine(_scratch.FullName, "shop");

    [Fact]
    public async Task A_full_disk_is_said_and_loses_nothing_and_with_room_it_goes_on()
    {
        Mount("size=3m");
        await using ShopData shop = Good(ShopData.Open(Shop, TimeProvider.System));
        JobHead head = Good(await shop.Jobs.BeginAsync(Text(1), "begun"));
        StoreProblem? full = null;
        while (full is null)
        {
            Kept<JobHead> kept = await shop.Jobs.EnterAsync(head.Job, head.Latest.Number, Text(head.Latest.Number + 1), "entry");
            if (kept.IsGood) head = kept.Value;
            full = kept.Problem;
            Assert.InRange(head.Latest.Number, 1, 100);
        }

        Assert.Equal(StoreProblemKind.Unavailable, full.Kind);
        Assert.Contains("full", $"{full}", StringComparison.Ordinal);
        Assert.Equal(StoreProblemKind.Unavailable, (await shop.Jobs.AddPhotographAsync(head.Job, "x", "image/png", 1, 1, new byte[2_000_000])).Problem!.Kind);
        Assert.Equal(head, Good(await shop.Jobs.HeadAsync(head.Job)));
        Run("mount", "-o", "remount,size=40m", _scratch.FullName);
        head = Good(await shop.Jobs.EnterAsync(head.Job, head.Latest.Number, Text(head.Latest.Number + 1), "entry"));
        await CheckAsync(shop, head);
        await shop.DisposeAsync();
        await using ShopData again = Good(ShopData.Open(Shop, TimeProvider.System));
        await CheckAsync(again, head);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(8)]
    [InlineData(40)]
    [InlineData(100)]
    public async Task A_shop_that_has_no_room_to_begin_begins_once_there_is_some(int kibibytes)
    {
        Mount("size=400k");
        // All but so much of the disk is taken.
        using (FileStream filler = File.Create(Path.Combine(_scratch.FullName, "filler")))
        {
            try
            {
                while (true)
                {
                    filler.Write(new byte[4096]);
                    filler.Flush();
                }
            }
            catch (IOException)
            {
                filler.SetLength(Math.Max(0, filler.Length - (kibibytes * 1024L)));
            }
        }

        StoreProblem told = ShopData.Open(Shop, TimeProvider.System).Problem!;
        Assert.Equal(StoreProblemKind.Unavailable, told.Kind);
        File.Delete(Path.Combine(_scratch.FullName, "filler"));
        Run("mount", "-o", "remount,size=40m", _scratch.FullName);
        await using ShopData shop = Good(ShopData.Open(Shop, TimeProvider.System));
        Good(await shop.Jobs.BeginAsync(Text(1), "begun"));
    }

    [Fact]
    public async Task A_disk_that_can_only_be_read_is_said()
    {
        Mount("size=20m");
        JobHead head;
        await using (ShopData shop = Good(ShopData.Open(Shop, TimeProvider.System))) head = Good(await shop.Jobs.BeginAsync(Text(1), "begun"));
        Run("mount", "-o", "remount,ro", _scratch.FullName);
        Assert.Equal(StoreProblemKind.Unavailable, ShopData.Open(Shop, TimeProvider.System).Problem!.Kind);
        Assert.Equal(StoreProblemKind.Unavailable, ShopData.Open(Path.Combine(_scratch.FullName, "new"), TimeProvider.System).Problem!.Kind);
        Run("mount", "-o", "remount,rw", _scratch.FullName);
        await using ShopData again = Good(ShopData.Open(Shop, TimeProvider.System));
        Assert.Equal(head, Good(await again.Jobs.HeadAsync(head.Job)));
    }

    [Fact]
    public void A_file_where_the_folder_should_be_is_said()
    {
        File.WriteAllText(Shop, "x");
        Assert.Equal(StoreProblemKind.Unavailable, ShopData.Open(Shop, TimeProvider.System).Problem!.Kind);
        Assert.Equal(StoreProblemKind.Unavailable, ShopData.Open(Path.Combine(Shop, "below"), TimeProvider.System).Problem!.Kind);
        Assert.Equal("x", File.ReadAllText(Shop));
    }

    [Fact]
    public async Task Without_files_to_open_it_is_said_and_afterwards_it_goes_on()
    {
        string[] said = (await RunAsync("prlimit", "--nofile=300:300", "dotnet", Victim.Path, "scarce", Shop)).Split('\n');
        Assert.InRange(int.Parse(said[0]["files ".Length..], System.Globalization.CultureInfo.InvariantCulture), 10, 300);
        // What has its files open already may go on; what needs more says so; nothing ends otherwise.
        Assert.Contains(said[1], (string[])["enter kept", "enter Unavailable"]);
        Assert.Contains(said[2], (string[])["read read", "read Unavailable"]);
        Assert.Equal("open Unavailable", said[3]);
        Assert.Equal(said[1] == "enter kept" ? "after 3" : "after 2", said[4]);
        await using ShopData shop = Good(ShopData.Open(Shop, TimeProvider.System));
        Assert.Single(Good(await shop.Jobs.JobsAsync()));
    }

    private static string Text(int number) => $"sparewright: 1\n# {new string((char)('a' + (number % 26)), 150_000)}\n";

    private static async Task CheckAsync(ShopData shop, JobHead head) =>
        Assert.Equal(Enumerable.Range(1, head.Latest.Number).Reverse().Select(Text), Good(await shop.Jobs.RevisionsAsync(head.Job)).Select(r => r.Text));

    /// <summary>A disk of its own in memory; where that is not allowed the test is skipped.</summary>
    private void Mount(string options)
    {
        using Process mount = Process.Start(new ProcessStartInfo("mount", ["-t", "tmpfs", "-o", options, "tmpfs", _scratch.FullName]) { RedirectStandardError = true })!;
        string errors = mount.StandardError.ReadToEnd();
        mount.WaitForExit();
        _isMounted = mount.ExitCode == 0;
        Assert.SkipUnless(_isMounted, $"A small disk cannot be mounted here, so nothing was tried on one: {errors.Trim()}");
    }

    private static void Run(string program, params string[] arguments)
    {
        using Process process = Process.Start(new ProcessStartInfo(program, arguments))!;
        process.WaitForExit();
        Assert.Equal(0, process.ExitCode);
    }

    private static async Task<string> RunAsync(string program, params string[] arguments)
    {
        using Process process = Process.Start(new ProcessStartInfo(program, arguments) { RedirectStandardOutput = true, RedirectStandardError = true })!;
        Task<string> errors = process.StandardError.ReadToEndAsync();
        string said = await process.StandardOutput.ReadToEndAsync();
        await process.WaitForExitAsync();
        Assert.True(process.ExitCode == 0, $"{process.ExitCode}: {await errors}");
        return said.Trim();
    }
}
