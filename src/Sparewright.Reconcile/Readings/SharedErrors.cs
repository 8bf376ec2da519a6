using Sparewright.Measure;
using Sparewright.Measure.Numbers;
using Sparewright.Measure.Uncertainty;
using Sparewright.Reconcile.Adjust;

namespace Sparewright.Reconcile.Readings;

/// <summary>An unknown error that readings of one instrument in one way have in common.</summary>
/// <param name="StandardUncertaintyMm">Of that reading of them on which it weighs most.</param>
internal sealed record SharedError(string Instrument, ReadingWay Way, ErrorReach Reach, double StandardUncertaintyMm)
{
    /// <summary>How it is called among the unknowns and observations; no reading can be called so.</summary>
    public string Name => Reach == ErrorReach.SameJawFlats ? $"jaw flats of {Instrument}" : $"zero shift of {Instrument}, {Way.ToString().ToLowerInvariant()}";
}

/// <summary>The error of one reading, taken apart.</summary>
/// <param name="OwnMm">Standard uncertainty of what it shares with no other reading.</param>
/// <param name="Shared">Which of the shared errors it has, and how much of each.</param>
internal sealed record ReadingError(double OwnMm, IReadOnlyList<(int Error, double Share)> Shared);

/// <summary>
/// The errors that readings share: one zero shift for each instrument and way, and the width of its jaw flats. Each is one more unknown, behind the sizes, that is zero within what is
/// known of the instrument; where readings check each other they say more of it. (The covariance matrix of errors e = own + S·shared, written as unknowns; GUM F.1.2.4, from memory.)
/// </summary>
internal sealed class SharedErrors
{
    private static readonly ErrorReach[] Reaches = [ErrorReach.SameInstrumentAndWay, ErrorReach.SameJawFlats];

    private readonly int _sizes;
    private readonly Dictionary<(string, ReadingWay, ErrorReach), int> _at;

    /// <param name="sizes">How many unknowns stand before these.</param>
    /// <param name="measured">All readings, whatever their order.</param>
    public SharedErrors(int sizes, IEnumerable<(Instrument With, ReadingWay Way, UncertaintyBudget Budget)> measured)
    {
        _sizes = sizes;
        All =
        [
            .. measured.SelectMany(m => Reaches.Select(reach => new SharedError(m.With.Name, m.Way, reach, m.Budget.ReachingMm(reach)))).Where(e => e.StandardUncertaintyMm > 0)
                .GroupBy(e => (e.Instrument, e.Way, e.Reach)).Select(g => g.MaxBy(e => e.StandardUncertaintyMm)!)
                .OrderBy(e => e.Instrument, StringComparer.Ordinal).ThenBy(e => e.Way).ThenBy(e => e.Reach),
        ];
        _at = All.Index().ToDictionary(e => (e.Item.Instrument, e.Item.Way, e.Item.Reach), e => e.Index);
    }

    /// <summary>Error k is unknown number sizes + k.</summary>
    public IReadOnlyList<SharedError> All { get; }

    /// <summary>How the error of a reading is made up; what nothing else here shares counts as its own.</summary>
    public ReadingError Of(Instrument with, ReadingWay way, UncertaintyBudget budget)
    {
        double own = budget.OwnMm * budget.OwnMm;
        var shared = new List<(int, double)>();
        foreach (ErrorReach reach in Reaches)
        {
            double u = budget.ReachingMm(reach);
            if (u == 0) continue;
            if (_at.TryGetValue((with.Name, way, reach), out int k)) shared.Add((k, u / All[k].StandardUncertaintyMm));
            else own += u * u;
        }

        return new(Math.Sqrt(own), shared);
    }

    /// <summary>What is assumed of them before any reading: zero, within their standard uncertainties.</summary>
    public IEnumerable<Observation> Assumed() => All.Select((error, k) => new Observation(error.Name, 0, error.StandardUncertaintyMm, x => x[_sizes + k]) { MayBeWrong = false, IsEvidence = false });

    /// <summary>A true length as a reading with this error shows it, corrected.</summary>
    /// <param name="unknowns">The sizes, and the shared errors behind them.</param>
    public Dual Shown(Dual trueMm, ReadingError error, ReadOnlySpan<Dual> unknowns)
    {
        foreach (var (k, share) in error.Shared) trueMm += share * unknowns[_sizes + k];
        return trueMm;
    }

    /// <inheritdoc cref="Shown(Dual, ReadingError, ReadOnlySpan{Dual})"/>
    public Dual Shown(Dual trueMm, ReadingError error, IReadOnlyList<double> unknowns)
    {
        foreach (var (k, share) in error.Shared) trueMm += share * Dual.Unknown(_sizes + k, unknowns[_sizes + k]);
        return trueMm;
    }
}
