using Sparewright.Measure.Quantities;
using Sparewright.Part.Record;
using Sparewright.Shop;
using Sparewright.Web.Desk;
using Sparewright.Web.Readings;
using Xunit;

namespace Sparewright.Web.Tests.Readings;

/// <summary>What becomes of the job's text, and of two windows at the same reading.</summary>
public class ReadingWriterTests
{
    private static string Knuckle => Jobs.Examples["vent-knuckle"];

    private static Entered Typed(string text) => EntryText.TryRead(text, LengthUnit.Millimetre, out Entered? e, out _) ? e : throw new ArgumentException(text);

    private static IReadOnlyList<LedgerRow> Rows(JobDesk desk, LengthUnit unit = LengthUnit.Millimetre) => LedgerRow.All(desk.Live, unit, new RowKeys());

    private static SeenReading Seen(JobDesk desk, int row) => new(row, Rows(desk)[row].Text);

    [Fact]
    public async Task A_repeat_is_added_where_it_belongs_and_nothing_else_changes()
    {
        await using OpenShop shop = await OpenShop.WithAsync(Knuckle);
        var writer = new ReadingWriter(shop.Desk);
        Assert.True((await writer.AppendAsync(Seen(shop.Desk, 0), Typed("17,02"), "r1")).IsGood);
        Assert.True((await writer.AppendAsync(Seen(shop.Desk, 5), Typed("48.01"), "r6")).IsGood);
        Assert.True((await writer.AppendAsync(Seen(shop.Desk, 1), Typed("3/32\""), "r2")).IsGood);
        string expected = Knuckle.Replace("[17.01, 16.97, 16.99]", "[17.01, 16.97, 16.99, 17.02]", StringComparison.Ordinal)
            .Replace("reads: 48.00}", "reads: [48.00, 48.01]}", StringComparison.Ordinal).Replace("[2.40, 2.43]", "[2.40, 2.43, 3/32 in]", StringComparison.Ordinal);
        Assert.Equal(expected, shop.Text);
        Assert.Equal(4, shop.Desk.Head.Latest.Number);
    }

    [Fact]
    public async Task Two_windows_that_add_a_repeat_both_keep_theirs()
    {
        await using OpenShop shop = await OpenShop.WithAsync(Knuckle);
        SeenReading one = Seen(shop.Desk, 5), other = Seen(shop.Desk, 5);
        Assert.True((await new ReadingWriter(shop.Desk).AppendAsync(one, Typed("48.01"), "")).IsGood);
        Assert.True((await new ReadingWriter(shop.Desk).AppendAsync(other, Typed("48.03"), "")).IsGood);
        Assert.Equal([48.00, 48.01, 48.03], Rows(shop.Desk)[5].Reads);
    }

    [Fact]
    public async Task Many_at_once_lose_nothing()
    {
        await using OpenShop shop = await OpenShop.WithAsync(Knuckle);
        SeenReading seen = Seen(shop.Desk, 5);
        Kept<JobHead>[] kept = await Task.WhenAll(Enumerable.Range(1, 12).Select(k => Task.Run(() => new ReadingWriter(shop.Desk).AppendAsync(seen, Typed($"48.{k:00}"), ""))));
        Assert.All(kept, k => Assert.True(k.IsGood, k.Problem?.ToString()));
        Assert.Equal(Enumerable.Range(0, 13).Select(k => 48 + k / 100.0), Rows(shop.Desk)[5].Reads.Order());
    }

    [Fact]
    public async Task A_correction_of_what_another_window_corrected_asks()
    {
        await using OpenShop shop = await OpenShop.WithAsync(Knuckle);
        SeenReading seen = Seen(shop.Desk, 14);
        Assert.True((await new ReadingWriter(shop.Desk).CorrectAsync(seen, [Typed("34.01")], "")).IsGood);
        Kept<JobHead> second = await new ReadingWriter(shop.Desk).CorrectAsync(seen, [Typed("30.40")], "");
        Assert.Equal(StoreProblemKind.ChangedMeanwhile, second.Problem?.Kind);
        Assert.Equal([34.01], Rows(shop.Desk)[14].Reads);
        // A repeat is not added to what has become another reading's value either.
        Assert.Equal(StoreProblemKind.ChangedMeanwhile, (await new ReadingWriter(shop.Desk).AppendAsync(seen, Typed("30.42"), "")).Problem?.Kind);
    }

    [Fact]
    public async Task A_reading_is_found_again_when_others_above_it_go()
    {
        await using OpenShop shop = await OpenShop.WithAsync(Knuckle);
        SeenReading seen = Seen(shop.Desk, 14);
        Assert.True((await new ReadingWriter(shop.Desk).RemoveAsync(Seen(shop.Desk, 2), "")).IsGood);
        Assert.True((await new ReadingWriter(shop.Desk).CorrectAsync(seen, [Typed("34.01")], "")).IsGood);
        Assert.Equal([34.01], Rows(shop.Desk)[13].Reads);
        Assert.Equal(StoreProblemKind.ChangedMeanwhile, (await new ReadingWriter(shop.Desk).CorrectAsync(seen, [Typed("34.02")], "")).Problem?.Kind);
    }

