namespace Sparewright.Strength.Solve;

/// <summary>A level of groups of corners under the last grid of cells: its matrix written down, smoothed and corrected by the level below it, or solved directly when small.</summary>
internal sealed class GroupLevel
{
    /// <summary>What takes no more multiplications than this (a few tenths of a second) is solved directly.</summary>
    private const double SolvedDirectly = 8e8;

    /// <summary>Links weaker than this share of the corners' own stiffness do not hold a group together.</summary>
    private const double LeastLink = 0.02;

    private readonly BlockMatrix? _matrix;
    private readonly double[] _inverse;
    private readonly (float Keep, float Take)[] _steps = [];
    private readonly Envelope? _direct;
    private readonly BlockMatrix? _down;
    private readonly BlockMatrix? _up;
    private readonly GroupLevel? _coarser;
    private readonly double[] _d, _k, _coarseB, _coarseX;

    /// <param name="modes">Rigid movements of each unknown, <see cref="Aggregation.Modes"/> numbers each; zero rows do not move.</param>
    /// <param name="largest">Bound of the largest eigenvalue of D⁻¹A if one is known.</param>
    public GroupLevel(BlockMatrix matrix, double[] modes, double? largest, Workers workers)
    {
        workers.Cancel.ThrowIfCancellationRequested();
        Unknowns = matrix.Rows * matrix.BlockRows;
        _inverse = matrix.Diagonal();
        for (int n = 0; n < Unknowns; n++) _inverse[n] = _inverse[n] > 0 && modes.AsSpan(n * Aggregation.Modes, Aggregation.Modes).ContainsAnyExcept(0.0) ? 1 / _inverse[n] : 0;
        _d = _k = _coarseB = _coarseX = [];
        _direct = Envelope.Of(matrix, _inverse, SolvedDirectly);
        if (_direct is not null) return;
        // What is solved directly needs its matrix no longer.
        _matrix = matrix;
        _d = new double[Unknowns];
        _k = new double[Unknowns];

        double bound = largest ?? Largest();
        _steps = Chebyshev.Steps(bound);
        (_, _down, _coarser) = Below(matrix, modes, _inverse, bound, workers);
        _up = _down.Transposed();
        _coarseB = new double[_coarser.Unknowns];
        _coarseX = new double[_coarser.Unknowns];
    }

    public int Unknowns { get; }

    /// <summary>How many levels there are from here down.</summary>
    public int Depth => 1 + (_coarser?.Depth ?? 0);

    /// <summary>Bytes held from here down.</summary>
    public long Bytes => 8L * ((_matrix?.Values.Length ?? 0) + 4 * Unknowns + 2 * (_down?.Values.Length ?? 0)) + (_direct?.Bytes ?? 0) + (_coarser?.Bytes ?? 0);

    /// <summary>By which share of D⁻¹A the groups' movements are smoothed.</summary>
    public static double SmoothedBy(double largest) => 4 / (3 * largest);

    /// <summary>The groups' own rigid movements on a level, the same smoothed, which interpolates, and the level of groups.</summary>
    public static (BlockMatrix Tentative, BlockMatrix Down, GroupLevel Coarser) Below(BlockMatrix matrix, double[] modes, double[] inverse, double largest, Workers workers)
    {
        var moves = new bool[matrix.Rows];
        for (int row = 0; row < matrix.Rows; row++) moves[row] = inverse.AsSpan(row * matrix.BlockRows, matrix.BlockRows).ContainsAnyExcept(0.0);
        var (group, groups) = Aggregation.GroupsOf(matrix, moves, LeastLink);
        var (tentative, coarseModes) = Aggregation.Tentative(group, groups, modes, matrix.BlockRows);
        BlockMatrix down = Aggregation.Smoothed(matrix, tentative, inverse, SmoothedBy(largest), workers);
        BlockMatrix coarse = BlockMatrix.Product(down.Transposed(), BlockMatrix.Product(matrix, down, workers), workers);
        return (tentative, down, new(coarse, coarseModes, null, workers));
    }

    /// <summary>x ≈ A⁻¹ b by one cycle, the same whichever side it is looked at from.</summary>
    public void Cycle(Span<double> b, Span<double> x)
    {
        if (_direct is not null)
        {
            b.CopyTo(x);
            _direct.Solve(x);
            return;
        }

        x.Clear();
        Smooth(b, x, fromZero: true);
        _matrix!.Multiply(x, _k);
        for (int n = 0; n < _k.Length; n++) _k[n] = b[n] - _k[n];
        _up!.Multiply(_k, _coarseB);
        _coarser!.Cycle(_coarseB, _coarseX);
        _coarser.Improve(_coarseB, _coarseX);
        _down!.Multiply(_coarseX, _k);
        for (int n = 0; n < _k.Length; n++) x[n] += _k[n];
        Smooth(b, x, fromZero: false);
    }

    /// <summary>A second cycle on what the first left over: groups are few, and the outer iteration gains more than it costs.</summary>
    private void Improve(ReadOnlySpan<double> b, Span<double> x)
    {
        if (_direct is not null) return;
        var rest = new double[Unknowns];
        var more = new double[Unknowns];
        _matrix!.Multiply(x, rest);
        for (int n = 0; n < rest.Length; n++) rest[n] = b[n] - rest[n];
        Cycle(rest, more);
        for (int n = 0; n < more.Length; n++) x[n] += more[n];
    }

    private void Smooth(ReadOnlySpan<double> b, Span<double> x, bool fromZero)
    {
        foreach (var (keep, take) in _steps)
        {
            if (fromZero) Array.Clear(_k);
            else _matrix!.Multiply(x, _k);
            fromZero = false;
            for (int n = 0; n < x.Length; n++)
            {
                _d[n] = keep * _d[n] + take * _inverse[n] * (b[n] - _k[n]);
                x[n] += _d[n];
            }
        }
    }

    /// <summary>A little more than the largest eigenvalue of D⁻¹A, by the power method.</summary>
    private double Largest()
    {
        var v = new double[Unknowns];
        for (int n = 0; n < Unknowns; n++) v[n] = Math.Sin(1 + 7.0 * n * n);
        double value = 1;
        for (int round = 0; round < 12; round++)
        {
            _matrix!.Multiply(v, _k);
            double product = 0, norm = 0, length = 0;
            for (int n = 0; n < Unknowns; n++)
            {
                if (_inverse[n] == 0) { v[n] = 0; continue; }
                product += v[n] * _k[n];
                norm += v[n] * v[n] / _inverse[n];
                v[n] = _k[n] * _inverse[n];
                length += v[n] * v[n];
            }

            value = product / norm;
            length = Math.Sqrt(length);
            for (int n = 0; n < Unknowns; n++) v[n] /= length;
        }

        return 1.15 * value;
    }
}
