using Sparewright.Measure;
using Sparewright.Measure.Quantities;
using Sparewright.Measure.Uncertainty;
using Sparewright.Part.Elements;
using Sparewright.Part.Record;
using Sparewright.Reconcile.Adjust;
using Sparewright.Reconcile.Explain;
using Sparewright.Reconcile.Next;
using Sparewright.Reconcile.Nominals;
using Quantity = Sparewright.Part.Sizes.Quantity;

namespace Sparewright.Reconcile.Findings;

/// <summary>How well a size is known.</summary>
public enum SizeStatus
{
    /// <summary>Readings decide it, and other readings check them.</summary>
    Decided,

    /// <summary>Readings decide it, but it rests on one that the others hardly check: an error there would go unseen.</summary>
    Weak,

    /// <summary>Nothing decides it; it is drawn as near its starting value as the readings allow.</summary>
    Undecided,

    /// <summary>The job binds it.</summary>
    Fixed,
}

/// <summary>A size as the readings leave it, in mm or degrees.</summary>
/// <param name="StandardUncertainty">Infinite when undecided, 0 when fixed.</param>
/// <param name="DecidedBy">The readings that carry at least a twentieth of its variance, the heaviest first.</param>
public sealed record ReconciledSize(string Name, Quantity Quantity, double Estimate, double StandardUncertainty, IReadOnlyList<string> DecidedBy, SizeStatus Status)
{
    /// <summary>What the designer may have meant by it; null where no proposal is worth making.</summary>
    public Nominal? Nominal { get; init; }

    /// <summary>An earlier size that it may be the same as; null where none is worth proposing.</summary>
    public SameSize? SameAs { get; init; }

    /// <summary>The middle of another feature that it may put one into; null where none is worth proposing.</summary>
    public CentredPlace? Centred { get; init; }

    /// <summary>True when it is bound by a nominal that somebody accepted.</summary>
    public bool IsSettled { get; init; }

    /// <summary>True when what the job holds likely carries part of it too.</summary>
    public bool AlsoLikely { get; init; }

    /// <summary>Lower end of the 95 % interval (normal distribution).</summary>
    public double Low95 => Estimate - Normal95 * StandardUncertainty;

    /// <summary>Upper end of the 95 % interval.</summary>
    public double High95 => Estimate + Normal95 * StandardUncertainty;

    private const double Normal95 = 1.959963984540054;
}

/// <summary>What became of a reading.</summary>
public enum ReadingVerdict
{
    /// <summary>It agrees with the others.</summary>
    Agrees,

    /// <summary>It alone contradicts the others and is set aside; the sizes are drawn without it.</summary>
    SetAside,

    /// <summary>It is one of several of which one must be wrong; all stay in.</summary>
    Suspect,

    /// <summary>It only bounds the sizes, or has no say in them, and agrees with them as far as it goes.</summary>
    Compared,

    /// <summary>It has no say in the sizes, and they contradict it.</summary>
    ComparedAndDiffers,
}

/// <summary>A reading beside what it should have shown, both in its <see cref="Unit"/>.</summary>
/// <param name="Observed">The mean of the repeats, corrected; null for gauge leaves and what has no say.</param>
/// <param name="Adjusted">What the part as reconciled would show.</param>
/// <param name="W">Residual in units of its own standard deviation; null when nothing checks the reading.</param>
/// <param name="Redundancy">0: nothing checks it; 1: the others would show an error as large as its uncertainty (<see cref="AdjustedObservation.Check"/>). Null when it has no say.</param>
/// <param name="Says">What the reading measures, in words.</param>
public sealed record ReconciledReading(Reading Reading, string Says, MeasuredLength? Measured, double? Observed, double? Adjusted, double? W, double? Redundancy, ReadingVerdict Verdict)
{
    /// <summary>Of all its figures: mm unless it is no length.</summary>
    public Unit Unit { get; init; } = Unit.Millimetre;

    /// <summary>How unsure it is, line by line, in the unit; null for what has none.</summary>
    public UncertaintyBudget? Budget { get; init; }

    /// <summary>Why it has no say, where that has a reason worth telling; otherwise null.</summary>
    public string? WhyNotUsed { get; init; }

    /// <summary>How it may have gone wrong, the likeliest first, "none of these" last; empty unless it stands in a contradiction.</summary>
    public IReadOnlyList<Explanation> Explanations { get; init; } = [];

    /// <summary>True when its repeats lie further apart than readings of one length do: one of them is of something else.</summary>
    public bool RepeatsApart { get; init; }

    /// <summary>Adjusted − observed.</summary>
    public double? Residual => Adjusted - Observed;

    /// <summary>True when no other reading would notice an error in it.</summary>
    public bool IsUnchecked => Redundancy < Reliability.LeastRedundancy;
}

