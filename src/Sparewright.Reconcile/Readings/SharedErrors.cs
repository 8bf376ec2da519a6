using Sparewright.Measure;
using Sparewright.Measure.Numbers;
using Sparewright.Measure.Quantities;
using Sparewright.Measure.Uncertainty;
using Sparewright.Reconcile.Adjust;

namespace Sparewright.Reconcile.Readings;

/// <summary>What readings have an error in common by.</summary>
/// <param name="Of">The instrument, the break with its direction, the copy.</param>
/// <param name="Way">Null where it measures in one way only.</param>
internal sealed record ErrorKey(ErrorReach Reach, string Of, ReadingWay? Way)
{
    /// <summary>Of the error.</summary>
    public Unit Unit { get; init; } = Unit.Millimetre;

    /// <summary>How the error is called among the unknowns and observations; no reading can be called so.</summary>
    public string Name => Reach switch
    {
        ErrorReach.SameJawFlats => $"jaw flats of {Of}",
        ErrorReach.SameSoftness => Of,
        ErrorReach.SameBreak => $"gap of {Of}",
        ErrorReach.SameDensity => $"error of the density {Of}",
        ErrorReach.SameCopy => $"size of {Of} beside the mean",
        ErrorReach.SamePlace => $"error of {Of}",
        _ => Way is { } way ? $"zero shift of {Of}, {ReadingWords.Way(way)}" : $"zero shift of {Of}",
    };
}

/// <summary>A part of a reading's error.</summary>
/// <param name="Key">What other readings have it too; null where none has.</param>
/// <param name="Amount">Standard uncertainty in the unit of the reading; negative where what makes the others large makes this one small.</param>
internal readonly record struct ErrorPart(ErrorKey? Key, double Amount)
{
    /// <summary>The parts of a budget; each reach of it is one.</summary>
    public static IReadOnlyList<ErrorPart> Of(UncertaintyBudget budget, Func<ErrorReach, ErrorKey> shared) =>
    [
        new(null, budget.ReachingMm(ErrorReach.ThisReading)),
        .. budget.Lines.Select(line => line.Reach).Where(reach => reach != ErrorReach.ThisReading).Distinct().Order().Select(reach => new ErrorPart(shared(reach), budget.ReachingMm(reach))),
    ];

    /// <summary>The parts of a budget of an instrument's own.</summary>
    public static IReadOnlyList<ErrorPart> Of(Instrument with, ReadingWay way, UncertaintyBudget budget) => Of(budget, reach => new ErrorKey(reach, with.Name, way));
}

/// <summary>An unknown error that readings have in common.</summary>
/// <param name="StandardUncertaintyMm">Of that reading of them on which it weighs most.</param>
internal sealed record SharedError(ErrorKey Key, double StandardUncertaintyMm)
{
    public string Name => Key.Name;
}

/// <summary>The error of one reading, taken apart.</summary>
/// <param name="OwnMm">Standard uncertainty of what it shares with no other reading.</param>
/// <param name="Shared">Which of the shared errors it has, and how much of each.</param>
internal sealed record ReadingError(double OwnMm, IReadOnlyList<(int Error, double Share)> Shared)
{
    /// <summary>The independent reading's standard uncertainty that tells as much as one does beside those before it, with which it shares the variance of the place; each has its own besides.</summary>
    public static double Beyond(double place, double before, double own)
    {
        double both = place + 1 / (1 / before + 1 / own);
        return Math.Sqrt(1 / (1 / both - 1 / (place + before)));
    }
}

/// <summary>
/// The errors that readings share: one zero shift for each instrument and way, the width of its jaw flats, and what else makes several readings wrong alike. Each is one more unknown, behind the sizes,
/// that is zero within what is known of it; where readings check each other they say more of it. (The covariance matrix of errors e = own + S·shared, written as unknowns; GUM F.1.2.4, from memory.)
/// </summary>
internal sealed class SharedErrors
{
    private readonly int _sizes;
    private readonly Dictionary<ErrorKey, int> _at;

    /// <param name="sizes">How many unknowns stand before these.</param>
    /// <param name="readings">The parts of each reading's error, whatever their order. At a place where nothing else was read the error is the reading's own.</param>
    public SharedErrors(int sizes, IEnumerable<IReadOnlyList<ErrorPart>> readings)
    {
        _sizes = sizes;
        All =
        [
            .. readings.SelectMany(parts => parts).Where(p => p is { Key: not null, Amount: not 0 }).GroupBy(p => p.Key!).Where(g => g.Key.Reach != ErrorReach.SamePlace || g.Skip(1).Any()).Select(g => new SharedError(g.Key, g.Max(p => Math.Abs(p.Amount))))
                .OrderBy(e => e.Key.Of, StringComparer.Ordinal).ThenBy(e => e.Key.Way).ThenBy(e => e.Key.Reach),
        ];
        _at = All.Index().ToDictionary(e => e.Item.Key, e => e.Index);
    }

    /// <summary>Error k is unknown number sizes + k.</summary>
    public IReadOnlyList<SharedError> All { get; }

    /// <summary>How the error of a reading is made up; what nothing else here shares counts as its own.</summary>
    public ReadingError Of(IReadOnlyList<ErrorPart> parts)
    {
        double own = 0;
        var shared = new List<(int, double)>();
        foreach (var (key, amount) in parts)
        {
            if (amount == 0) continue;
            if (key is not null && _at.TryGetValue(key, out int k)) shared.Add((k, amount / All[k].StandardUncertaintyMm));
            else own += amount * amount;
        }

        return new(Math.Sqrt(own), shared);
    }

    /// <summary>How much of a reading's own error is of a kind that others could share, if there were any.</summary>
    public double Own(IReadOnlyList<ErrorPart> parts, ErrorReach reach) => parts.FirstOrDefault(p => p.Key is { } key && key.Reach == reach && !_at.ContainsKey(key)).Amount;

    /// <summary>What is assumed of them before any reading: zero, within their standard uncertainties.</summary>
    public IEnumerable<Observation> Assumed() => All.Select((error, k) => new Observation(error.Name, 0, error.StandardUncertaintyMm, x => x[_sizes + k]) { MayBeWrong = false, IsEvidence = false });

    /// <summary>What is true as a reading with this error shows it, corrected.</summary>
    /// <param name="unknowns">The sizes, and the shared errors behind them.</param>
    public Dual Shown(Dual isTrue, ReadingError error, ReadOnlySpan<Dual> unknowns)
    {
        foreach (var (k, share) in error.Shared) isTrue += share * unknowns[_sizes + k];
        return isTrue;
    }

    /// <inheritdoc cref="Shown(Dual, ReadingError, ReadOnlySpan{Dual})"/>
    public Dual Shown(Dual isTrue, ReadingError error, IReadOnlyList<double> unknowns)
    {
        foreach (var (k, share) in error.Shared) isTrue += share * Dual.Unknown(_sizes + k, unknowns[_sizes + k]);
        return isTrue;
    }
}
