using Sparewright.Fit.Capability;

namespace Sparewright.Fit.Odds;

/// <summary>
/// All lengths of a case together: jointly normal once the spread of each kind of surface is given. A part of the means and covariances is fixed, and each kind of surface adds one for each possible spread.
/// What walls have in common, the printer's width of lines and the day's, is one standard normal variable each for all kinds: how a length hangs on them adds up over the kinds.
/// </summary>
internal sealed class JointLengths
{
    private readonly double[] _fixedMeans;
    private readonly double[,] _fixedCovariance;
    private readonly List<KindPart> _kinds = [];

    /// <summary>What one kind of surface adds, for each possible value of its spread.</summary>
    /// <param name="UpTo">The weights of the values, added up.</param>
    /// <param name="Covariances">Without what walls have in common.</param>
    /// <param name="Walls">By how much each length grows with the printer's width of lines (first half) and with the day's (second half), mm for a standard deviation.</param>
    private sealed record KindPart(double[] UpTo, double[][] Means, double[][] Covariances, double[][] Walls);

    /// <param name="known">What is to be taken as known exactly, at its mean.</param>
    public JointLengths(FitCase of, IReadOnlyList<LengthSum> lengths, Func<Doubt, bool>? known = null)
    {
        Count = lengths.Count;
        (_fixedMeans, _fixedCovariance) = (new double[Count], new double[Count, Count]);
        known ??= _ => false;
        Dictionary<string, KindCapability> tried = [];
        foreach (KindCapability kind in lengths.SelectMany(l => l.Printed).Select(p => p.Kind).Distinct().Order().Select(k => of.Process[k]))
            foreach (string counterpart in kind.Counterparts) tried.TryAdd(counterpart, kind);

        for (int i = 0; i < Count; i++) _fixedMeans[i] = lengths[i].FixedMm + lengths[i].Printed.Sum(p => p.Factor * p.DrawnMm);
        AddCounterparts(lengths, tried, known);
        AddReadings(of, lengths, known);
        foreach (SurfaceKind kind in lengths.SelectMany(l => l.Printed).Select(p => p.Kind).Distinct().Order())
            _kinds.Add(Part(of.Process[kind], lengths, tried, known));
    }

    public int Count { get; }

    /// <summary>How many kinds of surface have a spread of their own.</summary>
    public int Kinds => _kinds.Count;

    /// <summary>Means and covariance (row after row) for spreads picked by numbers between 0 and 1, one for each kind.</summary>
    public void At(ReadOnlySpan<double> picks, double[] means, double[] covariance)
    {
        int n = Count;
        Span<double> walls = stackalloc double[2 * n];
        walls.Clear();
        _fixedMeans.CopyTo(means, 0);
        Buffer.BlockCopy(_fixedCovariance, 0, covariance, 0, covariance.Length * sizeof(double));
        for (int k = 0; k < _kinds.Count; k++)
        {
            int at = Array.BinarySearch(_kinds[k].UpTo, picks[k]);
            at = Math.Min(at < 0 ? ~at : at, _kinds[k].UpTo.Length - 1);
            double[] m = _kinds[k].Means[at], c = _kinds[k].Covariances[at], w = _kinds[k].Walls[at];
            for (int i = 0; i < n; i++) means[i] += m[i];
            for (int i = 0; i < covariance.Length; i++) covariance[i] += c[i];
            for (int i = 0; i < w.Length; i++) walls[i] += w[i];
        }

        for (int i = 0; i < n; i++)
            for (int j = 0; j < n; j++) covariance[i * n + j] += walls[i] * walls[j] + walls[n + i] * walls[n + j];
    }

    /// <summary>One length by itself: a mixture of normal distributions, with their weights; the kinds' cases multiply.</summary>
    public IEnumerable<(double Weight, NormalLength Length)> Of(int length)
    {
        IEnumerable<(double Weight, double Mean, double Variance, double Line, double Day)> all = [(1, _fixedMeans[length], _fixedCovariance[length, length], 0, 0)];
        foreach (KindPart part in _kinds)
        {
            // A kind that has no say in this length must not multiply the cases.
            if (part.Covariances.All(c => c[length * Count + length] == 0) && part.Walls.All(w => w[length] == 0 && w[Count + length] == 0) && part.Means.All(m => m[length] == part.Means[0][length]))
            {
                double mean = part.Means[0][length];
                all = all.Select(a => (a.Weight, a.Mean + mean, a.Variance, a.Line, a.Day));
                continue;
            }

            all = [.. from a in all from k in Enumerable.Range(0, part.UpTo.Length)
                      let weight = part.UpTo[k] - (k == 0 ? 0 : part.UpTo[k - 1])
                      select (a.Weight * weight, a.Mean + part.Means[k][length], a.Variance + part.Covariances[k][length * Count + length], a.Line + part.Walls[k][length], a.Day + part.Walls[k][Count + length])];
        }

        return all.Select(a => (a.Weight, new NormalLength(a.Mean, Math.Sqrt(Math.Max(0, a.Variance + a.Line * a.Line + a.Day * a.Day)))));
    }

    private void AddCounterparts(IReadOnlyList<LengthSum> lengths, Dictionary<string, KindCapability> tried, Func<Doubt, bool> known)
    {
        for (int i = 0; i < Count; i++)
            foreach (CounterpartSize c in lengths[i].Counterparts)
            {
                if (tried.ContainsKey(c.Name)) continue;
                _fixedMeans[i] += c.Factor * c.Length.MeanMm;
                if (known(new Doubt.OfCounterpart(c.Name))) continue;
                for (int j = 0; j < Count; j++)
                    foreach (CounterpartSize other in lengths[j].Counterparts)
                        if (other.Name == c.Name) _fixedCovariance[i, j] += c.Factor * other.Factor * c.Length.VarianceMm2;
            }
    }

