using System.Globalization;
using Sparewright.Measure.Quantities;
using Sparewright.Part;
using Sparewright.Part.Record;
using Sparewright.Reconcile.Findings;
using Sparewright.Remake.Live;

namespace Sparewright.Web.Readings;

/// <summary>What is entered in a row.</summary>
public enum RowTakes { Lengths, Grams, Nothing }

/// <summary>How a row's verdict is marked beside its words.</summary>
public enum RowTone { Quiet, Good, Look }

/// <summary>One reading as the ledger shows it to one person: everything in words and figures, in that person's unit.</summary>
/// <param name="Index">Its place in the job's list, from 0.</param>
/// <param name="Text">As it stands in the job's text: what a change of it is based on.</param>
/// <param name="What">What it measures.</param>
/// <param name="Marks">Worn, across the break, on which fragment, at which height: what else is said of it.</param>
/// <param name="Repeats">What the display said, each time.</param>
/// <param name="Summary">n, mean and range of the repeats.</param>
/// <param name="Verdict">What became of it, in a few words with a sign before.</param>
/// <param name="Explains">What should have been shown, why, and what to do; empty when all is well.</param>
public sealed record LedgerRow(
    int Key, int Index, string Text, string Id, Reading Reading, string What, string Marks, string Instrument, RowTakes Takes,
    string Repeats, string Summary, string Observed, string Adjusted, string Residual, string PlusMinus, RowTone Tone, string Verdict, string Explains)
{
    /// <summary>The elements between which it is read.</summary>
    public IReadOnlyList<string> Elements => Reading switch
    {
        CaliperReading { Second: { } second } r => [r.First.Text, second.Text],
        CaliperReading r => [r.First.Text],
        GaugeLeafReading r => [r.Round + ".face"],
        _ => [],
    };

    /// <summary>Whether the form knows all that is said of it; other kinds are written in the text.</summary>
    public bool IsInForm => Reading is CaliperReading or GaugeLeafReading or WeightReading;

    /// <summary>What the part as reconciled would show, mm.</summary>
    public double? AdjustedMm { get; init; }

    /// <summary>The repeats, in mm or g.</summary>
    public IReadOnlyList<double> Reads => Reading switch
    {
        CaliperReading r => r.ReadsMm,
        WeightReading r => r.ReadsGrams,
        _ => [],
    };

    /// <summary>Equal when it looks the same: the record in it has lists and places of its own.</summary>
    public bool LooksLike(LedgerRow? other) => other is not null && this with { Reading = other.Reading } == other && Text == other.Text;

    /// <summary>All readings of a job that can be read; of one that cannot, none.</summary>
    public static IReadOnlyList<LedgerRow> All(LiveState live, LengthUnit unit, RowKeys keys)
    {
        if (live.Job is not { } job || live.Written is not { } written) return [];
        string plain = live.Text.TrimStart('\ufeff');
        var items = (written.At("readings") as Written.List)?.Items ?? [];
        string[] texts = [.. items.Select(i => plain[i.Start..i.End])];
        keys.Follow(texts);
        var found = live.Reconciled?.Readings.ToDictionary(r => r.Reading.Id, StringComparer.Ordinal);
        return [.. job.Readings.Select((r, k) => Row(keys.Keys[k], k, texts[k], r, RawReads(items[k]), found?.GetValueOrDefault(r.Id), live.Reconciled, unit))];
    }

    /// <summary>The repeats as they are written.</summary>
    public static IReadOnlyList<string> RawReads(Written reading) => reading.At("reads") switch
    {
        Written.Value v => [v.Text],
        Written.List l => [.. l.Items.OfType<Written.Value>().Select(v => v.Text)],
        _ => [],
    };

    private static LedgerRow Row(int key, int index, string text, Reading reading, IReadOnlyList<string> raw, ReconciledReading? found, Reconciled? reconciled, LengthUnit unit)
    {
        double? plusMinus = found?.Budget?.ExpandedMm(0.95);
        var (tone, verdict) = RowVerdict.Of(found, reconciled);
        (RowTakes takes, string repeats, string summary) = reading switch
        {
            CaliperReading r => (RowTakes.Lengths, string.Join(" ", r.ReadsMm.Select(mm => LengthsShown.Display(mm, unit))), Summed(r.ReadsMm, mm => LengthsShown.Display(mm, unit))),
            WeightReading r => (RowTakes.Grams, string.Join(" ", raw), Summed(r.ReadsGrams, g => FormattableString.Invariant($"{g:0.0} g"))),
            GaugeLeafReading r => (RowTakes.Nothing, $"{LengthsShown.Display(r.BiggerThanMm, unit)} < R < {LengthsShown.Display(r.SmallerThanMm, unit)}", ""),
            _ => (RowTakes.Nothing, string.Join(" ", raw), ""),
        };
        bool isLength = found?.Unit.Kind is null or QuantityKind.Length;
        string Value(double? value) => value is not { } known ? "" : isLength ? LengthsShown.Meaning(known, plusMinus, unit) : Shown.InUnit(known, found!.Unit);
        string Apart(double by) => isLength ? LengthsShown.Difference(by, plusMinus, unit) : Math.Abs(by) < 0.005 ? "0.00" : by.ToString("+0.00;−0.00", CultureInfo.InvariantCulture);
        return new(key, index, text, reading.Id, reading, ReadingSentence.What(reading), ReadingSentence.Marks(reading, unit), reading.With ?? "", takes, repeats, summary,
            Value(found?.Observed), Value(found?.Adjusted), found?.Residual is { } residual ? Apart(residual) : "",
            plusMinus is not { } half ? "" : isLength ? LengthsShown.PlusMinus(half, unit) : "±" + half.ToString("0.00", CultureInfo.InvariantCulture), tone, verdict, RowVerdict.Explain(found, reconciled, unit))
        {
            AdjustedMm = isLength ? found?.Adjusted : null,
        };
    }

    private static string Summed(IReadOnlyList<double> values, Func<double, string> shown) =>
        values.Count < 2 ? "" : $"n {values.Count}, mean {shown(values.Average())}, range {shown(values.Max() - values.Min())}";
}
