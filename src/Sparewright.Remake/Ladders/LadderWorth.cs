using System.Globalization;
using Sparewright.Fit.Gauges;
using Sparewright.Fit.Ladder;
using Sparewright.Fit.Odds;
using Sparewright.Remake.Fits;

namespace Sparewright.Remake.Ladders;

/// <summary>
/// What gauges take, and what they spare. A part that was printed whole and does not fit is a trial as well: it is measured, and the next one is drawn by it, with odds taken to be those after the gauges.
/// Straight to the part takes 1 + (1 − p)/q prints of it on average, after the gauges 1/q, where p are the odds of everything now and q those after them.
/// </summary>
/// <param name="Part">One print of the part.</param>
/// <param name="PrintsSpared">Of the whole part, on average.</param>
public sealed record LadderWorth(PrintEffort Gauges, PrintEffort Part, double PrintsSpared)
{
    /// <summary>By how much the gauges shorten the whole, minutes; negative where they lengthen it.</summary>
    public double MinutesSpared => PrintsSpared * Part.Minutes - Gauges.Minutes;

    public double GramsSpared => PrintsSpared * Part.Grams - Gauges.Grams;

    /// <summary>"They take about 4 g and 24 min …", for people.</summary>
    public string Words
    {
        get
        {
            string takes = string.Create(CultureInfo.InvariantCulture, $"The gauges take about {Gauges.Grams:0.#} g and {Gauges.Minutes:0} min, the part {Part.Grams:0.#} g and {Part.Minutes:0} min");
            string spared = string.Create(CultureInfo.InvariantCulture, $"{PrintsSpared:0.00} prints of the part on average");
            return Pays ? string.Create(CultureInfo.InvariantCulture, $"{takes}. They pay: they spare {spared}, so that the whole takes about {MinutesSpared:0} min less.")
                : string.Create(CultureInfo.InvariantCulture, $"{takes}. They do not pay: they spare {spared}, and the whole takes about {-MinutesSpared:0} min more. Print the part straight away, and enter how it fits; or print a coupon, which serves every job on this printer.");
        }
    }

    /// <summary>True where printing the part straight away, and correcting it, takes longer.</summary>
    public bool Pays => MinutesSpared > 0;

    /// <param name="partMm3">Volume of the part.</param>
    /// <param name="stripMm3">Of the gauges; null before they were made: then about what they will have.</param>
    /// <returns>Null where there are no gauges.</returns>
    public static LadderWorth? Of(FoundFits found, PlannedLadder planned, double partMm3, double? stripMm3 = null)
    {
        if (planned.Steps is not { } steps || planned.OddsExpected <= 0) return null;
        ExpectedFit fit = found.Each.Single(e => e.Name == planned.Counterpart);
        double about = steps.HoldsPattern ? GaugeVolume.OfPatternMm3(fit.Met.Surfaces) : steps.DrawnMm.Sum(mm => GaugeVolume.OfOneMm3(fit.Met.Surfaces[0].Kind, mm));
        PrintEffort gauges = PrintEffort.Of(stripMm3 ?? about);
        double after = FitLadder.Others(fit.Odds.Value, found.AllTogether) * planned.OddsExpected;
        return new(gauges with { Minutes = gauges.Minutes + steps.DrawnMm.Count }, PrintEffort.Of(partMm3), Math.Max(0, 1 - Math.Min(1, found.AllTogether / after)));
    }
}
