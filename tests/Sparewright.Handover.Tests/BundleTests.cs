using System.IO.Compression;
using System.Text;
using CsCheck;
using SkiaSharp;
using Sparewright.Handover.Files;
using Sparewright.Handover.Papers;
using Sparewright.Part;
using Xunit;

namespace Sparewright.Handover.Tests;

/// <summary>Bundles and folders of papers that are as they should be; <see cref="HostileBundleTests"/> has the others.</summary>
public sealed class BundleTests : IDisposable
{
    private readonly DirectoryInfo _scratch = Directory.CreateTempSubdirectory("sparewright-test-");

    public void Dispose() => _scratch.Delete(recursive: true);

    private string At(params string[] path) => Path.Combine([_scratch.FullName, .. path]);

    [Fact]
    public async Task A_job_comes_out_of_its_bundle_byte_for_byte()
    {
        Dictionary<string, byte[]> job = Job();
        Lay(At("job"), job);
        byte[] bundle = await BundleOf(At("job"));
        Assert.True(Bundle.TryRead(new MemoryStream(bundle), out JobPapers? papers, out Problem? problem), problem?.What);
        Assert.Empty(papers.Remarks);
        Assert.Null(await JobFolder.WriteAsync(papers, At("again"), default));
        Assert.Equal(job, Found(At("again")));
        // The same job gives the same bundle, wherever it lies and whenever that is.
        Assert.Equal(bundle, await BundleOf(At("again")));
    }

    [Fact]
    public async Task A_bundle_can_be_read_with_any_zip_program()
    {
        Lay(At("job"), Job());
        using var zip = new ZipArchive(new MemoryStream(await BundleOf(At("job"))));
        Assert.Equal(["job.yaml", "photographs/break.png", "trials/ladder-1.yaml", "out/part.3mf"], zip.Entries.Select(e => e.FullName));
        using var reader = new StreamReader(zip.GetEntry("trials/ladder-1.yaml")!.Open());
        Assert.Equal("went_in: [11.9, 12.0]\n", await reader.ReadToEndAsync());
    }

    [Fact]
    public async Task What_packs_far_too_well_is_stored_so_that_it_can_be_read_again()
    {
        var job = Job();
        job["out/empty.txt"] = new byte[3_000_000];
        Lay(At("job"), job);
        byte[] bundle = await BundleOf(At("job"));
        Assert.True(Bundle.TryRead(new MemoryStream(bundle), out JobPapers? papers, out Problem? problem), problem?.What);
        Assert.Equal(job["out/empty.txt"], await papers.Find("out/empty.txt")!.ReadAsync(default));
    }

    [Fact]
    public async Task Photographs_go_into_a_bundle_without_what_the_camera_wrote()
    {
        var job = Job();
        job["photographs/held.jpg"] = PhotographTests.WithExif(PhotographTests.Picture(SKEncodedImageFormat.Jpeg), 6);
        job["photographs/break.webp"] = PhotographTests.Picture(SKEncodedImageFormat.Webp);
        Lay(At("job"), job);
        byte[] bundle = await BundleOf(At("job"));
        Assert.DoesNotContain("Exif", Encoding.Latin1.GetString(bundle), StringComparison.Ordinal);
        Assert.True(Bundle.TryRead(new MemoryStream(bundle), out JobPapers? papers, out _));
        Assert.Equal(["photographs/break.jpg", "photographs/break.png", "photographs/held.jpg"], papers.In("photographs").Select(p => p.Name));
    }

    [Fact]
    public async Task What_is_no_paper_of_the_job_is_left_out_and_named()
    {
        Lay(At("job"), Job());
        File.WriteAllText(At("job", "notes.txt"), "x");
        Directory.CreateDirectory(At("job", "out", ".making"));
        File.WriteAllText(At("elsewhere"), "secret");
        File.CreateSymbolicLink(At("job", "trials", "link.yaml"), At("elsewhere"));
        Assert.True(JobFolder.TryRead(At("job"), out JobPapers? papers, out _));
        Assert.Equal(["notes.txt does not belong to the job's papers and is left out", "out/.making does not belong to the job's papers and is left out", "trials/link.yaml is a link and is left out"], papers.Remarks.Order(StringComparer.Ordinal));
        Assert.Equal(Job().Keys.Order(StringComparer.Ordinal), papers.All.Select(p => p.Name).Order(StringComparer.Ordinal));
    }

