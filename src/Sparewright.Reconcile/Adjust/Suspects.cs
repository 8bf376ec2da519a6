namespace Sparewright.Reconcile.Adjust;

/// <summary>A reading that may hold a gross error.</summary>
/// <param name="Index">Its place in the problem that was searched.</param>
/// <param name="W">Its test, the other suspects it would be wrong together with being left out.</param>
/// <param name="Odds">That it is wrong, given how many are wrong and that each was as likely as any other beforehand.</param>
/// <param name="EstimatedGrossError">How much too large it is, if it is wrong.</param>
public sealed record Suspect(int Index, string Name, double W, double Odds, double EstimatedGrossError);

/// <summary>Readings some of which are wrong, and the readings cannot say which.</summary>
/// <param name="Members">The most likely first.</param>
/// <param name="HowManyWrong">Of the members; nearly always one.</param>
public sealed record SuspectSet(IReadOnlyList<Suspect> Members, int HowManyWrong)
{
    public Suspect Leader => Members[0];

    /// <summary>True for a culprit: one reading, and no rival.</summary>
    public bool IsSingle => Members.Count == 1;
}

/// <summary>What the search for gross errors found.</summary>
/// <param name="CriticalW">|w| above which a reading is suspect.</param>
/// <param name="Sets">Empty when no reading stands out.</param>
/// <param name="Remaining">The adjustment without the most likely wrong readings of each set.</param>
public sealed record SuspectSearch(double CriticalW, IReadOnlyList<SuspectSet> Sets, AdjustmentResult Remaining);

/// <summary>
/// Finds readings that contradict the others. One, two or three wrong readings are each tried, all combinations of them, and the fewest that leave no
/// contradiction are taken, so that two errors cannot hide each other. Under "only the readings S are wrong" the misfit falls by
/// wᵀR⁻¹w, with w their tests and R the correlations of these (for one reading Baarda's w²; J.-J. Kok, On Data Snooping and Multiple Outlier Testing,
/// NOAA 1984; from memory), so the likelihood ratio of two such guesses is e to half the difference. Guesses that the readings cannot tell apart are
/// named together.
/// </summary>
public static class Suspects
{
    private const int MostTogether = 3, MostCandidates = 60;

    /// <summary>Searches at a level for all readings together (chance that good readings raise any alarm).</summary>
    /// <param name="separation">A rival is named too unless the best guess is likelier by these odds: 0.95 means 19 to 1.</param>
    public static SuspectSearch Find(AdjustmentResult result, double level = 0.05, double separation = 0.95)
    {
        double critical = Reliability.CriticalW(level, result.Observations.Count(IsCandidate));
        List<int> original = [.. Enumerable.Range(0, result.Observations.Count)];
        var sets = new List<SuspectSet>();
        var remaining = result;
        while (remaining.Observations.Any(o => IsCandidate(o) && Math.Abs(o.W!.Value) > critical))
        {
            var candidates = new Candidates(remaining, original);
            AdjustmentResult now = remaining;
            Guess best = candidates.FewestThatExplain(critical, guess => Explains(guess.Members.Select(candidates.At), now, critical));
            sets.AddRange(candidates.SetsAround(best, separation));
            foreach (int at in best.Members.Select(m => candidates.At(m)).OrderDescending())
            {
                if (!Adjustment.TrySolve(remaining.Problem.Without(at, remaining.Estimates), out var without, out _))
                    return new(critical, Joined(sets), remaining);
                remaining = without;
                original.RemoveAt(at);
            }
        }

        return new(critical, Joined(sets), remaining);
    }

    /// <summary>Whether nothing stands out any more when these are really left out: far from where a reading wrong by far has dragged the sizes, tests come out otherwise than foretold there.</summary>
    private static bool Explains(IEnumerable<int> left, AdjustmentResult result, double critical) =>
        Adjustment.Without(result.Problem, left.ToHashSet(), result) is { } without && without.Observations.All(o => !IsCandidate(o) || Math.Abs(o.W!.Value) <= critical);

