namespace Sparewright.Strength.Solve;

/// <summary>A spring of a corner against the ground along one direction, N/mm.</summary>
internal readonly record struct GroundSpring(int Slot, double X, double Y, double Z, double Stiffness);

/// <summary>One grid of cells as a linear operator, never written down as a matrix; with the places where nothing moves and springs against the ground.</summary>
internal sealed unsafe class BrickLevel : IDisposable
{
    private readonly NativeArray<float> _shares;
    private readonly Workers _workers;

    public BrickLevel(BrickRows rows, in BrickFactors factors, int[] fixedAt, GroundSpring[] springs, Workers workers)
    {
        (Rows, Factors, FixedAt, Springs, _workers) = (rows, factors, fixedAt, springs, workers);
        _shares = new(rows.Shares.Length);
        rows.Shares.CopyTo(_shares.Span);
        InverseDiagonal = new(3 * rows.Slots);
        float[] about = rows.SharesAbout();
        Span<float> inverse = InverseDiagonal.Span;
        int n = rows.Slots;
        for (int slot = 0; slot < n; slot++)
        {
            inverse[slot] = inverse[n + slot] = (float)(about[slot] * factors.DiagonalXY);
            inverse[2 * n + slot] = (float)(about[slot] * factors.DiagonalZ);
        }

        foreach (GroundSpring s in springs)
        {
            inverse[s.Slot] += (float)(s.Stiffness * s.X * s.X);
            inverse[n + s.Slot] += (float)(s.Stiffness * s.Y * s.Y);
            inverse[2 * n + s.Slot] += (float)(s.Stiffness * s.Z * s.Z);
        }

        for (int at = 0; at < inverse.Length; at++)
            if (inverse[at] > 0) inverse[at] = 1 / inverse[at];
        foreach (int at in fixedAt) inverse[at] = 0;
    }

    public BrickRows Rows { get; }

    public BrickFactors Factors { get; }

    /// <summary>Places in the arrays (all x, all y, all z) that do not move.</summary>
    public int[] FixedAt { get; }

    public GroundSpring[] Springs { get; }

    /// <summary>1 / diagonal; 0 where nothing moves and where no solid is.</summary>
    public NativeArray<float> InverseDiagonal { get; }

    public int Length => 3 * Rows.Slots;

    /// <summary>r = K u, also at the places that do not move (there it is the force that holds them).</summary>
    public void Apply<T>(NativeArray<T> u, NativeArray<T> r) where T : unmanaged
    {
        // Even pieces first, then odd ones: no two of a kind share a plane of corners, and each plane gets its forces in the same order always.
        int chunks = Rows.Chunks.Length;
        T* from = u.Start, to = r.Start;
        _workers.For((chunks + 1) / 2, half => Piece(2 * half, from, to));
        if (chunks > 1) _workers.For(chunks / 2, half => Piece(2 * half + 1, from, to));
        if (typeof(T) == typeof(float)) AddSprings((float*)from, (float*)to);
        else AddSprings((double*)from, (double*)to);
    }

    private void Piece<T>(int chunk, T* u, T* r) where T : unmanaged
    {
        var (from, to) = Rows.Chunks[chunk];
        // The planes between two pieces are cleared by the even one, which comes first.
        bool even = chunk % 2 == 0;
        int start = Rows.PlaneStart[even ? from : from + 1];
        int end = Rows.PlaneStart[even || to == Rows.NZ ? to + 1 : to];
        for (int axis = 0; axis < 3; axis++) new Span<T>(r + axis * Rows.Slots + start, end - start).Clear();
        BrickKernel.Add(Rows, _shares.Start, Factors, u, r, from, to);
    }

    private void AddSprings(double* u, double* r)
    {
        int n = Rows.Slots;
        foreach (GroundSpring s in Springs)
        {
            double force = s.Stiffness * (s.X * u[s.Slot] + s.Y * u[n + s.Slot] + s.Z * u[2 * n + s.Slot]);
            r[s.Slot] += force * s.X;
            r[n + s.Slot] += force * s.Y;
            r[2 * n + s.Slot] += force * s.Z;
        }
    }

    private void AddSprings(float* u, float* r)
    {
        int n = Rows.Slots;
        foreach (GroundSpring s in Springs)
        {
            double force = s.Stiffness * (s.X * u[s.Slot] + s.Y * u[n + s.Slot] + s.Z * u[2 * n + s.Slot]);
            r[s.Slot] += (float)(force * s.X);
            r[n + s.Slot] += (float)(force * s.Y);
            r[2 * n + s.Slot] += (float)(force * s.Z);
        }
    }

    /// <summary>
    /// The grid of cells twice as long. A place that does not move stays so where the coarser grid has a corner there; between corners a stiff spring stands for it.
    /// </summary>
    public BrickLevel Coarser()
    {
        BrickRows rows = Rows.Coarser();
        var springs = new Dictionary<(int Slot, double X, double Y, double Z), double>();
        var fixedAt = new HashSet<int>();
        foreach (GroundSpring s in Springs)
            foreach (var (slot, weight) in About(s.Slot, rows))
                Give(slot, s.X, s.Y, s.Z, weight * s.Stiffness);
        foreach (int at in FixedAt)
        {
            int axis = at / Rows.Slots, slot = at % Rows.Slots;
            var about = About(slot, rows);
            if (about is [{ Weight: 1 } only])
            {
                fixedAt.Add(axis * rows.Slots + only.Slot);
                continue;
            }

            double stiffness = 4 * (axis == 2 ? Factors.DiagonalZ : Factors.DiagonalXY);
            foreach (var (coarse, weight) in about) Give(coarse, axis == 0 ? 1 : 0, axis == 1 ? 1 : 0, axis == 2 ? 1 : 0, weight * stiffness);
        }

        BrickFactors f = Factors;
        GroundSpring[] all = [.. springs.Select(s => new GroundSpring(s.Key.Slot, s.Key.X, s.Key.Y, s.Key.Z, s.Value))];
        return new(rows, new(2 * f.K11, 2 * f.K12, 2 * f.K13, 2 * f.K33, 2 * f.K44, 2 * f.K66), [.. fixedAt.Order()], all, _workers);

        void Give(int slot, double x, double y, double z, double stiffness)
        {
            springs.TryGetValue((slot, x, y, z), out double before);
            springs[(slot, x, y, z)] = before + stiffness;
        }
    }

    /// <summary>The coarser grid's corners that a corner's movement is interpolated from.</summary>
    private List<(int Slot, double Weight)> About(int slot, BrickRows coarse)
    {
        var (i, j, k) = Rows.CornerOf(slot);
        var about = new List<(int, double)>(8);
        for (int c = 0; c < 8; c++)
        {
            if ((c & 1) > (i & 1) || (c >> 1 & 1) > (j & 1) || (c >> 2) > (k & 1)) continue;
            int at = coarse.SlotOf(i / 2 + (c & 1), j / 2 + (c >> 1 & 1), k / 2 + (c >> 2));
            if (at >= 0) about.Add((at, 1.0 / ((1 + (i & 1)) * (1 + (j & 1)) * (1 + (k & 1)))));
        }

        return about;
    }

    public void Dispose()
    {
        _shares.Dispose();
        InverseDiagonal.Dispose();
    }
}
