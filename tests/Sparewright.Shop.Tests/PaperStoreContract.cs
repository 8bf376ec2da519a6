using System.Text;
using CsCheck;
using Sparewright.Handover.Papers;
using Sparewright.Handover.Photographs;
using Sparewright.Shop.Papers;
using Xunit;
using static Sparewright.Shop.Tests.TestShop;

namespace Sparewright.Shop.Tests;

/// <summary>What goes into the shop as a folder or bundle comes out again.</summary>
public class PaperStoreContract(Postgres postgres)
{
    public static TheoryData<string> Kinds => TestShop.Kinds;

    [Theory]
    [MemberData(nameof(Kinds))]
    public async Task A_folder_comes_out_byte_for_byte(string kind)
    {
        await using TestShop shop = await OpenAsync(kind, postgres);
        JobPapers papers = Papers();
        TakenIn taken = Good(await shop.Data.Papers.TakeInAsync(papers, "hinge"));
        Assert.Empty(taken.Remarks);
        Assert.Equal((1, RevisionKind.Begun, "taken in from hinge"), (taken.Head.Latest.Number, taken.Head.Latest.Kind, taken.Head.Latest.What));
        await shop.ReopenAsync();
        JobPapers again = Good(await shop.Data.Papers.HandOutAsync(taken.Head.Job));
        Assert.Equal(await ContentsOf(papers), await ContentsOf(again));
        Assert.Equal("went_in: 12\n", Assert.Single(Good(await shop.Data.Records.RecordsAsync(RecordKind.Trial, taken.Head.Job))).Text);
        Assert.Equal(("break.png", 8, 4), Good(await shop.Jobs.PhotographsAsync(taken.Head.Job)).There.Select(p => (p.Name, p.WidthPx, p.HeightPx)).Single());
    }

    [Theory]
    [MemberData(nameof(Kinds))]
    public async Task Revisions_go_along_and_undo_goes_on_where_it_was(string kind)
    {
        await using TestShop shop = await OpenAsync(kind, postgres);
        JobHead head = Good(await shop.Jobs.BeginAsync("0", "begun"));
        head = Good(await shop.Jobs.EnterAsync(head.Job, 1, "1", "one"));
        head = Good(await shop.Jobs.EnterAsync(head.Job, 2, "2", "two"));
        head = Good(await shop.Jobs.UndoAsync(head.Job, 3));
        JobPapers papers = Good(await shop.Data.Papers.HandOutAsync(head.Job));
        // By way of a bundle.
        using var file = new MemoryStream();
        Assert.Null((await Bundle.WriteAsync(papers, file, default)).Problem);
        Assert.True(Bundle.TryRead(file, out JobPapers? bundled, out var problem), problem?.What);
        JobHead other = Good(await shop.Data.Papers.TakeInAsync(bundled, "x")).Head;
        Assert.NotEqual(head.Job, other.Job);
        Assert.Equal((head.Latest with { Job = other.Job }, head.Undoes, head.Redoes), (other.Latest, other.Undoes, other.Redoes));
        Assert.Equal(Good(await shop.Jobs.RevisionsAsync(head.Job)).Select(r => r with { Job = other.Job }), Good(await shop.Jobs.RevisionsAsync(other.Job)));
        Assert.Equal("2", Good(await shop.Jobs.RedoAsync(other.Job, 4)).Latest.Text);
        Assert.Equal(await ContentsOf(papers), await ContentsOf(Good(await shop.Data.Papers.HandOutAsync(head.Job))));
    }

    [Theory]
    [MemberData(nameof(Kinds))]
    public async Task A_job_file_changed_outside_is_one_more_revision(string kind)
    {
        await using TestShop shop = await OpenAsync(kind, postgres);
        JobHead head = Good(await shop.Jobs.BeginAsync("0", "begun"));
        Good(await shop.Jobs.EnterAsync(head.Job, 1, "1", "one"));
        JobPapers papers = Good(await shop.Data.Papers.HandOutAsync(head.Job));
        var changed = JobPapers.Of([.. papers.All.Where(p => p.Name != "job.yaml"), Paper.Of("job.yaml", "elsewhere"u8.ToArray())], []);
        JobHead taken = Good(await shop.Data.Papers.TakeInAsync(changed, "x")).Head;
        Assert.Equal((3, "elsewhere", "changed outside the shop"), (taken.Latest.Number, taken.Latest.Text, taken.Latest.What));
    }

