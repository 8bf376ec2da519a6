namespace Sparewright.Measure.Quantities;

/// <summary>Finds the known name that a misspelt word most likely meant.</summary>
public static class Spelling
{
    /// <summary>
    /// The nearest of the known names by edit distance (V. I. Levenshtein, Soviet Physics Doklady 10, 1966; from memory), case
    /// set aside; null when nothing is near enough to be worth proposing (more than a third of the letters differ, at least one may).
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

    /// <summary>Letters to insert, delete or replace to turn one word into the other, counted no further than <paramref name="enough"/>.</summary>
    private static int Edits(string from, string to, int enough)
    {
        if (Math.Abs(from.Length - to.Length) >= enough) return enough;
        var above = new int[to.Length + 1];
        var row = new int[to.Length + 1];
        for (int j = 0; j <= to.Length; j++) above[j] = j;
        for (int i = 1; i <= from.Length; i++)
        {
            row[0] = i;
            for (int j = 1; j <= to.Length; j++)
            {
                int replace = char.ToLowerInvariant(from[i - 1]) == char.ToLowerInvariant(to[j - 1]) ? 0 : 1;
                row[j] = Math.Min(above[j - 1] + replace, Math.Min(above[j], row[j - 1]) + 1);
            }

            (above, row) = (row, above);
        }

        return above[to.Length];
    }
}