    [Fact]
    public async Task A_folder_that_holds_something_is_left_alone_and_a_stopped_run_leaves_none()
    {
        Lay(At("job"), Job());
        Assert.True(JobFolder.TryRead(At("job"), out JobPapers? papers, out _));
        Assert.Contains("left as it is", (await JobFolder.WriteAsync(papers, At("job"), default))!.What, StringComparison.Ordinal);
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => JobFolder.WriteAsync(papers, At("new"), new CancellationToken(canceled: true)));
        var lost = papers with { All = [.. papers.All, new Paper("out/lost.txt", _ => throw new IOException("gone"))] };
        await Assert.ThrowsAsync<IOException>(() => JobFolder.WriteAsync(lost, At("new"), default));
        Assert.Equal(["job"], Directory.GetFileSystemEntries(_scratch.FullName).Select(Path.GetFileName));
    }

    [Theory]
    [InlineData("../../etc/passwd", "etc-passwd")]
    [InlineData("..\\..\\boot.ini", "boot.ini")]
    [InlineData("C:\\x", "C--x")]
    [InlineData("NUL.txt", "a-NUL.txt")]
    [InlineData("", "file")]
    [InlineData("...", "file")]
    [InlineData(".hidden", "hidden")]
    [InlineData("Bruch ä (2).jpg", "Bruch ä (2).jpg")]
    [InlineData("a\u0000b\nc", "a-b-c")]
    public void A_name_of_any_kind_becomes_one_of_ours(string text, string name) => Assert.Equal(name, PaperNames.Make(text, new HashSet<string>()));

    [Fact]
    public void Half_a_character_in_a_name_is_none() => Assert.Equal("x-y", PaperNames.Make("x\ud800y", new HashSet<string>()));

    [Fact]
    public void Names_of_our_making_stay_within_their_folder_and_apart()
    {
        Gen.String.Array[1, 20].Sample(texts =>
        {
            var taken = new HashSet<string>(StringComparer.OrdinalIgnoreCase);
            string[] names = [.. texts.Select(t => PaperNames.Make(t, taken))];
            return names.Distinct(StringComparer.OrdinalIgnoreCase).Count() == names.Length
                && names.All(n => n.Length is > 0 and <= 120 && Path.GetFileName(n) == n && n is not ("." or "..") && !n.Contains('\\', StringComparison.Ordinal) && !n.Any(char.IsControl))
                && texts.All(t => PaperNames.IsPlain(PaperNames.Make(t, new HashSet<string>())));
        });
    }

    [Fact]
    public void The_sum_of_any_bytes_is_that_of_the_standard_in_whatever_blocks_they_come()
    {
        // Check value of CRC-32/ISO-HDLC over "123456789", as the catalogues of such sums give it (from memory).
        var known = new Crc32();
        known.Add("123456789"u8);
        Assert.Equal(0xCBF43926, known.Value);
        Gen.Select(Gen.Byte.Array[0, 100], Gen.Int[0, 100]).Sample((bytes, cut) =>
        {
            uint slow = ~0u;
            foreach (byte b in bytes)
            {
                slow ^= b;
                for (int bit = 0; bit < 8; bit++) slow = (slow & 1) != 0 ? 0xEDB88320 ^ (slow >> 1) : slow >> 1;
            }

            var sum = new Crc32();
            sum.Add(bytes.AsSpan(0, Math.Min(cut, bytes.Length)));
            sum.Add(bytes.AsSpan(Math.Min(cut, bytes.Length)));
            return sum.Value == ~slow;
        });
    }

    internal static async Task<byte[]> BundleOf(string folder)
    {
        Assert.True(JobFolder.TryRead(folder, out JobPapers? papers, out Problem? problem), problem?.What);
        using var stream = new MemoryStream();
        var (bundled, refused) = await Bundle.WriteAsync(papers, stream, default);
        Assert.True(bundled is not null, refused?.What);
        return stream.ToArray();
    }

    private static Dictionary<string, byte[]> Job()
    {
        Assert.True(Photographs.CleanPhotograph.TryRead(PhotographTests.Picture(SKEncodedImageFormat.Png), out var photograph, out _));
        return new()
        {
            ["job.yaml"] = Encoding.UTF8.GetBytes("sparewright: 1\r\npart: Schräge Lasche\n# odd line ends\n"),
            ["photographs/break.png"] = photograph.Content,
            ["trials/ladder-1.yaml"] = "went_in: [11.9, 12.0]\n"u8.ToArray(),
            ["out/part.3mf"] = [.. Enumerable.Range(0, 5000).Select(k => (byte)(k * k >> 3))],
        };
    }

    private static void Lay(string folder, Dictionary<string, byte[]> files)
    {
        foreach (var (name, content) in files)
        {
            Directory.CreateDirectory(Path.GetDirectoryName(Path.Combine(folder, name))!);
            File.WriteAllBytes(Path.Combine(folder, name), content);
        }
    }

    private static Dictionary<string, byte[]> Found(string folder) =>
        Directory.GetFiles(folder, "*", SearchOption.AllDirectories).ToDictionary(f => Path.GetRelativePath(folder, f), File.ReadAllBytes);
}