    [Theory]
    [MemberData(nameof(Kinds))]
    public async Task What_cannot_be_taken_in_leaves_nothing_behind(string kind)
    {
        await using TestShop shop = await OpenAsync(kind, postgres);
        JobPapers good = Papers();
        foreach (var (paper, says) in (IEnumerable<(Paper, string)>)
        [
            (Paper.Of("photographs/x.png", "no picture"u8.ToArray()), "no PNG, JPEG or WebP"),
            (Paper.Of("trials/x.yaml", [0xFF, 0xFE, 0x00]), "not UTF-8"),
            (Paper.Of("revisions.txt", "something else"u8.ToArray()), "revisions.txt cannot be read"),
            (Paper.Of("revisions.txt", "sparewright revisions 1\n\nrevision 1 undo 2026-01-01T00:00:00.0000000Z 1 bytes: x\n0\n"u8.ToArray()), "revisions.txt cannot be followed"),
            (Paper.Of("revisions.txt", "sparewright revisions 1\n\nrevision 1 begun 2026-01-01T00:00:00.0000000Z 1 bytes: x\n0\n\nrevision 2 redo 2026-01-01T00:00:00.0000000Z text of 1: x\n"u8.ToArray()), "revisions.txt cannot be followed"),
            (new Paper("out/x", _ => throw new IOException("the disk is gone")), "the disk is gone"),
        ])
        {
            Kept<TakenIn> taken = await shop.Data.Papers.TakeInAsync(JobPapers.Of([.. good.All, paper], []), "x");
            Assert.False(taken.IsGood);
            Assert.Contains(says, taken.Problem.What, StringComparison.Ordinal);
        }

        Assert.Empty(Good(await shop.Jobs.JobsAsync()));
    }

    [Fact]
    public void A_history_is_read_as_it_was_written()
    {
        Gen<Revision> revision = Gen.Select(Gen.Int[0, 3], Gen.String[Gen.Char["ab: \nä€\r"], 0, 12], Gen.String[Gen.Char["ab: ä"], 0, 12], Gen.DateTime[new DateTime(2000, 1, 1), new DateTime(2100, 1, 1)],
            (kind, text, what, at) => new Revision(default, 0, (RevisionKind)kind, what.Trim(), new DateTimeOffset(DateTime.SpecifyKind(at, DateTimeKind.Utc)), text));
        revision.Array[1, 12].Sample(revisions =>
        {
            Revision[] numbered = [.. revisions.Select((r, k) => r with { Number = k + 1 })];
            Assert.Equal(numbered, Good(History.Read(History.Write(numbered))));
        });
    }

    [Fact]
    public void A_history_changed_at_any_byte_is_read_or_refused()
    {
        byte[] whole = History.Write([new Revision(default, 1, RevisionKind.Begun, "begun", DateTimeOffset.UnixEpoch, "text\n"), new Revision(default, 2, RevisionKind.Undo, "undo", DateTimeOffset.UnixEpoch, "text\n")]);
        for (int length = 0; length < whole.Length; length++) _ = History.Read(whole[..length]).IsGood;
        for (int at = 0; at < whole.Length; at++)
            for (int value = 0; value < 256; value += 5)
            {
                byte[] changed = [.. whole];
                changed[at] = (byte)value;
                Kept<IReadOnlyList<Revision>> read = History.Read(changed);
                Assert.True(read.IsGood || read.Problem.What.Length > 0);
            }
    }

    private static JobPapers Papers()
    {
        using var bitmap = new SkiaSharp.SKBitmap(8, 4);
        bitmap.Erase(SkiaSharp.SKColors.Teal);
        using SkiaSharp.SKData png = bitmap.Encode(SkiaSharp.SKEncodedImageFormat.Png, 100);
        Assert.True(CleanPhotograph.TryRead(png.ToArray(), out CleanPhotograph? photograph, out _));
        return JobPapers.Of(
        [
            Paper.Of("job.yaml", Encoding.UTF8.GetBytes("\ufeffsparewright: 1\r\npart: Schräge Lasche\r\n# odd \t\n")), Paper.Of("photographs/break.png", photograph.Content),
            Paper.Of("trials/ladder-1.yaml", "went_in: 12\n"u8.ToArray()), Paper.Of("out/part_as-measured_mm.stl", [.. Enumerable.Range(0, 999).Select(k => (byte)k)]),
        ], []);
    }

    private static async Task<Dictionary<string, string>> ContentsOf(JobPapers papers)
    {
        var contents = new Dictionary<string, string>();
        foreach (Paper paper in papers.All) contents[paper.Name] = Convert.ToHexString(await paper.ReadAsync(default));
        return contents;
    }
}
