using System.Text.RegularExpressions;

namespace Sparewright.House;

/// <summary>A word to avoid in all its forms, and what to say instead.</summary>
public sealed record AvoidedWord(string Forms, string Instead)
{
    public Regex Pattern { get; } = new($@"\b(?:{Forms})\b", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant);
}

/// <summary>A place where an avoided word is right after all.</summary>
public sealed record AllowedWord(string File, string Word, string Reason);

public static class WordLists
{
    public static IReadOnlyList<AvoidedWord> Avoided { get; } = [.. Rows("avoided-words.csv", 2).Select(cells => new AvoidedWord(cells[0], cells[1]))];

    public static IReadOnlyList<AllowedWord> Allowed { get; } = [.. Rows("allowed-words.csv", 3).Select(cells => new AllowedWord(cells[0], cells[1], cells[2]))];

    private static IEnumerable<string[]> Rows(string name, int columns) =>
        File.ReadLines(Path.Combine(AppContext.BaseDirectory, name))
            .Where(line => line.Length > 0 && !line.StartsWith('#'))
            .Skip(1)
            .Select(line => line.Split(',', columns));
}
