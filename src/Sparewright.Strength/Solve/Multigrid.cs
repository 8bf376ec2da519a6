namespace Sparewright.Strength.Solve;

/// <summary>
/// Approximate solution of K x = b by one symmetric cycle over ever coarser grids, in single precision: grids of cells twice as long as long as those still tell the material's
/// shape. The last is solved directly where it is small, else by groups of corners that follow the material.
/// </summary>
internal sealed class Multigrid : IDisposable
{
    /// <summary>A grid with fewer corners than this is made no coarser.</summary>
    private const int FewCorners = 400;

    /// <summary>A last grid that takes no more multiplications than this (some hundredths of a second) is solved directly: groups would be no better and take as long.</summary>
    private const double SolvedDirectly = 5e7;

    /// <summary>A coarser grid is worth it as long as its cells are filled by so much on average: in emptier ones walls are too stiff in bending.</summary>
    private const double LeastFilled = 0.4;

    /// <summary>A coarser grid that takes in by so much more room than the finer one is gone through twice, after longer smoothing: there walls are thin and it is not quite as soft as the part.</summary>
    private const double MostSwelling = 1.1;

    /// <summary>With a larger share of twin cells a grid is gone through twice, too: the roots of slits lie deeper in its cells than in the finer ones.</summary>
    private const double MostTwins = 0.005;

    private readonly List<Level> _levels = [];
    private readonly List<BrickLevel> _owned = [];
    private readonly Workers _workers;
    private readonly Elastic _elastic;
    private bool _isKept;
    private Envelope? _direct;
    private GroupLevel? _groups;
    private BlockMatrix? _tentative;
    private NativeArray<float>? _spare;
    private double[] _lastB = [], _groupB = [], _groupX = [];
    private int[] _lastAt = [];

    public Multigrid(BrickLevel finest, Elastic elastic, Workers workers)
    {
        (_workers, _elastic) = (workers, elastic);
        BrickLevel level = finest;
        while (true)
        {
            workers.Cancel.ThrowIfCancellationRequested();
            BrickLevel? coarser = level.Corners > FewCorners ? level.Coarser() : null;
            if (coarser is not null && coarser.Rows.Solid < LeastFilled * coarser.Rows.Cells)
            {
                coarser.Dispose();
                coarser = null;
            }

            _levels.Add(coarser is null ? new(level, null) : new(level, new(coarser.From!, workers)) { IsTwice = coarser.Rows.Twins.Count > MostTwins * coarser.Rows.Cells || 8.0 * coarser.Rows.Cells / level.Rows.Cells > MostSwelling });
            _levels[^1].Estimate(workers);
            if (coarser is null) break;
            _owned.Add(coarser);
            level = coarser;
        }
    }

    /// <summary>Puts all levels on the supports of the finest grid.</summary>
    /// <param name="keepsGroups">
    /// The groups may keep the supports that they have, if they have any: still a good step where little has changed, and building them anew takes as long as several cycles on a small grid.
    /// </param>
    public void Hold(bool keepsGroups)
    {
        for (int at = 0; at + 1 < _levels.Count; at++) _levels[at].Grid.HoldCoarser(_levels[at + 1].Grid);
        // Going through twice would make too much of supports that are gone.
        _isKept = keepsGroups && _groups is not null;
        if (_isKept) return;
        BrickLevel level = _levels[^1].Grid;
        WrittenDown last = WrittenDown.Of(level, _elastic, level.Factors.K11 / _elastic.C11 * 16, _workers);
        _lastAt = last.At;
        _lastB = new double[_lastAt.Length];
        if ((_direct = Envelope.Of(last.Matrix, last.Inverse, SolvedDirectly)) is not null)
        {
            (_groups, _tentative) = (null, null);
            return;
        }

        // Groups are softer than rigid, but not quite as soft as the part: what they leave over is smoothed longer.
        _levels[^1].SmoothLonger();
        (_tentative, _, _groups) = GroupLevel.Below(last.Matrix, last.Modes, last.Inverse, _levels[^1].Largest, _workers);
        _spare ??= new(level.Length);
        _groupB = new double[_groups.Unknowns];
        _groupX = new double[_groups.Unknowns];
    }

    public long Bytes => _levels.Sum(l => l.Bytes) + (_direct?.Bytes ?? 0) + (_groups?.Bytes ?? 0) + 8L * (_tentative?.Values.Length ?? 0) + sizeof(float) * (long)(_spare?.Length ?? 0);

    /// <summary>Grids of cells, then levels of groups (none where the last grid is solved directly).</summary>
    public (int Grids, int Groups) Depth => (_levels.Count, _groups?.Depth ?? 0);

    /// <summary>What is to be solved; may be written before each cycle.</summary>
    public NativeArray<float> B => _levels[0].B;

    /// <summary>What came out of the last cycle.</summary>
    public NativeArray<float> X => _levels[0].X;

    public void Cycle() => Cycle(0);

    private void Cycle(int at, bool fromZero = true)
    {
        Level own = _levels[at];
        Smooth(own, fromZero);
        own.Grid.Apply(own.X, own.K, (_, start, length) => LongVectors.Subtract(own.B.Slice(start, length), own.K.Slice(start, length)));
        foreach (int place in own.Grid.FixedAt) own.K.Span[place] = 0;
        if (own.Below is { } below)
        {
            below.Restrict(own.K, _levels[at + 1].B);
            foreach (int place in _levels[at + 1].Grid.FixedAt) _levels[at + 1].B.Span[place] = 0;
            Cycle(at + 1);
            for (int more = MoreVisits(at); more > 0; more--) Cycle(at + 1, fromZero: false);
            below.AddInterpolated(_levels[at + 1].X, own.X);
        }
        else if (_direct is not null)
        {
            CorrectDirectly(own, _direct);
        }
        else
        {
            CorrectByGroups(own);
        }

        foreach (int place in own.Grid.FixedAt) own.X.Span[place] = 0;
        Smooth(own, fromZero: false);
    }

