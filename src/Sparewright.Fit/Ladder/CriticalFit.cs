using Sparewright.Fit.Capability;
using Sparewright.Fit.Odds;

namespace Sparewright.Fit.Ladder;

/// <summary>A gauge on which the counterpart was tried, or is imagined to be.</summary>
/// <param name="DrawnMm">The fitting size as drawn, in mm.</param>
public sealed record GaugeAnswer(double DrawnMm, TrialAnswer Answer);

/// <summary>A fit of one printed size and one counterpart that gauges are to settle: they are that size drawn in steps, and the counterpart goes or does not.</summary>
/// <param name="Case">The process, and all else that the odds depend on.</param>
/// <param name="Fit">The condition; its clearance holds one printed size, and the counterpart that is tried by hand.</param>
/// <param name="On">The day on which the gauges are printed.</param>
public sealed record CriticalFit(FitCase Case, OneClearance Fit, DateOnly On)
{
    /// <summary>By hand it goes when there is any clearance at all.</summary>
    private static readonly ClearanceWindow ByHand = new(0, double.PositiveInfinity, "it goes in by hand");

    public PrintedSize Printed => Fit.Clearance.Printed[0];

    /// <summary>More drawn, more clearance; or less.</summary>
    private int Sense => Math.Sign(Printed.Factor);

    /// <summary>Null when gauges can settle it, else why not.</summary>
    public static string? WhyNot(OneClearance fit) => fit.Clearance switch
    {
        { Printed.Count: not 1 } => "more than one printed size has a say in its clearance",
        { Counterparts.Count: not 1 } => "it has no counterpart of its own that could be tried",
        { Printed: [{ Factor: not (1 or -1) }] } => "its printed size does not enter the clearance as it is",
        { Printed: [var p], Counterparts: [var c] } when Math.Sign(p.Factor) != (p.Kind.IsHollow() ? 1 : -1) || c.Factor != -p.Factor => "its counterpart does not go around or into its printed size",
        _ => null,
    };

    /// <summary>Odds of this fit alone when drawn so, by what the process has shown.</summary>
    public double Odds(ProcessCapability process, double drawnMm)
    {
        LengthSum clearance = Fit.Clearance with { Printed = [Printed with { DrawnMm = drawnMm }] };
        return FitOdds.Quick(Case with { Process = process, Conditions = [(OneClearance)Fit.With([clearance])] }, copies: 1);
    }

    /// <summary>The drawn size with the best odds, and these.</summary>
    public (double DrawnMm, double Odds) Best(ProcessCapability process)
    {
        // The clearance's middle comes close; from there by steps that halve.
        double at = Middle(process, Fit.Window.MiddleMm), best = Odds(process, at);
        for (double step = 0.08; step > 0.004; step /= 2)
            for (bool moved = true; moved;)
            {
                moved = false;
                foreach (double there in (double[])[at - step, at + step])
                    if (Odds(process, there) is var odds && odds > best + 1e-12) (at, best, moved) = (there, odds, true);
            }

        return Case.Process[Printed.Kind].Prior.WholeLayersBeside(at).Select(there => (DrawnMm: there, Odds: Odds(process, there))).OrderByDescending(c => c.Odds).FirstOrDefault((at, best));
    }

    /// <summary>By how much gauges differ at least, in mm: less, and a print's own scatter mixes them up; across the layers by whole ones.</summary>
    internal double StepMm => Case.Process[Printed.Kind].Prior.LayerMm is > 0 and var layer ? layer * Math.Ceiling(GaugeLadder.StepMm / layer - 1e-9) : GaugeLadder.StepMm;

    /// <summary>The drawn size at which the mean clearance is so much.</summary>
    internal double Middle(ProcessCapability process, double clearanceMm)
    {
        double at = Printed.DrawnMm;
        for (int i = 0; i < 20; i++) at += Sense * (clearanceMm - Clearance(process, at).MeanMm);
        return at;
    }

    /// <summary>The clearance when drawn so, without the scatter of the single print: what the gauges can tell.</summary>
    internal NormalLength InDoubt(ProcessCapability process, double drawnMm) => Clearance(process, drawnMm, d => d is Doubt.OfSpread);

    /// <summary>The process after these answers.</summary>
    public ProcessCapability After(ProcessCapability process, IReadOnlyList<GaugeAnswer> answers)
    {
        return process.With([.. answers.Select(a => Tried(Fit, Printed.Kind, a.DrawnMm, On, a.Answer))]);
    }

    /// <summary>An answer of a gauge. That it goes is felt by hand; too loose is what the fit's own window calls so.</summary>
    public static TriedTrial Tried(OneClearance fit, SurfaceKind kind, double drawnMm, DateOnly on, TrialAnswer answer)
    {
        CounterpartSize counterpart = fit.Clearance.Counterparts[0];
        return new(kind, drawnMm, on, counterpart.Name, counterpart.Length, answer is TrialAnswer.TooTight or TrialAnswer.Goes ? ByHand : fit.Window, answer);
    }

    /// <summary>The printed size, in mm, where the job's size that it hangs on is drawn so; where none may change, that is the printed size itself.</summary>
    /// <param name="nowMm">The job's sizes at which the printed one is what it says.</param>
    public static double PrintedMm(PrintedSize printed, double sizeMm, IReadOnlyDictionary<string, double> nowMm) =>
        printed.PerSize.Count == 0 ? sizeMm : printed.DrawnMm + printed.PerSize.Single().Value * (sizeMm - nowMm[printed.PerSize.Single().Key]);

    /// <summary>The reverse: the job's size, in mm, for a printed size.</summary>
    public static double SizeMm(PrintedSize printed, double printedMm, IReadOnlyDictionary<string, double> nowMm) =>
        printed.PerSize.Count == 0 ? printedMm : Math.Round(nowMm[printed.PerSize.Single().Key] + (printedMm - printed.DrawnMm) / printed.PerSize.Single().Value, 9);

    /// <summary>How likely these answers are, and the best odds after them.</summary>
    internal (double Chance, double Odds) Imagined(ProcessCapability process, IReadOnlyList<GaugeAnswer> answers)
    {
        ProcessCapability after = After(process, answers);
        return (Math.Exp(after[Printed.Kind].LogEvidence - process[Printed.Kind].LogEvidence), Best(after).Odds);
    }

    private NormalLength Clearance(ProcessCapability process, double drawnMm, Func<Doubt, bool>? known = null)
    {
        LengthSum clearance = Fit.Clearance with { Printed = [Printed with { DrawnMm = drawnMm }] };
        var cases = new JointLengths(Case with { Process = process }, [clearance], known).Of(0).ToArray();
        double mean = cases.Sum(c => c.Weight * c.Length.MeanMm);
        return new(mean, Math.Sqrt(cases.Sum(c => c.Weight * (c.Length.VarianceMm2 + (c.Length.MeanMm - mean) * (c.Length.MeanMm - mean)))));
    }
}
