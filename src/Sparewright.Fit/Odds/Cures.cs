using Sparewright.Fit.Capability;
using Sparewright.Fit.Gauges;
using Sparewright.Fit.Ladder;

namespace Sparewright.Fit.Odds;

/// <summary>What can be done about odds.</summary>
public enum CureKind
{
    /// <summary>Read a length again.</summary>
    Reading,

    /// <summary>Print a few features of one kind and measure them.</summary>
    TrialPrint,

    /// <summary>Print gauges of one fit and try the counterpart on them.</summary>
    Gauges,

    /// <summary>Print a few features of each kind that matters in one go, and measure them.</summary>
    Coupon,
}

/// <summary>Something that would better the odds.</summary>
/// <param name="Of">What it is done to; of a coupon the first of its kinds.</param>
/// <param name="Pieces">Readings, printed features, or gauges.</param>
/// <param name="OddsAfter">All together, if what comes of it is as expected.</param>
public sealed record Cure(CureKind Kind, Doubt Of, int Pieces, double OddsAfter, double Minutes, double Grams)
{
    /// <summary>The counterpart whose gauges are meant.</summary>
    public string? Counterpart { get; init; }

    /// <summary>The kinds of surface that are printed.</summary>
    public IReadOnlyList<SurfaceKind> Kinds { get; init; } = [];
}

/// <summary>What would better the odds at the least cost.</summary>
public static class Cures
{
    /// <summary>One more reading of a counterpart or size, with a caliper: its standard uncertainty in mm.</summary>
    public const double ReadingUncertaintyMm = 0.02;

    /// <summary>Printed features that make a trial of one kind.</summary>
    public const int FeaturesOfATrial = 3;

    /// <summary>All cures, the cheapest (in minutes, then grams) that reaches the wanted odds first, then the rest by what a minute of them buys.</summary>
    /// <param name="ladders">The gauges for each fit of the case.</param>
    public static IReadOnlyList<Cure> Of(FitCase fit, FitOdds odds, double wantedOdds, IReadOnlyList<FitLadder> ladders)
    {
        IEnumerable<Cure?> all = [.. Sensitivity.Doubts(fit).Select(d => At(fit, d)), .. ladders.Select(l => Gauged(odds, l)), Coupon(fit)];
        Cure[] cures = [.. all.OfType<Cure>().Where(c => c.OddsAfter > odds.AllTogether.Value + FitOdds.EnoughError)];
        var enough = cures.Where(c => c.OddsAfter >= wantedOdds).OrderBy(c => c.Minutes).ThenBy(c => c.Grams);
        var rest = cures.Where(c => c.OddsAfter < wantedOdds).OrderByDescending(c => (c.OddsAfter - odds.AllTogether.Value) / c.Minutes);
        return [.. enough, .. rest];
    }

    private static Cure? At(FitCase fit, Doubt doubt) => doubt switch
    {
        Doubt.OfCounterpart(var name) => Cured(CureKind.Reading, doubt, 1, "reading", Reread(fit, name)),
        Doubt.OfReading(var size) => Cured(CureKind.Reading, doubt, 1, "reading", fit with { Read = Read(fit.Read, size) }),
        Doubt.OfBias(var kind) => Cured(CureKind.TrialPrint, doubt, FeaturesOfATrial, "trial feature", Tried(fit, kind)) with { Kinds = [kind] },
        _ => null,
    };

    private static Cure? Coupon(FitCase fit) => fit.Kinds.Count < 2 ? null
        : Cured(CureKind.Coupon, new Doubt.OfBias(fit.Kinds[0]), fit.Kinds.Count * FeaturesOfATrial, "trial feature", fit.Kinds.Aggregate(fit, Tried)) with { Kinds = fit.Kinds };

    /// <summary>Gauges of one fit: the others are taken to gain nothing from them, though a printer's doubts are shared.</summary>
    private static Cure? Gauged(FitOdds odds, FitLadder planned)
    {
        if (planned is not { Ladder: { DrawnMm.Count: > 0 } ladder, Fit: OneClearance { Clearance.Printed: [var printed] } }) return null;
        double itself = odds.Each.First(e => e.Condition == planned.Fit).Odds.Value;
        if (itself <= 0) return null;
        double after = Math.Min(1, FitLadder.Others(itself, odds.AllTogether.Value) * ladder.OddsExpected);
        PrintEffort print = PrintEffort.Of(ladder.DrawnMm.Sum(mm => GaugeVolume.OfOneMm3(printed.Kind, Math.Abs(mm))));
        Cure trying = Costing(CureKind.Gauges, new Doubt.OfBias(printed.Kind), ladder.DrawnMm.Count, "gauge", after);
        return trying with { Minutes = trying.Minutes + print.Minutes, Grams = print.Grams, Counterpart = planned.Fit.Name, Kinds = [printed.Kind] };
    }

    private static Cure Cured(CureKind kind, Doubt of, int pieces, string cost, FitCase after) => Costing(kind, of, pieces, cost, FitOdds.Of(after).AllTogether.Value);

    private static Cure Costing(CureKind kind, Doubt of, int pieces, string cost, double oddsAfter)
    {
        double[] row = PrintEffort.Row(cost);
        return new(kind, of, pieces, oddsAfter, row[0] + pieces * row[1], pieces * row[2]);
    }

    private static FitCase Reread(FitCase fit, string counterpart) => fit with
    {
        Conditions =
        [
            .. fit.Conditions.Select(c => c.With([.. c.Lengths.Select(l => l with
            {
                Counterparts = [.. l.Counterparts.Select(p => p.Name == counterpart ? p with { Length = p.Length with { StandardDeviationMm = Better(p.Length.StandardDeviationMm) } } : p)],
            })])),
        ],
    };

    /// <summary>A size read once more: its variance falls, and what hangs together with it follows.</summary>
    private static NormalLengths Read(NormalLengths read, string size)
    {
        int at = read.Names.ToList().IndexOf(size);
        var covariance = (double[,])read.CovarianceMm2.Clone();
        double all = covariance[at, at] + ReadingUncertaintyMm * ReadingUncertaintyMm;
        for (int i = 0; i < read.Names.Count; i++)
            for (int j = 0; j < read.Names.Count; j++) covariance[i, j] -= read.CovarianceMm2[i, at] * read.CovarianceMm2[at, j] / all;
        return read with { CovarianceMm2 = covariance };
    }

    private static FitCase Tried(FitCase fit, SurfaceKind kind)
    {
        double[] drawn = [.. fit.PrintedSizes.Where(p => p.Kind == kind).Select(p => p.DrawnMm).Order()];
        // Spread over the sizes that matter. Their mean comes out as forecast and they scatter as expected, so that only the doubt shrinks.
        KindCapability now = fit.Process[kind];
        double scatter = Math.Sqrt(1.5 * (now.OwnScatterMm2 + ReadingUncertaintyMm * ReadingUncertaintyMm));
        var trials = Enumerable.Range(0, FeaturesOfATrial).Select(k => (Drawn: drawn[k * (drawn.Length - 1) / (FeaturesOfATrial - 1)], Off: (k - 1) * scatter))
            .Select(d => new MeasuredTrial(kind, d.Drawn, fit.Process.NextDay, now.Forecast(d.Drawn).MeanMm + d.Off, ReadingUncertaintyMm));
        return fit with { Process = fit.Process.With([.. trials]) };
    }

    private static double Better(double u) => 1 / Math.Sqrt(1 / (u * u) + 1 / (ReadingUncertaintyMm * ReadingUncertaintyMm));
}
