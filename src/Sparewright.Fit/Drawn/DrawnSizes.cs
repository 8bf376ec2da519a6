using Sparewright.Fit.Odds;

namespace Sparewright.Fit.Drawn;

/// <summary>A size that is drawn otherwise than it was, in mm.</summary>
public sealed record SizeChange(string Size, double ByMm);

/// <summary>Sizes drawn for the fits.</summary>
/// <param name="Changes">Only those that change.</param>
/// <param name="Case">The case at these sizes.</param>
/// <param name="Before">The odds as it was drawn before.</param>
/// <param name="MeetsWanted">True when the wanted odds are reached; false when even the best sizes do not.</param>
public sealed record DrawnSizes(IReadOnlyList<SizeChange> Changes, FitCase Case, FitOdds Before, FitOdds Odds, bool MeetsWanted)
{
    /// <summary>Sizes are drawn to this, in mm.</summary>
    public const double GridMm = 0.01;

    /// <summary>Sizes are never changed by more than this for a fit, in mm: then another remedy is needed.</summary>
    public const double MostMm = 2;

    /// <summary>How far the search looks to each side at first, in mm.</summary>
    private const double ReachMm = 0.4;

    /// <summary>Odds that differ by less count as alike.</summary>
    private const double Flat = 1e-4;

    private const double Golden = 0.6180339887498949;

    /// <summary>The sizes at which all counterparts fit with the greatest odds.</summary>
    public static DrawnSizes Best(FitCase fit)
    {
        FitOdds before = FitOdds.Of(fit);
        return Finished(fit, before, Search(fit), double.NaN);
    }

    /// <summary>The sizes that reach the wanted odds with the least change; the best ones where none do.</summary>
    public static DrawnSizes Least(FitCase fit, double wantedOdds)
    {
        FitOdds before = FitOdds.Of(fit);
        if (before.AllTogether.Value >= wantedOdds) return new([], fit, before, before, true);
        Dictionary<string, double> best = Search(fit);
        bool Enough(Dictionary<string, double> changes) => FitOdds.Quick(fit.Changed(changes), copies: 2) >= wantedOdds;
        if (!Enough(best)) return Finished(fit, before, best, wantedOdds);

        // First whatever need not change at all, the smallest changes first; then all others as little as will do.
        foreach (string size in best.OrderBy(c => Math.Abs(c.Value)).Select(c => c.Key).ToArray())
        {
            Dictionary<string, double> without = new(best) { [size] = 0 };
            if (Enough(without)) best = without;
        }

        // Odds rise steadily from what was drawn towards the best sizes (they are log-concave there; A. Prékopa, 1973, from memory).
        double too = 0, least = 1;
        Dictionary<string, double> Part(double share) => best.ToDictionary(c => c.Key, c => OnGrid(share * c.Value, share < 1));
        for (int i = 0; i < 7; i++)
        {
            double middle = 0.5 * (too + least);
            if (Enough(Part(middle))) least = middle;
            else too = middle;
        }

        return Finished(fit, before, Part(least), wantedOdds);
    }

    private static DrawnSizes Finished(FitCase fit, FitOdds before, Dictionary<string, double> changes, double wanted)
    {
        FitCase changed = fit.Changed(changes);
        FitOdds after = FitOdds.Of(changed);
        return new([.. changes.Where(c => c.Value != 0).OrderBy(c => c.Key, StringComparer.Ordinal).Select(c => new SizeChange(c.Key, c.Value))], changed, before, after,
            double.IsNaN(wanted) || after.AllTogether.Value >= wanted - FitOdds.EnoughError);
    }

    /// <summary>Away from zero where that is the side of more odds.</summary>
    private static double OnGrid(double mm, bool outwards) => Math.Round((outwards ? Math.Sign(mm) * Math.Ceiling(Math.Abs(mm) / GridMm - 1e-9) : Math.Round(mm / GridMm)) * GridMm, 9);

    /// <summary>Size by size within each group of counterparts that share one, until none moves; a group's odds have one top only.</summary>
    private static Dictionary<string, double> Search(FitCase fit)
    {
        var best = fit.Changeable.ToDictionary(s => s, _ => 0.0);
        foreach (FitCase group in Groups(fit))
        {
            string[] sizes = [.. group.Changeable];
            if (sizes.Length == 0) continue;
            double Score(string size, double at) => FitOdds.Quick(group.Changed(new Dictionary<string, double>(best) { [size] = at }), copies: 1);
            // Where nothing goes yet the odds say nothing; the middle of the window is a good place to begin.
            foreach (string size in sizes)
            {
                double start = Middle(group.Changed(best), size), asDrawn = Score(size, 0);
                if (asDrawn < Flat || Score(size, start) > asDrawn) best[size] = start;
            }

            for (int round = 0; round < 4; round++)
            {
                double moved = 0;
                foreach (string size in sizes)
                {
                    double found = Top(x => Score(size, x), best[size], round == 0 || sizes.Length == 1 ? ReachMm : 0.15);
                    moved = Math.Max(moved, Math.Abs(found - best[size]));
                    best[size] = found;
                }

                // A single size is found at once unless its top lies beyond the reach.
                if (moved < (sizes.Length == 1 ? 0.9 * ReachMm : GridMm)) break;
            }

            // Between whole layers it hangs on where the first one begins what comes out, print after print alike.
            foreach (string size in sizes)
                if (OnLayers(group, size, best[size]).ToArray() is { Length: > 0 } whole) best[size] = whole.MaxBy(there => Score(size, there));
        }

        return best.ToDictionary(c => c.Key, c => OnGrid(c.Value, outwards: false));
    }

