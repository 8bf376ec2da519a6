namespace Sparewright.Cli;

/// <summary>Finds the word that was probably meant.</summary>
internal static class Nearest
{
    private const int MostSlips = 2;

    /// <summary>The known word with the fewest slips (letters missing, added, wrong or swapped), or null when none comes near.</summary>
    public static string? To(string word, IEnumerable<string> known) =>
        known.Select(k => (Word: k, Slips: Slips(word, k))).Where(k => k.Slips <= Math.Min(MostSlips, word.Length / 2)).OrderBy(k => k.Slips).Select(k => k.Word).FirstOrDefault();

    /// <summary>Optimal string alignment distance (Damerau 1964, Levenshtein 1966; from memory).</summary>
    private static int Slips(string a, string b)
    {
        var d = new int[a.Length + 1, b.Length + 1];
        for (int i = 0; i <= a.Length; i++) d[i, 0] = i;
        for (int j = 0; j <= b.Length; j++) d[0, j] = j;
        for (int i = 1; i <= a.Length; i++)
            for (int j = 1; j <= b.Length; j++)
            {
                int wrong = a[i - 1] == b[j - 1] ? 0 : 1;
                d[i, j] = Math.Min(Math.Min(d[i - 1, j] + 1, d[i, j - 1] + 1), d[i - 1, j - 1] + wrong);
                if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1]) d[i, j] = Math.Min(d[i, j], d[i - 2, j - 2] + 1);
            }

        return d[a.Length, b.Length];
    }
}