/// <summary>Readings of which one must be wrong.</summary>
/// <param name="Ids">The most likely first; more than one when the readings cannot tell them apart.</param>
/// <param name="Odds">That the first is the wrong one.</param>
/// <param name="ShouldReadMm">What the first should have shown, by all others.</param>
/// <param name="SetAside">True when the first is left out of the sizes as drawn: because it alone stands out, or because with it the part cannot exist or sizes that it has nothing to do with are dragged along.</param>
public sealed record Contradiction(IReadOnlyList<string> Ids, double Odds, double W, double Redundancy, double ObservedMm, double ShouldReadMm, bool SetAside, string Words)
{
    /// <summary>True while it is not clear which one is wrong.</summary>
    public bool IsOpen => !SetAside || Ids.Count > 1;

    /// <summary>Of the first one's figures here: mm, unless it is no length.</summary>
    public Unit Unit { get; init; } = Unit.Millimetre;

    /// <summary>How many of them are wrong; nearly always one.</summary>
    public int HowManyWrong { get; init; } = 1;
}

/// <summary>Sizes that nothing decides, together.</summary>
/// <param name="Why">The trade-off, in words.</param>
/// <param name="Measure">What to measure to decide them: any one will do.</param>
public sealed record UndecidedSizes(IReadOnlyList<string> Sizes, string Why, IReadOnlyList<string> Measure);

/// <summary>What the readings say about the part, taken together.</summary>
/// <param name="Free">The free sizes, in the order of the job's size table.</param>
/// <param name="Adjustment">The adjustment from which the sizes come, for covariances.</param>
/// <param name="Shape">The part at these sizes.</param>
public sealed record Reconciled(
    IReadOnlyList<ReconciledSize> Sizes,
    IReadOnlyList<ReconciledReading> Readings,
    GlobalTest Global,
    IReadOnlyList<Contradiction> Contradictions,
    IReadOnlyList<UndecidedSizes> Undecided,
    IReadOnlyList<double> Free,
    AdjustmentResult Adjustment,
    PlacedShape Shape)
{
    /// <summary>By how much each instrument reads too large in each way, where the readings say something of it.</summary>
    public IReadOnlyList<ZeroShift> ZeroShifts { get; init; } = [];

    /// <summary>Settled sizes without whose nominal, of each alone, no reading would contradict the others.</summary>
    public IReadOnlyList<string> SettledAgainst { get; init; } = [];

    /// <summary>One cause that would explain all contradictions, where several readings must be wrong; null where there is none such.</summary>
    public CommonShift? CommonShift { get; init; }

    /// <summary>What other errors readings have in common, where the readings say something of them.</summary>
    public IReadOnlyList<SharedErrorFound> SharedErrors { get; init; } = [];

    /// <summary>Sizes whose errors hang together so much that it matters, the strongest first.</summary>
    public IReadOnlyList<CorrelatedSizes> Correlations { get; init; } = [];

    /// <summary>What to measure next, the most useful first.</summary>
    public IReadOnlyList<NextReading> Next => NextFound.Value;

    /// <summary>What is still to be measured until every size is decided and every reading checked, in a good order; empty when nothing is.</summary>
    public IReadOnlyList<PlannedReading> Plan => PlanFound.Value;

    /// <summary>The unit of which the lengths seem to be multiples; null where none stands out.</summary>
    public PartUnit? Unit { get; init; }

    /// <summary>By how much a moulded part shrank from round values; null where it is likelier that it did not.</summary>
    public MouldShrink? Shrink { get; init; }

    internal Lazy<IReadOnlyList<PlannedReading>> PlanFound { get; init; } = new([]);

    /// <summary>Found when somebody asks: it takes longer than all the rest.</summary>
    internal Lazy<IReadOnlyList<NextReading>> NextFound { get; init; } = new([]);

    /// <summary>True when the readings in the adjustment differ, all together, by more than their uncertainties allow, whether or not one of them stands out.</summary>
    public bool DisagreeTogether => !Global.Passes(Reconciliation.FalseAlarmLevel);

    /// <summary>True when readings contradict each other and it is not clear which one is wrong.</summary>
    public bool ContradictionOpen => DisagreeTogether || Contradictions.Any(c => c.IsOpen);

    /// <summary>How many readings are taken to be wrong.</summary>
    public int HowManyWrong => Contradictions.Sum(c => c.HowManyWrong);

    /// <summary>That so many readings seem wrong at once that it is hardly one slip each; null where it is no more than two.</summary>
    public string? TooManyWrong => HowManyWrong <= 2 ? null
        : $"{HowManyWrong} readings seem to be wrong at once. So many are told apart less surely than one or two, and often have one cause: look first at the instrument, its unit and its zero, and at the shape that the readings are held against, then measure these once more.";

    /// <summary>True when somebody should look: a contradiction, an undecided size, a compared reading that differs.</summary>
    public bool NeedsAttention => ReadingsDisagree || Undecided.Count > 0;

    /// <summary>True when readings contradict each other or the part as reconciled, or repeats of one another.</summary>
    public bool ReadingsDisagree => Contradictions.Count > 0 || ContradictionOpen || Readings.Any(r => r.Verdict == ReadingVerdict.ComparedAndDiffers || r.RepeatsApart);
}