    /// <summary>How often the next grid is gone through again: that above groups twice, as they are few and not quite as soft as the part.</summary>
    private int MoreVisits(int at)
    {
        if (_isKept) return 0;
        if (_groups is not null) return at + 2 == _levels.Count ? 2 : 1;
        return _levels[at].IsTwice ? 1 : 0;
    }

    /// <summary>x += K⁻¹ k.</summary>
    private void CorrectDirectly(Level own, Envelope direct)
    {
        Span<float> k = own.K.Span, x = own.X.Span;
        for (int n = 0; n < _lastAt.Length; n++) _lastB[n] = k[_lastAt[n]];
        direct.Solve(_lastB);
        for (int n = 0; n < _lastAt.Length; n++) x[_lastAt[n]] += (float)_lastB[n];
    }

    /// <summary>
    /// x += P groups⁻¹ Pᵀ k with P = (1 − ω D⁻¹K) T: the groups' rigid movements T are smoothed by the operator itself, so that nothing but T need be kept.
    /// </summary>
    private void CorrectByGroups(Level own)
    {
        Span<float> k = own.K.Span, x = own.X.Span, d = own.D.Span, moved = _spare!.Span;
        ReadOnlySpan<float> inverse = own.Grid.InverseDiagonal.Span;
        float by = (float)GroupLevel.SmoothedBy(own.Largest);
        for (int n = 0; n < d.Length; n++) d[n] = by * inverse[n] * k[n];
        own.Grid.Apply(own.D, _spare);
        for (int n = 0; n < _lastAt.Length; n++) _lastB[n] = k[_lastAt[n]] - moved[_lastAt[n]];
        _tentative!.MultiplyTransposed(_lastB, _groupB);
        _groups!.Cycle(_groupB, _groupX);
        _tentative.Multiply(_groupX, _lastB);
        d.Clear();
        for (int n = 0; n < _lastAt.Length; n++) d[_lastAt[n]] = (float)_lastB[n];
        own.Grid.Apply(own.D, _spare);
        for (int n = 0; n < d.Length; n++) x[n] += d[n] - by * inverse[n] * moved[n];
    }

    private void Smooth(Level own, bool fromZero)
    {
        NativeArray<float> inverse = own.Grid.InverseDiagonal;
        foreach (var (keep, take) in own.Steps)
        {
            if (fromZero)
            {
                _workers.Along(own.Grid.Length, (start, length) =>
                    Chebyshev.Start(take, inverse.Slice(start, length), own.B.Slice(start, length), own.D.Slice(start, length), own.X.Slice(start, length)));
                Correct(own, take, fromZero);
                fromZero = false;
                continue;
            }

            own.Grid.Apply(own.X, own.K, (_, start, length) =>
                Chebyshev.Step(keep, take, inverse.Slice(start, length), own.B.Slice(start, length), own.K.Slice(start, length), own.D.Slice(start, length), own.X.Slice(start, length)));
            Correct(own, take, fromZero);
        }
    }

    private static void Correct(Level own, float take, bool fromZero)
    {
        if (own.Grid.Corrections.Length == 0) return;
        Span<float> b = own.B.Span, k = own.K.Span, d = own.D.Span, x = own.X.Span;
        int slots = own.Grid.Rows.Slots;
        foreach (CornerBlock block in own.Grid.Corrections)
        {
            // From x = 0 there are no forces yet.
            if (fromZero) k[block.Slot] = k[slots + block.Slot] = k[2 * slots + block.Slot] = 0;
            block.Step(take, slots, b, k, d, x);
        }
    }

    public void Dispose()
    {
        foreach (Level level in _levels) level.Dispose();
        foreach (BrickLevel level in _owned) level.Dispose();
        _spare?.Dispose();
    }

    /// <summary>A grid with what a cycle needs on it: right side, solution, last step, forces.</summary>
    private sealed class Level(BrickLevel grid, Transfer? below) : IDisposable
    {
        public BrickLevel Grid { get; } = grid;

        public Transfer? Below { get; } = below;

        /// <summary>Whether the next grid is gone through twice: walls are thin, or the roots of slits lie deeper in the finer cells.</summary>
        public bool IsTwice { get; init; }

        public NativeArray<float> B { get; } = new(grid.Length);

        public NativeArray<float> X { get; } = new(grid.Length);

        public NativeArray<float> D { get; } = new(grid.Length);

        public NativeArray<float> K { get; } = new(grid.Length);

        /// <summary>A little more than the largest eigenvalue of D⁻¹K.</summary>
        public double Largest { get; private set; }

        public (float Keep, float Take)[] Steps { get; private set; } = [];

        public void Estimate(Workers workers)
        {
            Largest = LargestEigenvalue.Of(Grid, X, D, K, workers);
            Steps = IsTwice ? Chebyshev.Steps(Largest, Chebyshev.Degree + 1, 0.8 * Chebyshev.From) : Chebyshev.Steps(Largest);
        }

        public void SmoothLonger() => Steps = Chebyshev.Steps(Largest, 2 * Chebyshev.Degree, Chebyshev.From / 2);

        public long Bytes => 4L * sizeof(float) * Grid.Length + Grid.Bytes;

        public void Dispose()
        {
            B.Dispose();
            X.Dispose();
            D.Dispose();
            K.Dispose();
        }
    }
}
