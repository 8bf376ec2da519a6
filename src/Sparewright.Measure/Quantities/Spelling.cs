namespace Sparewright.Measure.Quantities;

/// <summary>Finds the known name that a misspelt word most likely meant.</summary>
public static class Spelling
{
    /// <summary>
    /// The nearest of the known names by edit distance (V. I. Levenshtein, Soviet Physics Doklady 10, 1966; two neighbours swapped count as one:
    /// F. J. Damerau, Communications of the ACM 7, 1964; both from memory), case set aside; null when nothing is near enough to be worth proposing (more than a third of the letters differ, at least one may).
    /// Of equals the first listed wins.
    /// </summary>
    public static string? Nearest(string word, IEnumerable<string> known)
    {
        string? nearest = null;
        int fewest = Math.Max(1, word.Length / 3) + 1;
        foreach (string name in known)
        {
            int edits = Edits(word, name, fewest);
            if (edits < fewest) (nearest, fewest) = (name, edits);
        }

        return nearest;
    }

    /// <summary>Letters to insert, delete, replace or swap to turn one word into the other, counted no further than <paramref name="enough"/>.</summary>
    private static int Edits(string from, string to, int enough)
    {
        if (Math.Abs(from.Length - to.Length) >= enough) return enough;
        bool Same(int i, int j) => char.ToLowerInvariant(from[i]) == char.ToLowerInvariant(to[j]);
        var twoAbove = new int[to.Length + 1];
        var above = new int[to.Length + 1];
        var row = new int[to.Length + 1];
        for (int j = 0; j <= to.Length; j++) above[j] = j;
        for (int i = 1; i <= from.Length; i++)
        {
            row[0] = i;
            for (int j = 1; j <= to.Length; j++)
            {
                row[j] = Math.Min(above[j - 1] + (Same(i - 1, j - 1) ? 0 : 1), Math.Min(above[j], row[j - 1]) + 1);
                if (i > 1 && j > 1 && Same(i - 1, j - 2) && Same(i - 2, j - 1)) row[j] = Math.Min(row[j], twoAbove[j - 2] + 1);
            }

            (twoAbove, above, row) = (above, row, twoAbove);
        }

        return above[to.Length];
    }
}
