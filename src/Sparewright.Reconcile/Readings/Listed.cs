namespace Sparewright.Reconcile.Readings;

/// <summary>Words in a row: "a, b and c".</summary>
internal static class Listed
{
    public static string Of(IReadOnlyList<string> words) => words.Count == 1 ? words[0] : $"{string.Join(", ", words.SkipLast(1))} and {words[^1]}";

    /// <summary>The first of them, and how many more there are.</summary>
    public static string Of(IReadOnlyList<string> words, int most) => words.Count <= most ? Of(words) : $"{string.Join(", ", words.Take(most))} and {words.Count - most} more";
}