    [Fact]
    public async Task What_is_removed_comes_back_by_undo()
    {
        await using OpenShop shop = await OpenShop.WithAsync(Knuckle);
        await new ReadingWriter(shop.Desk).RemoveAsync(Seen(shop.Desk, 2), "r3 removed");
        Assert.Equal(25, Rows(shop.Desk).Count);
        Assert.Equal("r3 removed", shop.Desk.Head.Undoes);
        Assert.True((await shop.Desk.UndoAsync()).IsGood);
        Assert.Equal(Knuckle, shop.Text);
    }

    [Fact]
    public async Task A_reading_is_added_and_described_anew()
    {
        await using OpenShop shop = await OpenShop.WithAsync(Knuckle);
        var draft = new ReadingDraft { Way = DraftWay.Outside, First = "lug.front", Second = "lug.back", Worn = true, Id = "again" };
        Assert.True((await new ReadingWriter(shop.Desk).AddAsync(draft, [Typed("5.96")], "")).IsGood);
        Assert.Contains("  - {outside: [lug.front, lug.back], reads: 5.96, worn: yes, id: again}\n", shop.Text, StringComparison.Ordinal);

        SeenReading seen = Seen(shop.Desk, 26);
        Assert.True((await new ReadingWriter(shop.Desk).DescribeAsync(seen, draft with { Worn = false, OnFragment = "tip", Instrument = "caliper" }, "")).IsGood);
        var reading = (CaliperReading)Rows(shop.Desk)[26].Reading;
        Assert.Equal((false, "tip", "caliper", "again"), (reading.Worn, reading.OnFragment, reading.With, reading.Id));
        Assert.Equal([5.96], reading.ReadsMm);

        Assert.True((await new ReadingWriter(shop.Desk).DescribeAsync(Seen(shop.Desk, 26), draft with { Way = DraftWay.Inside, First = "bore.wall", Second = "", Worn = false }, "")).IsGood);
        Assert.Equal(Measure.ReadingWay.Inside, ((CaliperReading)Rows(shop.Desk)[26].Reading).Way);
    }

    [Fact]
    public async Task What_would_leave_the_job_unsound_is_not_kept()
    {
        await using OpenShop shop = await OpenShop.WithAsync(Knuckle);
        var draft = new ReadingDraft { Way = DraftWay.Outside, First = "nowhere.side" };
        Kept<JobHead> kept = await new ReadingWriter(shop.Desk).AddAsync(draft, [Typed("5.96")], "");
        Assert.Equal(StoreProblemKind.Refused, kept.Problem?.Kind);
        Assert.Contains("nowhere", kept.Problem!.What, StringComparison.Ordinal);
        Assert.Equal(Knuckle, shop.Text);
    }

    [Fact]
    public async Task Readings_in_lines_of_their_own_are_changed_too()
    {
        string lines = Knuckle.Replace("  - {depth: [socket.top, foot.top], reads: 48.00}", "  - depth: [socket.top, foot.top]\n    # from the back\n    reads:\n      - 48.00     # once", StringComparison.Ordinal);
        await using OpenShop shop = await OpenShop.WithAsync(lines);
        Assert.True((await new ReadingWriter(shop.Desk).AppendAsync(Seen(shop.Desk, 5), Typed("48.02"), "")).IsGood);
        Assert.True((await new ReadingWriter(shop.Desk).AppendAsync(new(5, Rows(shop.Desk)[5].Text), Typed("48.03"), "")).IsGood);
        Assert.Contains("      - 48.00     # once\n      - 48.02\n      - 48.03\n", shop.Text, StringComparison.Ordinal);
        Assert.Equal("48.00; 48.02; 48.03", RepeatsLine.Of(Rows(shop.Desk)[5], LengthUnit.Millimetre));
    }

    [Fact]
    public async Task The_wrong_reading_of_the_example_lights_up_in_words()
    {
        await using OpenShop shop = await OpenShop.WithAsync(Knuckle);
        LedgerRow row = Rows(shop.Desk)[14];
        Assert.Equal((RowTone.Look, "✗ contradicts"), (row.Tone, row.Verdict));
        Assert.Contains("30.41 mm; all others together say 34.0", row.Explains, StringComparison.Ordinal);
        Assert.Contains("two digits swapped", row.Explains, StringComparison.Ordinal);
        Assert.Contains("Measure it again", row.Explains, StringComparison.Ordinal);
        Assert.Equal(25, Rows(shop.Desk).Count(r => r.Tone != RowTone.Look));
    }

    /// <summary>Inch and mm never stand in one table, and what is shown is the same length.</summary>
    [Theory]
    [InlineData("vent-knuckle")]
    [InlineData("line-reel-crank")]
    public async Task A_ledger_in_inches_has_no_millimetres(string example)
    {
        await using OpenShop shop = await OpenShop.WithAsync(Jobs.Examples[example]);
        foreach (var (mm, inch) in Rows(shop.Desk).Zip(Rows(shop.Desk, LengthUnit.Inch)))
        {
            Assert.DoesNotContain(" mm", inch.Explains + inch.Summary + inch.Repeats, StringComparison.Ordinal);
            Assert.DoesNotContain(" in", mm.Explains.Replace(" in ", "", StringComparison.Ordinal) + mm.Summary + mm.Repeats, StringComparison.Ordinal);
            if (mm.Reading is CaliperReading r) Assert.Equal(r.ReadsMm[0] / 25.4, double.Parse(inch.Repeats.Split(' ')[0], System.Globalization.CultureInfo.InvariantCulture), 0.000051);
        }
    }
}
