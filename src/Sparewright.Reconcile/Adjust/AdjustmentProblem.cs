using Sparewright.Measure.Numbers;

namespace Sparewright.Reconcile.Adjust;

/// <summary>A value as a function of the unknowns. It may not keep the span, and must give the same answer each time.</summary>
public delegate Dual Computed(ReadOnlySpan<Dual> unknowns);

/// <summary>Something to be found.</summary>
/// <param name="Start">Where the search begins; no evidence.</param>
public sealed record Unknown(string Name, double Start);

/// <summary>Something observed, independent of every other observation. An error that observations share is an unknown of its own, on which they all depend.</summary>
/// <param name="StandardUncertainty">In the unit of <paramref name="Observed"/>; greater than zero.</param>
/// <param name="Computed">What would be observed if the unknowns had these values.</param>
public sealed record Observation(string Name, double Observed, double StandardUncertainty, Computed Computed)
{
    /// <summary>False for what has its say, but cannot be a wrong reading: what is assumed, what stands in for a bound.</summary>
    public bool MayBeWrong { get; init; } = true;

    /// <summary>False for what is only assumed before any reading, of an instrument's zero shift for example.</summary>
    public bool IsEvidence { get; init; } = true;

    /// <summary>Standard uncertainty with the errors that it shares with others, in the unit of <see cref="Observed"/>; the same where it shares none.</summary>
    public double WholeUncertainty { get; init; } = StandardUncertainty;
}

/// <summary>A condition that holds exactly.</summary>
/// <param name="MustBeZero">Zero when it holds; in units in which 10⁻⁹ is nothing.</param>
public sealed record Restraint(string Name, Computed MustBeZero)
{
    /// <summary>One unknown has this value.</summary>
    public static Restraint Fixed(string name, int unknown, double value) => new(name, unknowns => unknowns[unknown] - value);
}

/// <summary>All there is to adjust. The index of an unknown or observation is its place in its list.</summary>
public sealed record AdjustmentProblem(
    IReadOnlyList<Unknown> Unknowns, IReadOnlyList<Observation> Observations, IReadOnlyList<Restraint> Restraints)
{
    public AdjustmentProblem(IReadOnlyList<Unknown> unknowns, IReadOnlyList<Observation> observations) : this(unknowns, observations, []) { }

    /// <summary>The same without one observation, starting from values already found.</summary>
    public AdjustmentProblem Without(int observation, IReadOnlyList<double> from) =>
        From(from) with { Observations = [.. Observations.Where((_, i) => i != observation)] };

    /// <summary>The same, starting elsewhere.</summary>
    public AdjustmentProblem From(IReadOnlyList<double> start) =>
        this with { Unknowns = [.. Unknowns.Select((unknown, i) => unknown with { Start = start[i] })] };
}

/// <summary>Why no adjustment could be made.</summary>
/// <param name="Name">The unknown, observation or restraint at fault.</param>
/// <param name="Reason">What is wrong with it.</param>
/// <param name="Remedy">What to do about it.</param>
public sealed record AdjustmentFailure(string Name, string Reason, string Remedy);
