using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using Sparewright.Strength.Grid;

namespace Sparewright.Strength.Solve;

/// <summary>A spring against the ground along one unit direction, N/mm, of a place that up to eight corners move by their shares.</summary>
internal sealed record GroundSpring((int Slot, double Weight)[] Corners, double X, double Y, double Z, double Stiffness);

/// <summary>One grid of cells as a linear operator, never written down as a matrix; with the places where nothing moves and springs against the ground.</summary>
internal sealed unsafe class BrickLevel : IDisposable
{
    /// <summary>So many springs are put on the coarser grid by one piece of work.</summary>
    private const int SpringsOfPiece = 512;

    private readonly float* _shares, _moments;
    private readonly NativeArray<float> _own;
    private readonly Workers _workers;
    private readonly TwinForces _twins;
    private PullingSprings _pulling;

    public BrickLevel(BrickRows rows, in BrickFactors factors, Workers workers)
        : this(rows, null, factors, workers)
    {
    }

    private BrickLevel(BrickRows rows, Coarsening? from, in BrickFactors factors, Workers workers)
    {
        (Rows, From, Factors, _workers) = (rows, from, factors, workers);
        _twins = new(rows, factors, workers);
        _pulling = new([], rows.Slots, workers);
        // Both are kept in their place by the rows.
        _shares = (float*)Unsafe.AsPointer(ref MemoryMarshal.GetArrayDataReference(rows.Shares));
        _moments = (float*)Unsafe.AsPointer(ref MemoryMarshal.GetArrayDataReference(rows.Moments));
        _own = OwnDiagonal();
        foreach (float x in _own.Slice(0, rows.Slots))
            if (x > 0) Corners++;
        InverseDiagonal = new(3 * rows.Slots);
        Hold([], []);
    }

    /// <summary>Where springs pull: what the inverse of the corner's own 3 × 3 block has over that of the diagonal.</summary>
    public CornerBlock[] Corrections { get; private set; } = [];

    public BrickRows Rows { get; }

    /// <summary>How it was made from the grid of cells half as long; none for the finest.</summary>
    public Coarsening? From { get; }

    public long Bytes => sizeof(float) * (2L * Length + Rows.Shares.Length + Rows.Moments.Length) + _twins.Bytes;

    public BrickFactors Factors { get; }

    /// <summary>How many corners touch solid.</summary>
    public int Corners { get; }

    /// <summary>Places in the arrays (all x, all y, all z) that do not move.</summary>
    public int[] FixedAt { get; private set; } = [];

    public GroundSpring[] Springs { get; private set; } = [];

    /// <summary>1 / diagonal; 0 where nothing moves and where no solid is.</summary>
    public NativeArray<float> InverseDiagonal { get; }

    /// <summary>Puts the grid on other supports.</summary>
    public void Hold(int[] fixedAt, GroundSpring[] springs)
    {
        (FixedAt, Springs) = (fixedAt, springs);
        _pulling = new(springs, Rows.Slots, _workers);
        int n = Rows.Slots;
        Span<float> inverse = InverseDiagonal.Span;
        _own.Span.CopyTo(inverse);
        foreach (GroundSpring s in springs)
        {
            // The sum over the row of the spring's matrix: with it no eigenvalue of D⁻¹ times that matrix is above 1.
            double all = s.Stiffness * (Math.Abs(s.X) + Math.Abs(s.Y) + Math.Abs(s.Z)) * s.Corners.Sum(c => Math.Abs(c.Weight));
            foreach (var (slot, weight) in s.Corners)
            {
                inverse[slot] += (float)(all * Math.Abs(weight * s.X));
                inverse[n + slot] += (float)(all * Math.Abs(weight * s.Y));
                inverse[2 * n + slot] += (float)(all * Math.Abs(weight * s.Z));
            }
        }

        for (int at = 0; at < inverse.Length; at++)
            if (inverse[at] > 0) inverse[at] = 1 / inverse[at];
        foreach (int at in fixedAt) inverse[at] = 0;
        Corrections = CornerBlock.Corrections(springs, _own.Span, inverse);
    }

