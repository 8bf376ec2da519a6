using System.Collections.Frozen;
using System.Globalization;
using Sparewright.Fit.Capability;
using Sparewright.Fit.Tables;
using Sparewright.Measure;
using Sparewright.Part.Record;
using Sparewright.Reconcile.Nominals;

namespace Sparewright.Fit.Windows;

/// <summary>
/// Between which clearances a pair does what it is for: the user's own, or what the word of the fit means on this process (Data/fit-windows.csv), or, where nothing is said, what is usual for this kind of
/// counterpart. The reference (docs/reference/fits.md) says the same with the sources.
/// </summary>
public static class FitWindows
{
    /// <summary>Up to this size the table holds as it stands; above it grows as the tolerance unit does. Common practice, no source.</summary>
    private const double TableUpToMm = 10;

    /// <summary>A screw goes in by hand from this clearance on. Common practice, no source.</summary>
    private const double ScrewPassesMm = 0.1;

    /// <summary>Core holes of screws that cut their thread in plastic, in diameters of the screw: 0.80 for ABS to 0.85 for PC, printed 0.83; from memory (a fastener makers' table).</summary>
    private const double LeastCoreHole = 0.80, GreatestCoreHole = 0.86;

    /// <summary>An insert of which only the outer diameter is known: its hole is that much smaller, by the middle of the chart (Data/heat-set-inserts.csv), and may be this much larger.</summary>
    private const double InsertHoleShare = 0.92, InsertHoleOverMm = 0.1;

    /// <summary>How much a hose is stretched over a spigot, in shares of its bore. Common practice, no source.</summary>
    private const double LeastStretch = 0.05, GreatestStretch = 0.15;

    private static readonly FrozenDictionary<(ProcessKind, string), (double Low, double High)> Table = DataTable.Rows(typeof(FitWindows), "fit-windows.csv")
        .ToFrozenDictionary(row => (Enum.Parse<ProcessKind>(row[0], ignoreCase: true), row[1]), row => (RangeTable.Number(row[2]), RangeTable.Number(row[3])));

    /// <summary>The window of a counterpart, in mm.</summary>
    /// <param name="own">Its own size as far as it is known.</param>
    /// <exception cref="ArgumentException">A pattern of holes, which has no clearance of its own.</exception>
    public static ClearanceWindow Of(Counterpart counterpart, NormalLength own, ProcessKind process)
    {
        if (counterpart.Kind == CounterpartKind.Holes) throw new ArgumentException("a pattern of holes has no clearance of its own", nameof(counterpart));
        if (counterpart.Clearance is { } wanted) return new(wanted.LeastMm, wanted.GreatestMm, counterpart.OwnWord is { } called ? $"{called}, as the job says" : "as the job says");
        if (counterpart.Fit is { } word) return OfWord(Word(word), own.MeanMm, process);
        double d = own.MeanMm;
        return counterpart.Kind switch
        {
            CounterpartKind.Screw or CounterpartKind.WoodScrew when counterpart.How == Meeting.GoesInto =>
                new(LeastCoreHole * Nominal(counterpart, d) - d, GreatestCoreHole * Nominal(counterpart, d) - d, "cuts its thread: a core hole of 0.80 to 0.86 of the screw's diameter, from memory"),
            CounterpartKind.Screw or CounterpartKind.WoodScrew =>
                new(ScrewPassesMm, CoarseHole(Nominal(counterpart, d)) - d, $"screw passes: from {ScrewPassesMm.ToString("0.0", CultureInfo.InvariantCulture)} mm (common practice, no source) to the coarse hole of ISO 273"),
            CounterpartKind.Insert => InsertHole(counterpart, d),
            CounterpartKind.Hose when counterpart.How == Meeting.GoesOver => new(-GreatestStretch * d, -LeastStretch * d, "hose stretched: by 5 to 15 %, common practice, no source"),
            CounterpartKind.Hose => OfWord("passes", d, process),
            CounterpartKind.SnapArm when counterpart.Hook is { } hook => new SnapFit(hook).Window(OfWord("slides", d, process).LowMm),
            CounterpartKind.Bearing => OfWord("snug", d, process),
            _ => OfWord("slides", d, process),
        };
    }

    /// <summary>What a word means for a size in mm.</summary>
    public static ClearanceWindow Of(FitWord word, double sizeMm, ProcessKind process) => OfWord(Word(word), sizeMm, process);

    /// <summary>By how much the table grows at a size: i(d)/i(10 mm), i = 0.45·∛d + 0.001·d (the tolerance unit of ISO 286-1), never less than 1.</summary>
    public static double Growth(double sizeMm) => Math.Max(1, Unit(sizeMm) / Unit(TableUpToMm));

    private static double Unit(double mm) => 0.45 * Math.Cbrt(mm) + 0.001 * mm;

    private static ClearanceWindow OfWord(string word, double sizeMm, ProcessKind process)
    {
        var (low, high) = Table[(process, word)];
        double growth = Growth(sizeMm);
        return new(growth * low, growth * high, $"{word}: common practice and our judgement, no source");
    }

    private static string Word(FitWord word) => word.ToString().ToLowerInvariant();

    /// <summary>By the name of its thread; otherwise as it is.</summary>
    private static double Nominal(Counterpart counterpart, double ownMm) =>
        counterpart.Size is OwnSize.OfThread { Thread: var thread } && Threads.Metric.FirstOrDefault(t => t.Name == thread) is { } found ? found.DiameterMm : ownMm;

    /// <summary>The coarse clearance hole of ISO 273; between two screws in proportion, beyond the table as its end.</summary>
    private static double CoarseHole(double diameterMm)
    {
        IReadOnlyList<ClearanceHole> all = ClearanceHoles.All;
        int above = all.TakeWhile(h => h.DiameterMm < diameterMm).Count();
        if (above == 0) return diameterMm + all[0].CoarseMm - all[0].DiameterMm;
        if (above == all.Count) return diameterMm * all[^1].CoarseMm / all[^1].DiameterMm;
        ClearanceHole low = all[above - 1], high = all[above];
        return low.CoarseMm + (high.CoarseMm - low.CoarseMm) * (diameterMm - low.DiameterMm) / (high.DiameterMm - low.DiameterMm);
    }

    private static ClearanceWindow InsertHole(Counterpart counterpart, double ownMm)
    {
        Limits hole = counterpart.Size is OwnSize.OfThread { Thread: var thread } && Threads.Inserts.FirstOrDefault(i => i.Thread == thread) is { } insert
            ? insert.Hole
            : new(InsertHoleShare * ownMm, InsertHoleShare * ownMm + InsertHoleOverMm);
        return new(hole.LowMm - ownMm, hole.HighMm - ownMm, "insert's hole: by a fastener seller's chart");
    }
}
