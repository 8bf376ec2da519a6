namespace Sparewright.Web.Shape;

/// <summary>Whether a line stands in both texts, or only in one.</summary>
public enum LineStands { InBoth, OnlyBefore, OnlyAfter }

/// <param name="Text">Null stands for lines in both that are left out.</param>
public sealed record DiffLine(LineStands Stands, string? Text);

/// <summary>Which lines differ between two texts: the longest common subsequence of lines (Hunt and Szymanski's problem, solved by the plain table between the common beginning and end).</summary>
public static class LineDiff
{
    private const int Around = 2;

    /// <summary>More pairs of lines than this are told as all gone and all new: nobody reads such a difference, and it must not cost memory.</summary>
    private const int MostPairs = 4_000_000;

    /// <summary>The lines that differ, with two lines around them.</summary>
    public static IReadOnlyList<DiffLine> Of(string before, string after)
    {
        IReadOnlyList<DiffLine> all = Whole(before.ReplaceLineEndings("\n").Split('\n'), after.ReplaceLineEndings("\n").Split('\n'));
        var shown = new List<DiffLine>();
        for (int k = 0; k < all.Count; k++)
        {
            bool near = Enumerable.Range(Math.Max(0, k - Around), Math.Min(all.Count, k + Around + 1) - Math.Max(0, k - Around)).Any(n => all[n].Stands != LineStands.InBoth);
            if (near) shown.Add(all[k]);
            else if (shown.Count == 0 || shown[^1].Text is not null) shown.Add(new DiffLine(LineStands.InBoth, null));
        }

        return shown;
    }

    /// <summary>Every line of both.</summary>
    internal static IReadOnlyList<DiffLine> Whole(string[] before, string[] after)
    {
        int start = 0;
        while (start < before.Length && start < after.Length && before[start] == after[start]) start++;
        int end = 0;
        while (end < before.Length - start && end < after.Length - start && before[^(end + 1)] == after[^(end + 1)]) end++;

        var lines = new List<DiffLine>(before.Take(start).Select(l => new DiffLine(LineStands.InBoth, l)));
        lines.AddRange(Middle(before[start..^end], after[start..^end]));
        lines.AddRange(before[^end..].Select(l => new DiffLine(LineStands.InBoth, l)));
        return lines;
    }

    private static List<DiffLine> Middle(string[] before, string[] after)
    {
        if ((long)before.Length * after.Length > MostPairs)
            return [.. before.Select(l => new DiffLine(LineStands.OnlyBefore, l)), .. after.Select(l => new DiffLine(LineStands.OnlyAfter, l))];

        var longest = new int[before.Length + 1, after.Length + 1];
        for (int i = before.Length - 1; i >= 0; i--)
            for (int j = after.Length - 1; j >= 0; j--)
                longest[i, j] = before[i] == after[j] ? longest[i + 1, j + 1] + 1 : Math.Max(longest[i + 1, j], longest[i, j + 1]);

        var lines = new List<DiffLine>();
        int a = 0, b = 0;
        while (a < before.Length || b < after.Length)
        {
            if (a < before.Length && b < after.Length && before[a] == after[b]) (a, b) = Added(lines, LineStands.InBoth, before[a], a + 1, b + 1);
            else if (b == after.Length || (a < before.Length && longest[a + 1, b] >= longest[a, b + 1])) (a, b) = Added(lines, LineStands.OnlyBefore, before[a], a + 1, b);
            else (a, b) = Added(lines, LineStands.OnlyAfter, after[b], a, b + 1);
        }

        return lines;
    }

    private static (int Before, int After) Added(List<DiffLine> lines, LineStands stands, string text, int before, int after)
    {
        lines.Add(new DiffLine(stands, text));
        return (before, after);
    }
}
