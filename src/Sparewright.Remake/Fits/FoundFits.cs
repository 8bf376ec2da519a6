using Sparewright.Fit;
using Sparewright.Fit.Capability;
using Sparewright.Fit.Counterparts;
using Sparewright.Fit.Drawn;
using Sparewright.Fit.Ladder;
using Sparewright.Fit.Odds;
using Sparewright.Reconcile.Findings;

namespace Sparewright.Remake.Fits;

/// <summary>One counterpart with what is to be expected of it.</summary>
/// <param name="Odds">That it fits, at the sizes drawn for the fits.</param>
/// <param name="AsMeasured">That it would fit the part as it was measured.</param>
/// <param name="Clearance">The clearance to be expected, mm; of a pattern of holes by how much its pitch is off.</param>
/// <param name="DrawnMm">The sizes that it hangs on and that may change, as drawn for the fits.</param>
public sealed record ExpectedFit(MetCounterpart Met, Estimate Odds, Estimate AsMeasured, NormalLength Clearance, double Low95Mm, double High95Mm, IReadOnlyDictionary<string, double> DrawnMm)
{
    /// <summary>True when plastic would creep out of it; null where nothing is pressed.</summary>
    public PressFit? Press { get; init; }

    public string Name => Met.Counterpart.Name;
}

/// <summary>The odds that everything fits at the sizes to draw.</summary>
public sealed record FoundFits : DrawnForFits
{
    public const double UsuallyWanted = 0.9;

    /// <summary>Copies that bring less are not worth their plastic. Our judgement.</summary>
    private const double WorthOfCopies = 0.1;

    private readonly Lazy<IReadOnlyList<FitLadder>> _ladders;

    public FoundFits(DrawnForFits drawing, Lazy<IReadOnlyList<FitLadder>> ladders)
        : base(drawing) => _ladders = ladders;

    public required IReadOnlyList<ExpectedFit> Each { get; init; }

    /// <summary>By the job; <see cref="UsuallyWanted"/> where it does not say.</summary>
    public required double WantedOdds { get; init; }

    /// <summary>What costs how much of the odds, the costliest first.</summary>
    public required IReadOnlyList<DoubtCost> Costs { get; init; }

    /// <summary>What would better them, the cheapest that is enough first.</summary>
    public required IReadOnlyList<Cure> Cures { get; init; }

    /// <summary>What it would bring to print several in one go and keep the one that fits; none where the odds are as wanted, or nobody asked.</summary>
    public IReadOnlyList<Copies> Copies { get; init; } = [];

    /// <summary>As many of them as are worth their plastic: those that reach the wanted odds, else as many as still bring something; null where they would bring too little, or no more than a cure that takes less plastic.</summary>
    public Copies? InOneGo => Copies.Count > 0 && Copies[^1].Odds >= AllTogether + WorthOfCopies && Cures.All(c => c.OddsAfter < Copies[^1].Odds) ? Copies[^1] : null;

    /// <summary>Volume of the part, mm³; null where it was not built, so that nobody knows what a print of it takes.</summary>
    public double? PartMm3 { get; init; }

    /// <summary>The edges on the bed that are bevelled so that the first layers' flare stays within the part.</summary>
    public IReadOnlyList<RelievedEdge> Relief { get; init; } = [];

    /// <summary>The gauges for each fit; planned when somebody asks.</summary>
    public IReadOnlyList<FitLadder> Ladders => _ladders.Value;

    /// <summary>That everything fits at once.</summary>
    public double AllTogether => Drawn.Odds.AllTogether.Value;

    /// <summary>True while part of what the printer does is a guess about printers in general.</summary>
    public bool IsAssumed => Process.Status(Fits.Case.Kinds) == CapabilityStatus.Assumed;

    /// <summary>True when somebody should look: odds below the wanted ones, a press fit that would not last, readings that disagree, nothing to fit.</summary>
    public bool NeedsAttention => Each.Count == 0 || AllTogether < WantedOdds || Each.Any(e => e.Press is { IsRefused: true }) || Reconciled.NeedsAttention;
}
