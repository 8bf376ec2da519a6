using Sparewright.Measure.Quantities;
using Sparewright.Measure.Uncertainty;

namespace Sparewright.Measure;

/// <summary>An angle, a mass or a volume as measured: the mean of the repeats less the zero error, with its uncertainty budget.</summary>
/// <param name="Unit">Of all figures here and of the budget: degrees, g or cm³.</param>
/// <param name="Mean">Mean of what the display said.</param>
/// <param name="Value">The best estimate of what is true.</param>
/// <param name="Budget">In the unit, whatever its members are called by.</param>
public sealed record MeasuredValue(Unit Unit, double Mean, double Value, UncertaintyBudget Budget)
{
    /// <summary>The chance that repeats of one value lie at least as far apart as these; 1 when read once.</summary>
    public double ChanceOfScatter { get; private init; } = 1;

    /// <summary>Corrects a reading and draws up its budget by the GUM, as for a length.</summary>
    /// <exception cref="ArgumentException">No repeats, or one that is not finite.</exception>
    public static MeasuredValue From(Instrument with, Unit unit, IReadOnlyList<double> reads, InstrumentDefaults? defaults = null)
    {
        if (reads.Count == 0 || !reads.All(double.IsFinite)) throw new ArgumentException("a reading needs at least one finite value", nameof(reads));
        defaults ??= InstrumentDefaults.Published;
        double mean = reads.Average(), value = mean - (with.ZeroError ?? 0);
        BudgetLine[] lines = [DisplayError.Repeats(with, ReadingWay.Outside, reads, defaults, unit.Symbol), .. DisplayError.Lines(with, ReadingWay.Outside, defaults, value, unit.Symbol)];
        return new(unit, mean, value, new UncertaintyBudget(lines)) { ChanceOfScatter = DisplayError.ChanceOfScatter(with, ReadingWay.Outside, reads, defaults) };
    }

    /// <summary>The sum of several that one instrument showed one after the other: what each reading draws anew adds in squares, what all have in common adds up (GUM 5.2.2).</summary>
    public static MeasuredValue Sum(IReadOnlyList<MeasuredValue> of)
    {
        BudgetLine[] lines = [.. of[0].Budget.Lines.Select((line, k) =>
        {
            BudgetLine[] same = [.. of.Select(m => m.Budget.Lines[k])];
            double u = line.Reach is ErrorReach.ThisReading or ErrorReach.SamePlace ? Math.Sqrt(same.Sum(l => l.StandardUncertaintyMm * l.StandardUncertaintyMm)) : same.Sum(l => l.StandardUncertaintyMm);
            double degrees = Coverage.EffectiveDegreesOfFreedom([.. same.Select(l => (l.StandardUncertaintyMm, l.DegreesOfFreedom))]);
            return line with { StandardUncertaintyMm = u, DegreesOfFreedom = degrees, How = $"{of.Count} of them: {line.How}" };
        })];
        return new(of[0].Unit, of.Sum(m => m.Mean), of.Sum(m => m.Value), new UncertaintyBudget(lines)) { ChanceOfScatter = of.Min(m => m.ChanceOfScatter) };
    }
}