    private void AddReadings(FitCase of, IReadOnlyList<LengthSum> lengths, Func<Doubt, bool> known)
    {
        var index = of.Read.Names.Index().ToDictionary(n => n.Item, n => n.Index);
        for (int i = 0; i < Count; i++)
            foreach (ReadSize a in lengths[i].Read)
            {
                _fixedMeans[i] += a.Factor * of.Read.MeansMm[index[a.Name]];
                if (known(new Doubt.OfReading(a.Name))) continue;
                for (int j = 0; j < Count; j++)
                    foreach (ReadSize b in lengths[j].Read)
                        if (!known(new Doubt.OfReading(b.Name))) _fixedCovariance[i, j] += a.Factor * b.Factor * of.Read.CovarianceMm2[index[a.Name], index[b.Name]];
            }
    }

    private KindPart Part(KindCapability kind, IReadOnlyList<LengthSum> lengths, Dictionary<string, KindCapability> tried, Func<Doubt, bool> known)
    {
        SurfaceKind of = kind.Prior.Kind;
        bool spreadKnown = known(new Doubt.OfSpread(of)), biasKnown = known(new Doubt.OfBias(of));
        int unknowns = kind.Cases[0].Belief.Mean.Count;
        var sums = new double[Count][];
        var doubtful = new double[Count][];
        // The day of a kind that walls have a say in is all walls'; the day of any other is its own.
        double[] byDay = [.. lengths.Select(l => Math.Sqrt(kind.Prior.DayShare) * of.WallSense() * l.Printed.Where(p => p.Kind == of).Sum(p => p.Factor))];
        double[] scatter = of.WallSense() == 0 ? Scatter(lengths, of, kind.Prior.DayShare, _ => 1) : Scatter(lengths, of, 0, _ => 1 - kind.Prior.DayShare);
        double[] sliced = Scatter(lengths, of, 0, p => kind.Prior.SlicedVarianceMm2(Math.Abs(p.DrawnMm)));
        for (int i = 0; i < Count; i++)
        {
            (sums[i], doubtful[i]) = (new double[unknowns], new double[unknowns]);
            foreach (PrintedSize p in lengths[i].Printed.Where(p => p.Kind == of))
            {
                double[] terms = kind.Sum(p.DrawnMm);
                for (int t = 0; t < unknowns; t++) sums[i][t] += p.Factor * terms[t];
            }

            sums[i].CopyTo(doubtful[i], 0);
            if (biasKnown) Array.Clear(doubtful[i]);
            foreach (CounterpartSize c in lengths[i].Counterparts.Where(c => tried.TryGetValue(c.Name, out KindCapability? by) && by == kind))
            {
                sums[i][kind.IndexOf(c.Name)] += c.Factor;
                if (!known(new Doubt.OfCounterpart(c.Name))) doubtful[i][kind.IndexOf(c.Name)] += c.Factor;
            }
        }

        int values = kind.Cases.Count;
        var (upTo, means, covariances, walls) = (new double[values], new double[values][], new double[values][], new double[values][]);
        double weight = 0;
        var with = new double[unknowns];
        for (int k = 0; k < kind.Cases.Count; k++)
        {
            SpreadCase c = kind.Cases[k];
            upTo[k] = weight += c.Weight;
            means[k] = [.. sums.Select(s => c.Belief.MeanOf(s))];
            (covariances[k], walls[k]) = (new double[Count * Count], new double[2 * Count]);
            double line = Math.Sqrt(c.Belief.Covariance(KindRegression.Walls, KindRegression.Walls));
            for (int i = 0; i < Count; i++)
            {
                c.Belief.VarianceOf(doubtful[i], with);
                walls[k][i] = kind.Prior.WallShare == 0 ? 0 : with[KindRegression.Walls] / line;
                if (!spreadKnown) walls[k][Count + i] = byDay[i] * c.SpreadMm;
                for (int j = 0; j < Count; j++)
                {
                    for (int t = 0; t < unknowns; t++) covariances[k][i * Count + j] += with[t] * doubtful[j][t];
                    if (!spreadKnown) covariances[k][i * Count + j] += scatter[i * Count + j] * c.SpreadMm * c.SpreadMm + sliced[i * Count + j];
                }
            }
        }

        for (int k = 0; k < values; k++)
            for (int i = 0; i < Count; i++)
                for (int j = 0; j < Count; j++) covariances[k][i * Count + j] -= walls[k][i] * walls[k][j];

        return new(upTo, means, covariances, walls);
    }

    /// <summary>Covariances of what scatter adds to each length that a surface enters.</summary>
    /// <param name="shared">The share of its variance that all surfaces of the kind have in common, in one print; the rest is each one's own.</param>
    private double[] Scatter(IReadOnlyList<LengthSum> lengths, SurfaceKind of, double shared, Func<PrintedSize, double> varianceMm2)
    {
        var all = new double[Count * Count];
        var printed = lengths.SelectMany((l, i) => l.Printed.Where(p => p.Kind == of).Select(p => (Length: i, Printed: p))).ToArray();
        foreach (var surface in printed.GroupBy(s => (object?)s.Printed.Surface ?? new object()))
            foreach (var (i, a) in surface)
                foreach (var (j, b) in surface) all[i * Count + j] += (1 - shared) * a.Factor * b.Factor * varianceMm2(a);
        if (shared == 0) return all;
        foreach (var (i, a) in printed)
            foreach (var (j, b) in printed) all[i * Count + j] += shared * a.Factor * b.Factor * Math.Sqrt(varianceMm2(a) * varianceMm2(b));
        return all;
    }
}
