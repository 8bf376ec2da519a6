using System.Globalization;
using Sparewright.Fit.Drawn;
using Sparewright.Fit.Odds;
using Sparewright.Part;
using Sparewright.Part.Record;
using Sparewright.Remake.Fits;

namespace Sparewright.Remake.Trials;

/// <summary>A size that the part's own trial speaks of, in mm.</summary>
/// <param name="WasMm">As it was drawn for the trial.</param>
/// <param name="DrawMm">As it is to be drawn next.</param>
/// <param name="Why">What of the evidence moves it, or lets it stay.</param>
public sealed record RevisedSize(string Size, double WasMm, double DrawMm, string Why)
{
    public bool Moves => DrawMm != WasMm;
}

/// <summary>The sizes after a trial of the part: only those move that its evidence moves. What fitted stays as it was drawn, and what is too tight or too loose is drawn by all that is known now.</summary>
/// <param name="Sizes">All that the trial says the drawn value of, by name.</param>
public sealed record NextRevision(IReadOnlyList<RevisedSize> Sizes)
{
    /// <summary>A size that betters the odds of everything by less than this stays: half a point, our judgement.</summary>
    private const double WorthMoving = 0.005;

    private const int Decimals = 2;

    /// <summary>Null where the trial says of no counterpart how it fits, or of no size that some fit may change how it was drawn.</summary>
    /// <param name="found">What is known after the trial.</param>
    public static NextRevision? Of(FoundFits found, PartTrial part)
    {
        var was = part.DrawnMm.Where(d => found.Fits.DrawnMm.ContainsKey(d.Key)).ToDictionary(d => d.Key, d => d.Value, StringComparer.Ordinal);
        if (was.Count == 0 || part.Fits.Count + part.TooTight.Count + part.TooLoose.Count == 0) return null;
        string[] Trying(string size, IReadOnlyList<string> names) => [.. names.Where(n => found.Each.Any(e => e.Name == n && e.DrawnMm.ContainsKey(size)))];
        string[] Causes(string size) => [.. Trying(size, part.TooTight).Select(n => $"{n} was too tight"), .. Trying(size, part.TooLoose).Select(n => $"{n} was too loose")];
        var said = was.Keys.ToDictionary(s => s, s => (Causes: Causes(s), Fits: Trying(s, part.Fits)), StringComparer.Ordinal);
        string[] held = [.. was.Keys.Where(s => said[s] is { Causes.Length: 0, Fits.Length: > 0 }), .. found.Fits.DrawnMm.Keys.Where(s => !was.ContainsKey(s))];

        // What the trial does not tell of is taken as it is drawn now.
        var asTried = found.Fits.DrawnMm.ToDictionary(d => d.Key, d => was.TryGetValue(d.Key, out double mm) ? mm - d.Value : found.Drawn.Changes.FirstOrDefault(c => c.Size == d.Key)?.ByMm ?? 0, StringComparer.Ordinal);
        FitCase tried = found.Fits.Case.Changed(asTried);
        var moves = DrawnSizes.Best(tried.Holding(held)).Changes.ToDictionary(c => c.Size, c => c.ByMm, StringComparer.Ordinal);
        double Odds(Dictionary<string, double> by) => FitOdds.Of(tried.Changed(by)).AllTogether.Value;
        foreach (string size in moves.OrderBy(m => Math.Abs(m.Value)).Select(m => m.Key).ToArray())
        {
            Dictionary<string, double> without = new(moves) { [size] = 0 };
            if (said[size].Causes.Length == 0 && Odds(without) >= Odds(moves) - WorthMoving) moves = without;
        }

        FitCase next = tried.Changed(moves);
        return new([.. was.OrderBy(w => w.Key, StringComparer.Ordinal).Select(w =>
        {
            double draw = Math.Round(w.Value + moves.GetValueOrDefault(w.Key), Decimals);
            (string[] causes, string[] fits) = said[w.Key];
            string why = moves.GetValueOrDefault(w.Key) != 0 ? $"{string.Join(", ", causes.DefaultIfEmpty("by what is known now"))}; {ChangeWords.Of(next, w.Key)}"
                : fits.Length > 0 ? $"{string.Join(", ", fits)} {(fits.Length == 1 ? "fits" : "fit")} as it is"
                : causes.Length > 0 ? $"{string.Join(", ", causes)}, but no other size has better odds by what is known now: try it in gauges" : "another size would hardly better the odds";
            return new RevisedSize(w.Key, w.Value, moves.GetValueOrDefault(w.Key) != 0 ? draw : w.Value, why);
        })]);
    }

    /// <summary>The text of a job with these sizes to be drawn; nothing else in it is changed.</summary>
    public JobEdit Written(string text)
    {
        var edit = new JobEdit(text, null);
        foreach (RevisedSize size in Sizes)
            if (edit.Text is { } now) edit = JobText.WithValue(now, ["print", "drawn", size.Size], size.DrawMm.ToString("0.####", CultureInfo.InvariantCulture));
        return edit;
    }
}
