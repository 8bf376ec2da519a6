using CsCheck;
using Sparewright.Web.Shape;
using Xunit;

namespace Sparewright.Web.Tests.Shape;

public class LineDiffTests
{
    [Fact]
    public void Only_what_differs_is_shown_with_two_lines_around()
    {
        string before = string.Join('\n', Enumerable.Range(1, 20));
        IReadOnlyList<DiffLine> lines = LineDiff.Of(before, before.Replace("\n10\n", "\nten\n", StringComparison.Ordinal));
        Assert.Equal(["…", " 8", " 9", "-10", "+ten", " 11", " 12", "…"], lines.Select(l => l.Text is null ? "…" : l.Stands switch { LineStands.OnlyBefore => "-", LineStands.OnlyAfter => "+", _ => " " } + l.Text));
    }

    /// <summary>Whatever the texts: each can be read off the difference, and no shorter one tells it by the table alone.</summary>
    [Fact]
    public void Both_texts_can_be_read_off_the_difference()
    {
        Gen<string[]> text = Gen.Int[0, 4].Select(k => $"line {k}").Array[0, 12];
        Gen.Select(text, text).Sample((before, after) =>
        {
            IReadOnlyList<DiffLine> all = LineDiff.Whole(before, after);
            Assert.Equal(before, all.Where(l => l.Stands != LineStands.OnlyAfter).Select(l => l.Text));
            Assert.Equal(after, all.Where(l => l.Stands != LineStands.OnlyBefore).Select(l => l.Text));
            Assert.Equal(Longest(before, after), all.Count(l => l.Stands == LineStands.InBoth));
        }, iter: 500);
    }

    /// <summary>By recursion, as the definition says.</summary>
    private static int Longest(ReadOnlySpan<string> a, ReadOnlySpan<string> b) =>
        a.IsEmpty || b.IsEmpty ? 0 : a[0] == b[0] ? 1 + Longest(a[1..], b[1..]) : Math.Max(Skip(a, b, true), Skip(a, b, false));

    private static int Skip(ReadOnlySpan<string> a, ReadOnlySpan<string> b, bool first)
    {
        // The table of the definition; the recursion alone would take for ever.
        var table = new int[a.Length + 1, b.Length + 1];
        for (int i = 1; i <= a.Length; i++)
            for (int j = 1; j <= b.Length; j++)
                table[i, j] = a[^i] == b[^j] ? table[i - 1, j - 1] + 1 : Math.Max(table[i - 1, j], table[i, j - 1]);
        return first ? table[a.Length - 1, b.Length] : table[a.Length, b.Length - 1];
    }

    [Fact]
    public void Very_different_large_texts_cost_no_memory()
    {
        string before = string.Join('\n', Enumerable.Range(0, 30_000).Select(k => $"a{k}")), after = before.Replace('a', 'b');
        Assert.Equal(60_000, LineDiff.Of(before, after).Count(l => l.Text is not null));
    }
}