    /// <summary>The cells' own diagonal, without springs.</summary>
    private NativeArray<float> OwnDiagonal()
    {
        var own = new NativeArray<float>(3 * Rows.Slots);
        // As with forces: no two pieces of a kind share a plane of corners.
        for (int odd = 0; odd < 2; odd++)
        {
            int first = odd;
            _workers.For((Rows.Chunks.Length + 1 - first) / 2, half =>
            {
                var (from, to) = Rows.Chunks[2 * half + first];
                AddDiagonal(own.Span, Rows.Runs.AsSpan(Rows.LayerStart[from]..Rows.LayerStart[to]));
            });
        }

        for (int n = 0; n < Rows.Twins.Count; n++)
            for (int c = 0; c < 8; c++)
            {
                int slot = Rows.Twins.SlotsOf(n)[c];
                var (x, y, z) = CutDiagonal.Of(Rows.Twins[n].Moments, c, Factors);
                own.Span[slot] += x;
                own.Span[Rows.Slots + slot] += y;
                own.Span[2 * Rows.Slots + slot] += z;
            }

        return own;
    }

    private void AddDiagonal(Span<float> to, ReadOnlySpan<BrickRows.Run> runs)
    {
        int n = Rows.Slots;
        float fullXY = (float)Factors.DiagonalXY, fullZ = (float)Factors.DiagonalZ;
        Span<float> moments = stackalloc float[CutCells.PerCell];
        foreach (BrickRows.Run run in runs)
            for (int cell = 0; cell < run.Blocks * BrickRows.Block; cell++)
            {
                float share = Rows.Shares[run.Shares + cell];
                if (share == 0) continue;
                if (run.Cut >= 0) Rows.MomentsOf(run, cell, moments);
                for (int c = 0; c < 8; c++)
                {
                    int slot = run.Corner(c) + cell;
                    var (x, y, z) = run.Cut < 0 ? (share * fullXY, share * fullXY, share * fullZ) : CutDiagonal.Of(moments, c, Factors);
                    to[slot] += x;
                    to[n + slot] += y;
                    to[2 * n + slot] += z;
                }
            }
    }

    public int Length => 3 * Rows.Slots;

    /// <summary>Puts to 0 what stands at corners away from all solid.</summary>
    public void ClearAway(Span<double> u)
    {
        for (int slot = 0; slot < Rows.Slots; slot++)
            if (_own.Span[slot] == 0) u[slot] = u[Rows.Slots + slot] = u[2 * Rows.Slots + slot] = 0;
    }

    /// <summary>r = K u, also at the places that do not move (there it is the force that holds them).</summary>
    /// <param name="then">
    /// What is to be done with each stretch of the arrays while it is still in the cache: the piece of work it belongs to, its start and length. By then nobody reads u there any more, so u may be changed.
    /// Pieces run side by side, the stretches of one piece one after the other.
    /// </param>
    public void Apply<T>(NativeArray<T> u, NativeArray<T> r, Action<int, int, int>? then = null) where T : unmanaged
    {
        // Even pieces first, then odd ones: no two of a kind share a plane of corners, and each plane gets its forces in the same order always.
        int chunks = Rows.Chunks.Length;
        T* from = u.Start, to = r.Start;
        _pulling.Stretch(from);
        _twins.Note(from);
        bool isBig = Rows.Shares.Length > 20000;
        _workers.For((chunks + 1) / 2, half => Piece(2 * half, from, to, then), isBig);
        if (chunks > 1) _workers.For(chunks / 2, half => Piece(2 * half + 1, from, to, then), isBig);
    }

    private void Piece<T>(int chunk, T* u, T* r, Action<int, int, int>? then) where T : unmanaged
    {
        var (from, to) = Rows.Chunks[chunk];
        bool even = chunk % 2 == 0, isLast = to == Rows.NZ;
        // The planes between two pieces are cleared by the even one, which comes first, and finished by the odd one.
        Clear(r, Rows.PlaneStart[even ? from : from + 1], Rows.PlaneStart[even || isLast ? to + 1 : to]);
        BrickKernel.Add(Rows, _shares, _moments, Factors, u, r, from, to);
        int start = Rows.PlaneStart[even && from > 0 ? from + 1 : from], end = Rows.PlaneStart[even && !isLast ? to : to + 1];
        _pulling.AddTo(r, start, end);
        _twins.AddTo(r, start, end);
        if (then is null) return;
        for (int axis = 0; axis < 3; axis++) then(chunk, axis * Rows.Slots + start, end - start);
    }

    private void Clear<T>(T* r, int start, int end) where T : unmanaged
    {
        for (int axis = 0; axis < 3; axis++) new Span<T>(r + axis * Rows.Slots + start, end - start).Clear();
    }

    /// <summary>The grid of cells twice as long, on no supports yet.</summary>
    public BrickLevel Coarser()
    {
        BrickFactors f = Factors;
        var between = new Coarsening(Rows, _workers);
        return new(between.Coarse, between, new(2 * f.K11, 2 * f.K12, 2 * f.K13, 2 * f.K33, 2 * f.K44, 2 * f.K66), _workers);
    }