    /// <summary>
    /// A rival of one culprit may turn out to be wrong besides, once that one is left out; which of them all are wrong is then one question.
    /// </summary>
    private static List<SuspectSet> Joined(IEnumerable<SuspectSet> sets)
    {
        var joined = new List<SuspectSet>();
        foreach (SuspectSet set in sets)
        {
            SuspectSet[] tied = [set, .. joined.Where(other => other.Members.Any(o => set.Members.Any(m => m.Index == o.Index)))];
            joined.RemoveAll(other => tied.Contains(other));
            joined.Add(tied.Length == 1 ? set : new(
                [.. tied.SelectMany(t => t.Members).GroupBy(m => m.Index).Select(same => same.MaxBy(m => m.Odds)!).OrderByDescending(m => Math.Round(m.Odds, 9)).ThenBy(m => m.Index)],
                tied.Sum(t => t.HowManyWrong)));
        }

        return joined;
    }

    /// <summary>What is only assumed is never a suspect, nor what nothing checks.</summary>
    private static bool IsCandidate(AdjustedObservation observation) => observation is { MayBeWrong: true, IsChecked: true };

    /// <summary>Some candidates taken to be wrong.</summary>
    /// <param name="Gain">By how much the misfit falls without them.</param>
    /// <param name="Shifts">R⁻¹w: their errors in standard deviations of their tests.</param>
    /// <param name="Inverse">R⁻¹.</param>
    private sealed record Guess(int[] Members, double Gain, double[] Shifts, double[,] Inverse);

    /// <summary>The readings with the largest tests, and the correlations between these.</summary>
    private sealed class Candidates
    {
        private readonly AdjustmentResult _result;
        private readonly List<int> _original;
        private readonly int[] _at;
        private readonly double[] _w;
        private readonly double[,] _correlation;

        public Candidates(AdjustmentResult result, List<int> original)
        {
            (_result, _original) = (result, original);
            _at = [.. Enumerable.Range(0, result.Observations.Count).Where(i => IsCandidate(result.Observations[i]))
                .OrderByDescending(i => Math.Abs(result.Observations[i].W!.Value)).Take(MostCandidates)];
            _w = [.. _at.Select(i => result.Observations[i].W!.Value)];
            _correlation = new double[_at.Length, _at.Length];
            for (int a = 0; a < _at.Length; a++)
                for (int b = 0; b < _at.Length; b++) _correlation[a, b] = result.TestCorrelation(_at[a], _at[b]);
        }

        /// <summary>Where a candidate stands among the observations of the adjustment.</summary>
        public int At(int candidate) => _at[candidate];

        /// <summary>The best guess of the least number of wrong readings that leaves no test above the critical value, or of the most that are tried together.</summary>
        /// <param name="explains">Whether a guess leaves none when the readings are adjusted anew without it.</param>
        public Guess FewestThatExplain(double critical, Func<Guess, bool> explains)
        {
            Guess? best = null;
            for (int count = 1; count <= Math.Min(MostTogether, _result.Global.DegreesOfFreedom); count++)
            {
                if (AllGuesses(count).MaxBy(guess => guess.Gain) is not { } guess) break;
                best = guess;
                if (Enumerable.Range(0, _at.Length).Except(guess.Members).All(other => Math.Abs(TestWithout(guess, other)) <= critical) || explains(guess)) break;
            }

            return best ?? throw new InvalidOperationException("a test above the critical value is itself a guess");
        }

