using Sparewright.Measure.Uncertainty;

namespace Sparewright.Fit.Capability;

/// <summary>How the measured trial parts of one day differ from what all days before made one expect.</summary>
/// <param name="Pieces">Measured that day.</param>
/// <param name="Shift">By how much larger they came out than expected, in mm, with its standard deviation: the day's scatter and what was in doubt before.</param>
/// <param name="Chance">That so large a shift, up or down, would be seen if nothing had changed.</param>
public sealed record Drift(SurfaceKind Kind, DateOnly On, int Pieces, NormalLength Shift, double Chance)
{
    /// <summary>True when chance alone would show such a shift less than once in a hundred days.</summary>
    public bool StandsOut => Chance < 0.01;

    /// <summary>Day by day, each against all before it; the first day of a kind has nothing to differ from.</summary>
    public static IReadOnlyList<Drift> Of(ProcessCapability capability) => [.. SurfaceKinds.All.SelectMany(kind => Of(capability[kind]))];

    /// <summary>The same for one kind of surface.</summary>
    public static IEnumerable<Drift> Of(KindCapability kind)
    {
        foreach (var day in kind.Evidence.OfType<MeasuredTrial>().GroupBy(m => m.On).OrderBy(d => d.Key))
        {
            TrialEvidence[] before = [.. kind.Evidence.Where(e => e.On < day.Key)];
            if (before.Length == 0) continue;
            // By itself: what other kinds have shown may be of later days.
            KindCapability earlier = KindCapability.Learn(kind.Prior with { Walls = KindPrior.Unshown }, before);
            int n = day.Count();
            double shift = day.Average(m => m.PrintedMm - earlier.Forecast(m.DrawnMm).MeanMm);
            // The doubt about the bias and the day's share of the scatter are common to the day's pieces; the rest of it and the reading are each piece's own.
            double common = day.Max(m => earlier.Bias(m.DrawnMm).VarianceMm2), instrument = day.Max(m => m.InstrumentShiftMm);
            double own = day.Average(m => m.UncertaintyMm * m.UncertaintyMm) + earlier.OwnScatterMm2;
            double u = Math.Sqrt(common + instrument * instrument + earlier.SpreadMm * earlier.SpreadMm - earlier.OwnScatterMm2 + own / n);
            yield return new Drift(kind.Prior.Kind, day.Key, n, new(shift, u), Normal.TwoSidedTail(shift / u));
        }
    }
}