    /// <summary>The changes near one that bring a surface across the layers to whole ones.</summary>
    private static IEnumerable<double> OnLayers(FitCase group, string size, double byMm)
    {
        foreach (PrintedSize printed in group.PrintedSizes.Where(p => Math.Abs(p.PerSize.GetValueOrDefault(size)) > 1e-9))
        {
            double slope = printed.PerSize[size];
            foreach (double drawn in group.Process[printed.Kind].Prior.WholeLayersBeside(printed.DrawnMm + slope * byMm)) yield return Math.Clamp((drawn - printed.DrawnMm) / slope, -MostMm, MostMm);
        }
    }

    /// <summary>By how much a size would have to change for the first length that it moves to be expected where it is wanted: clearances in the middle of their window, holes over their fasteners.</summary>
    private static double Middle(FitCase group, string size)
    {
        foreach (var (length, wantedMm) in group.Conditions.SelectMany(Wanted))
        {
            double slope = length.Printed.Sum(p => p.Factor * p.PerSize.GetValueOrDefault(size));
            if (Math.Abs(slope) < 1e-9 || !double.IsFinite(wantedMm)) continue;
            double expected = new JointLengths(group, [length]).Of(0).Sum(c => c.Weight * c.Length.MeanMm);
            return Math.Clamp((wantedMm - expected) / slope, -MostMm, MostMm);
        }

        return 0;
    }

    private static IEnumerable<(LengthSum Length, double WantedMm)> Wanted(FitCondition condition) => condition switch
    {
        OneClearance one => [(one.Clearance, one.Window.MiddleMm)],
        FastenersInLine row => [.. row.Offsets.Select(o => (o, 0.0)), .. row.Rooms.Select(r => (r, 0.5 * row.Window.MiddleMm))],
        FastenersInPlane plane => [.. plane.Offsets.Select(o => (o, 0.0)), .. plane.Rooms.Select(r => (r, 0.5 * plane.Window.MiddleMm))],
        _ => [],
    };

    /// <summary>Golden section for the top of a function with one top (J. Kiefer, 1953), to a third of the grid.</summary>
    private static double Top(Func<double, double> of, double around, double reach)
    {
        double low = around - reach, high = around + reach;
        double left = high - Golden * (high - low), right = low + Golden * (high - low), atLeft = of(left), atRight = of(right);
        while (high - low > GridMm / 3)
            if (atLeft >= atRight)
            {
                (high, right, atRight) = (right, left, atLeft);
                left = high - Golden * (high - low);
                atLeft = of(left);
            }
            else
            {
                (low, left, atLeft) = (left, right, atRight);
                right = low + Golden * (high - low);
                atRight = of(right);
            }

        double found = Math.Clamp(0.5 * (low + high), -MostMm, MostMm), top = of(found);
        // A flat top is no reason to change anything; where a window is open the odds go on rising for ever.
        if (of(around) >= top - Flat) return around;
        double near = around;
        while (Math.Abs(found - near) > GridMm / 3)
        {
            double middle = 0.5 * (near + found);
            if (of(middle) >= top - Flat) found = middle;
            else near = middle;
        }

        return found;
    }

    /// <summary>Counterparts that share a changeable size, together.</summary>
    private static IEnumerable<FitCase> Groups(FitCase fit)
    {
        var left = fit.Conditions.ToList();
        while (left.Count > 0)
        {
            List<FitCondition> group = [left[0]];
            left.RemoveAt(0);
            HashSet<string> sizes = [.. Sizes(group[0])];
            for (int i = 0; i < left.Count; i++)
                if (Sizes(left[i]).Any(sizes.Contains))
                {
                    group.Add(left[i]);
                    sizes.UnionWith(Sizes(left[i]));
                    left.RemoveAt(i);
                    i = -1;
                }

            yield return fit with { Conditions = group };
        }

        static IEnumerable<string> Sizes(FitCondition c) => c.Lengths.SelectMany(l => l.Printed).SelectMany(p => p.PerSize.Keys);
    }
}