        /// <summary>The best guess with its rivals: members that can be exchanged for each other form one set.</summary>
        public IEnumerable<SuspectSet> SetsAround(Guess best, double separation)
        {
            List<Guess> all = [.. AllGuesses(best.Members.Length)];
            double Likelihood(Guess guess) => Math.Exp(0.5 * (guess.Gain - best.Gain));
            double total = all.Sum(Likelihood), least = (1 - separation) / separation;
            List<Guess> rivals = [.. all.Where(guess => Likelihood(guess) >= least)];

            // Each member of the best guess starts a set of its own; a rival that changes two at once ties their sets together.
            var setOf = best.Members.ToDictionary(member => member);
            foreach (var rival in rivals)
            {
                int[] left = [.. best.Members.Except(rival.Members)];
                foreach (int member in rival.Members.Except(best.Members).Concat(left))
                {
                    int target = setOf[left[0]];
                    if (!setOf.TryGetValue(member, out int source)) setOf[member] = target;
                    else if (source != target)
                        foreach (int other in setOf.Where(pair => pair.Value == source).Select(pair => pair.Key).ToList()) setOf[other] = target;
                }
            }

            return setOf.GroupBy(pair => pair.Value, pair => pair.Key).Select(group => new SuspectSet(
                [.. group.Select(member => AsSuspect(member, rivals.Where(r => r.Members.Contains(member)).MaxBy(r => r.Gain)!, all.Where(g => g.Members.Contains(member)).Sum(Likelihood) / total))
                    .OrderByDescending(suspect => Math.Round(suspect.Odds, 9)).ThenBy(suspect => suspect.Index)],
                group.Count(best.Members.Contains)));
        }

        private Suspect AsSuspect(int member, Guess guess, double odds)
        {
            int k = Array.IndexOf(guess.Members, member);
            var observation = _result.Observations[_at[member]];
            return new(_original[_at[member]], observation.Name, guess.Shifts[k] / Math.Sqrt(guess.Inverse[k, k]), odds,
                -guess.Shifts[k] * observation.StandardUncertainty / Math.Sqrt(observation.Redundancy));
        }

        /// <summary>The test of another candidate when the guessed ones are left out.</summary>
        private double TestWithout(Guess guess, int other)
        {
            double w = _w[other], variance = 1;
            for (int a = 0; a < guess.Members.Length; a++)
            {
                w -= _correlation[other, guess.Members[a]] * guess.Shifts[a];
                for (int b = 0; b < guess.Members.Length; b++)
                    variance -= _correlation[other, guess.Members[a]] * guess.Inverse[a, b] * _correlation[guess.Members[b], other];
            }

            return variance > 1e-9 ? w / Math.Sqrt(variance) : 0;
        }

        private IEnumerable<Guess> AllGuesses(int count) => Combinations(_at.Length, count).Select(Try).OfType<Guess>();

        /// <summary>Null when the guessed readings cannot be told apart from each other: then fewer explain as much.</summary>
        private Guess? Try(int[] members)
        {
            int n = members.Length;
            var inverse = new double[n, n];
            for (int i = 0; i < n; i++)
                for (int j = 0; j < n; j++) inverse[i, j] = _correlation[members[i], members[j]];
            if (!InvertInPlace(inverse)) return null;
            var shifts = new double[n];
            double gain = 0;
            for (int i = 0; i < n; i++)
            {
                for (int j = 0; j < n; j++) shifts[i] += inverse[i, j] * _w[members[j]];
                gain += shifts[i] * _w[members[i]];
            }

            return new(members, gain, shifts, inverse);
        }

        /// <summary>Gauss–Jordan on a small correlation matrix, whose pivots are what is left of a test beside the ones before.</summary>
        private static bool InvertInPlace(double[,] matrix)
        {
            int n = matrix.GetLength(0);
            for (int k = 0; k < n; k++)
            {
                double pivot = matrix[k, k];
                if (pivot < 1e-6) return false;
                matrix[k, k] = 1;
                for (int j = 0; j < n; j++) matrix[k, j] /= pivot;
                for (int i = 0; i < n; i++)
                {
                    if (i == k) continue;
                    double factor = matrix[i, k];
                    matrix[i, k] = 0;
                    for (int j = 0; j < n; j++) matrix[i, j] -= factor * matrix[k, j];
                }
            }

            return true;
        }

        private static IEnumerable<int[]> Combinations(int of, int count)
        {
            int[] chosen = [.. Enumerable.Range(0, count)];
            while (count <= of)
            {
                yield return [.. chosen];
                int k = count - 1;
                while (k >= 0 && chosen[k] == of - count + k) k--;
                if (k < 0) yield break;
                chosen[k]++;
                for (int j = k + 1; j < count; j++) chosen[j] = chosen[j - 1] + 1;
            }
        }
    }
}
