using System.Globalization;

namespace Sparewright.BlindRemakes.Printing;

/// <summary>Cases of about the same stated odds.</summary>
internal readonly record struct Bin(int Cases, double Stated, double InFact)
{
    public double Off => InFact - Stated;
}

/// <summary>How often what was said to fit with some odds did fit.</summary>
internal sealed record Reliability(string Name, IReadOnlyList<Bin> Bins)
{
    public const int LeastCases = 1000;

    private const int MostBins = 10;

    /// <summary>Bins of as many cases each, so that none holds too few: ten, or as many as there are thousands.</summary>
    public static Reliability Of(string name, IReadOnlyList<Stated> stated)
    {
        Stated[] sorted = [.. stated.OrderBy(s => s.Odds)];
        int bins = Math.Clamp(sorted.Length / LeastCases, 1, MostBins);
        return new(name, [.. Enumerable.Range(0, bins).Select(b => sorted[(b * sorted.Length / bins)..((b + 1) * sorted.Length / bins)]).Where(b => b.Length > 0)
            .Select(b => new Bin(b.Length, b.Average(s => s.Odds), b.Count(s => s.Fits) / (double)b.Length))]);
    }

    public int Cases => Bins.Sum(b => b.Cases);

    /// <summary>The bin that is farthest off.</summary>
    public Bin Worst => Bins.MaxBy(b => Math.Abs(b.Off));

    public string Row() => string.Create(CultureInfo.InvariantCulture,
        $"| {Name} | {Cases} | {Bins.Count} of {Bins.Min(b => b.Cases)} or more | {100 * Bins.Sum(b => b.Cases * b.Stated) / Cases:0.0} | {100 * Bins.Sum(b => b.Cases * b.InFact) / Cases:0.0} | {100 * Worst.Off:+0.0;−0.0} at {100 * Worst.Stated:0.0} | {string.Join(", ", Bins.Select(b => string.Create(CultureInfo.InvariantCulture, $"{100 * b.Stated:0}→{100 * b.InFact:0}")))} |");
}
