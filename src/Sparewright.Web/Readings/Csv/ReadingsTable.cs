using Sparewright.Measure.Quantities;
using Sparewright.Part;
using Sparewright.Part.Record;

namespace Sparewright.Web.Readings.Csv;

/// <summary>The readings of a job as a table: one row each, lengths in mm with a decimal point, each repeat in a column of its own.</summary>
public static class ReadingsTable
{
    public const string Id = "id", Way = "way", First = "first element", Second = "second element", Across = "across", Instrument = "instrument", Worn = "worn",
        AcrossBreak = "across break", Fragment = "on fragment", Height = "at height", BiggerThan = "bigger than leaf (mm)", SmallerThan = "smaller than leaf (mm)", Density = "density (g/cm3)";

    /// <summary>The columns that stand before the repeats.</summary>
    public static IReadOnlyList<string> Fixed { get; } = [Id, Way, First, Second, Across, Instrument, Worn, AcrossBreak, Fragment, Height, BiggerThan, SmallerThan, Density];

    /// <summary>The table of a job's readings.</summary>
    /// <param name="text">The job's text, which must be sound.</param>
    public static string Of(string text, Job job)
    {
        IReadOnlyList<Written> items = (Written.Read(text, out _)?.At("readings") as Written.List)?.Items ?? [];
        int lengths = job.Readings.OfType<CaliperReading>().Select(r => r.ReadsMm.Count).DefaultIfEmpty(1).Max();
        int grams = job.Readings.OfType<WeightReading>().Select(r => r.ReadsGrams.Count).DefaultIfEmpty(0).Max();
        List<IReadOnlyList<string>> rows =
        [
            [.. Fixed, .. Enumerable.Range(1, lengths).Select(k => $"read {k} (mm)"), .. Enumerable.Range(1, grams).Select(k => $"read {k} (g)")],
        ];
        // Other kinds have no columns here; they stay in the text, and a table that comes in again leaves them alone.
        foreach (var (reading, item) in job.Readings.Zip(items).Where(pair => pair.First is CaliperReading or GaugeLeafReading or WeightReading))
        {
            ReadingDraft draft = ReadingDraft.Of(item);
            IReadOnlyList<string> raw = LedgerRow.RawReads(item);
            string Leaf(Func<GaugeLeafReading, double> of) => reading is GaugeLeafReading leaf ? Shown.Number(of(leaf)) : "";
            string[] mm = reading is CaliperReading r ? [.. r.ReadsMm.Select((value, k) => IsBare(raw[k]) ? raw[k] : Shown.Number(value))] : [];
            string[] g = reading is WeightReading w ? [.. w.ReadsGrams.Select(Shown.Number)] : [];
            string[] told = [reading.Id, Word(draft.Way), draft.First, draft.Second, draft.Across, draft.Instrument, draft.Worn ? "yes" : "", draft.AcrossBreak ? "yes" : "", draft.OnFragment, draft.AtHeight];
            rows.Add([.. told.Select(CsvText.Guarded), Leaf(l => l.BiggerThanMm), Leaf(l => l.SmallerThanMm), CsvText.Guarded(draft.Density), .. Padded(mm, lengths), .. Padded(g, grams)]);
        }

        return CsvText.Write(rows);
    }

    public static string Word(DraftWay way) => way switch
    {
        DraftWay.RadiusGauge => "radius gauge",
        _ => way.ToString().ToLowerInvariant(),
    };

    /// <summary>Whether a value is written in mm without saying so.</summary>
    private static bool IsBare(string raw) => raw.All(c => char.IsAsciiDigit(c) || c == '.');

    private static IEnumerable<string> Padded(string[] cells, int to) => cells.Concat(Enumerable.Repeat("", to - cells.Length));
}