    /// <summary>
    /// Puts the coarser grid on this one's supports. A place that does not move stays so where the coarser grid has a corner there; between corners a stiff spring stands for it.
    /// </summary>
    public void HoldCoarser(BrickLevel coarser)
    {
        BrickRows rows = coarser.Rows;
        var fixedAt = new HashSet<int>();
        // Within a cell of this grid, so that what holds a coarser cell still holds it against turning.
        GroundSpring[] merged = Merged(Springs), moved = new GroundSpring[merged.Length];
        _workers.For((merged.Length + SpringsOfPiece - 1) / SpringsOfPiece, piece =>
        {
            for (int n = piece * SpringsOfPiece; n < Math.Min(merged.Length, (piece + 1) * SpringsOfPiece); n++) moved[n] = merged[n] with { Corners = OnCoarser(merged[n].Corners, coarser.From!) };
        });
        List<GroundSpring> springs = [.. moved];

        var between = new List<(int Axis, List<(int Slot, double Weight)> About)>();
        foreach (int at in FixedAt)
        {
            int axis = at / Rows.Slots, slot = at % Rows.Slots;
            var about = coarser.From!.About(slot);
            if (about is [{ Weight: 1 } only]) fixedAt.Add(axis * rows.Slots + only.Slot);
            else between.Add((axis, about));
        }

        foreach (var (axis, about) in between)
        {
            // Held by its own corners already, most of them.
            about.RemoveAll(c => fixedAt.Contains(axis * rows.Slots + c.Slot));
            if (about.Count > 0) springs.Add(new([.. about], axis == 0 ? 1 : 0, axis == 1 ? 1 : 0, axis == 2 ? 1 : 0, 4 * (axis == 2 ? Factors.DiagonalZ : Factors.DiagonalXY)));
        }

        coarser.Hold([.. fixedAt.Order()], [.. springs]);
    }

    /// <summary>The coarser grid's corners that a place moves with, in the order of their slots.</summary>
    private static (int Slot, double Weight)[] OnCoarser((int Slot, double Weight)[] corners, Coarsening coarser)
    {
        var sums = new List<(int Slot, double Weight)>(8);
        foreach (var (slot, share) in corners)
            foreach (var (coarse, weight) in coarser.About(slot))
            {
                int at = 0;
                while (at < sums.Count && sums[at].Slot < coarse) at++;
                if (at < sums.Count && sums[at].Slot == coarse) sums[at] = (coarse, sums[at].Weight + share * weight);
                else sums.Insert(at, (coarse, share * weight));
            }

        return [.. sums];
    }

    /// <summary>Springs of one cell that pull much the same way become one in their common middle: a coarser grid cannot tell them apart.</summary>
    private static GroundSpring[] Merged(GroundSpring[] springs)
    {
        // A turn by less than this, as its cosine, is much the same way.
        const double sameWay = 0.94;
        var merged = new List<GroundSpring>();
        var ofCorner = new Dictionary<int, List<int>>();
        foreach (GroundSpring s in springs)
        {
            if (s.Corners.Length == 0) continue;
            int first = s.Corners[0].Slot;
            if (!ofCorner.TryGetValue(first, out List<int>? near)) ofCorner[first] = near = [];
            int at = near.FindIndex(m => s.X * merged[m].X + s.Y * merged[m].Y + s.Z * merged[m].Z > sameWay && HaveSameCorners(s, merged[m]));
            if (at < 0)
            {
                near.Add(merged.Count);
                merged.Add(s);
                continue;
            }

            GroundSpring o = merged[near[at]];
            double sum = o.Stiffness + s.Stiffness, a = o.Stiffness / sum, b = s.Stiffness / sum;
            double x = a * o.X + b * s.X, y = a * o.Y + b * s.Y, z = a * o.Z + b * s.Z, length = Math.Sqrt(x * x + y * y + z * z);
            merged[near[at]] = new([.. o.Corners.Zip(s.Corners, (p, q) => (p.Slot, a * p.Weight + b * q.Weight))], x / length, y / length, z / length, sum);
        }

        return [.. merged];
    }

    private static bool HaveSameCorners(GroundSpring a, GroundSpring b)
    {
        if (a.Corners.Length != b.Corners.Length) return false;
        for (int c = 0; c < a.Corners.Length; c++)
            if (a.Corners[c].Slot != b.Corners[c].Slot) return false;
        return true;
    }

    public void Dispose()
    {
        _own.Dispose();
        InverseDiagonal.Dispose();
    }
}
