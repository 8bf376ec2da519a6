namespace Sparewright.Measure.Uncertainty;

/// <summary>How a line was evaluated: from repeats (A) or otherwise (B) (GUM 0.7).</summary>
public enum BudgetKind { A, B }

/// <summary>Which readings share the unknown error that a line describes.</summary>
public enum ErrorReach
{
    /// <summary>Drawn anew in every reading.</summary>
    ThisReading,

    /// <summary>The same in all readings of one instrument in one way, their zero shift: it does not average out.</summary>
    SameInstrumentAndWay,

    /// <summary>The same wherever the inside jaws of one instrument stand on round walls: how wide their flats are.</summary>
    SameJawFlats,

    /// <summary>The same wherever jaws press on something soft: how far they press it in.</summary>
    SameSoftness,

    /// <summary>The same in all readings in one direction across one glued break: how far it gapes.</summary>
    SameBreak,

    /// <summary>The same in all readings of one copy of the part: how much bigger it is than the mean of all copies.</summary>
    SameCopy,

    /// <summary>The same wherever one density was assumed.</summary>
    SameDensity,

    /// <summary>The same each time one instrument measures one thing, at one place of its scale: what is read there again errs by it again.</summary>
    SamePlace,
}

/// <summary>One source of uncertainty.</summary>
/// <param name="StandardUncertaintyMm">As it acts on the result, mm, i.e. already times its sensitivity.</param>
/// <param name="DegreesOfFreedom">Infinite when the figure itself is not in doubt.</param>
/// <param name="How">Where it comes from, for the person who reads the budget.</param>
public sealed record BudgetLine(
    string Name, BudgetKind Kind, double StandardUncertaintyMm, double DegreesOfFreedom, string How, ErrorReach Reach = ErrorReach.ThisReading)
{
    /// <summary>A limit ±a within which every value is as likely as another: u = a/√3 (GUM 4.3.7).</summary>
    public static BudgetLine Rectangular(string name, double halfWidthMm, string how, ErrorReach reach) =>
        new(name, BudgetKind.B, halfWidthMm / Math.Sqrt(3), double.PositiveInfinity, how, reach);
}

/// <summary>All sources of uncertainty of one value, and what they come to together (GUM 5.1.2, uncorrelated lines). A length's are in mm, those of another quantity in its own unit (<see cref="MeasuredValue"/>).</summary>
public sealed record UncertaintyBudget(IReadOnlyList<BudgetLine> Lines)
{
    /// <summary>Combined standard uncertainty, mm.</summary>
    public double StandardUncertaintyMm => Root(Lines);

    /// <summary>The part of it that a reading of anything else draws anew, mm.</summary>
    public double OwnMm => Root(Lines.Where(line => line.Reach is ErrorReach.ThisReading or ErrorReach.SamePlace));

    /// <summary>The part of it that it shares with other readings of the same instrument, mm.</summary>
    public double SharedMm => Root(Lines.Where(line => line.Reach is not (ErrorReach.ThisReading or ErrorReach.SamePlace)));

    /// <summary>The part of it that reaches so far, mm.</summary>
    public double ReachingMm(ErrorReach reach) => Root(Lines.Where(line => line.Reach == reach));

    /// <summary>The share of the variance that a line makes up.</summary>
    public double ShareOf(BudgetLine line)
    {
        double share = line.StandardUncertaintyMm / StandardUncertaintyMm;
        return share * share;
    }

    /// <summary>Welch–Satterthwaite (GUM G.4.1).</summary>
    public double EffectiveDegreesOfFreedom =>
        Coverage.EffectiveDegreesOfFreedom([.. Lines.Select(line => (line.StandardUncertaintyMm, line.DegreesOfFreedom))]);

    /// <summary>Half-width in mm of the interval that holds the true value with this probability (GUM G.3, Student's t).</summary>
    public double ExpandedMm(double probability) =>
        Coverage.Factor(probability, EffectiveDegreesOfFreedom) * StandardUncertaintyMm;

    private static double Root(IEnumerable<BudgetLine> lines) =>
        Math.Sqrt(lines.Sum(line => line.StandardUncertaintyMm * line.StandardUncertaintyMm));
}
