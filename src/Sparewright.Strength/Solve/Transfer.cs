using System.Runtime.Intrinsics;

namespace Sparewright.Strength.Solve;

/// <summary>Between a grid and the one with cells twice as long: trilinear interpolation down, its transpose up.</summary>
internal sealed unsafe class Transfer
{
    /// <summary>Room before the first corner of a row.</summary>
    private const int Lead = BrickRows.Block;

    private readonly BrickRows _fine, _coarse;
    private readonly Workers _workers;
    private readonly bool _isBig;

    // Finer corners that do not move with the rows about them, by slot; each with what it does move with.
    private readonly int[] _apart, _start, _with;
    private readonly float[] _weight, _kept;

    public Transfer(Coarsening between, Workers workers)
    {
        (_fine, _coarse, _workers) = (between.Fine, between.Coarse, workers);
        _isBig = _fine.Slots > 20000;
        _apart = [.. between.Apart.Keys];
        _start = new int[_apart.Length + 1];
        foreach (var (n, about) in between.Apart.Values.Index()) _start[n + 1] = _start[n] + about.Length;
        _with = [.. between.Apart.Values.SelectMany(about => about.Select(a => a.Slot))];
        _weight = [.. between.Apart.Values.SelectMany(about => about.Select(a => a.Weight))];
        _kept = new float[3 * _apart.Length];
    }

    /// <summary>fine += P · coarse, in the rows' filled-up blocks too.</summary>
    public void AddInterpolated(NativeArray<float> from, NativeArray<float> to)
    {
        float* u = from.Start, r = to.Start;
        Keep(to);
        _workers.For(_fine.NZ + 1, k =>
        {
            Span<float> row = new float[_fine.NX / 2 + 2 * Lead];
            for (int j = 0; j <= _fine.NY; j++)
            {
                ReadOnlySpan<int> blocks = _fine.BlocksOf(j, k);
                if (blocks.IndexOfAnyExcept(-1) < 0) continue;
                float weight = 1f / ((1 + (j & 1)) * (1 + (k & 1)));
                for (int axis = 0; axis < 3; axis++)
                {
                    row.Clear();
                    for (int c = 0; c < 4; c++)
                        if ((c & 1) <= (j & 1) && c >> 1 <= (k & 1) && j / 2 + (c & 1) <= _coarse.NY && k / 2 + (c >> 1) <= _coarse.NZ)
                            Gather(_coarse.BlocksOf(j / 2 + (c & 1), k / 2 + (c >> 1)), u + axis * _coarse.Slots, weight, row);
                    for (int b = 0; b < blocks.Length; b++)
                    {
                        if (blocks[b] < 0) continue;
                        var target = new Span<float>(r + axis * _fine.Slots + blocks[b], BrickRows.Block);
                        ReadOnlySpan<float> source = row.Slice(b * BrickRows.Block / 2, BrickRows.Block / 2 + 1);
                        for (int n = 0; n < BrickRows.Block / 2; n++)
                        {
                            target[2 * n] += source[n];
                            target[2 * n + 1] += (source[n] + source[n + 1]) / 2;
                        }
                    }
                }
            }
        }, _isBig);
        Along((axis, n) =>
        {
            float sum = _kept[axis * _apart.Length + n];
            for (int at = _start[n]; at < _start[n + 1]; at++) sum += _weight[at] * u[axis * _coarse.Slots + _with[at]];
            r[axis * _fine.Slots + _apart[n]] = sum;
        });
    }

    /// <summary>coarse = Pᵀ · fine.</summary>
    public void Restrict(NativeArray<float> from, NativeArray<float> to)
    {
        float* u = from.Start, r = to.Start;
        Keep(from);
        Along((axis, n) => u[axis * _fine.Slots + _apart[n]] = 0);
        int more = _coarse.Twins.FirstSlot;
        for (int axis = 0; axis < 3; axis++) to.Slice(axis * _coarse.Slots + more, _coarse.Slots - more).Clear();
        _workers.For(_coarse.NZ + 1, k =>
        {
            Span<float> row = new float[2 * _coarse.NX + 4 * Lead];
            for (int j = 0; j <= _coarse.NY; j++)
            {
                ReadOnlySpan<int> blocks = _coarse.BlocksOf(j, k);
                if (blocks.IndexOfAnyExcept(-1) < 0) continue;
                for (int axis = 0; axis < 3; axis++)
                {
                    row.Clear();
                    for (int dk = -1; dk <= 1; dk++)
                        for (int dj = -1; dj <= 1; dj++)
                        {
                            int fj = 2 * j + dj, fk = 2 * k + dk;
                            if (fj < 0 || fj > _fine.NY || fk < 0 || fk > _fine.NZ) continue;
                            Gather(_fine.BlocksOf(fj, fk), u + axis * _fine.Slots, 1f / ((1 + Math.Abs(dj)) * (1 + Math.Abs(dk))), row[Lead..]);
                        }

                    for (int b = 0; b < blocks.Length; b++)
                    {
                        if (blocks[b] < 0) continue;
                        var target = new Span<float>(r + axis * _coarse.Slots + blocks[b], BrickRows.Block);
                        ReadOnlySpan<float> source = row.Slice(Lead + 2 * b * BrickRows.Block - 1, 2 * BrickRows.Block + 1);
                        for (int n = 0; n < BrickRows.Block; n++) target[n] = source[2 * n + 1] + (source[2 * n] + source[2 * n + 2]) / 2;
                    }
                }
            }
        }, _isBig);
        Along((axis, n) =>
        {
            float kept = u[axis * _fine.Slots + _apart[n]] = _kept[axis * _apart.Length + n];
            for (int at = _start[n]; at < _start[n + 1]; at++) r[axis * _coarse.Slots + _with[at]] += _weight[at] * kept;
        });
    }

    /// <summary>Notes what stands at the corners apart.</summary>
    private void Keep(NativeArray<float> values)
    {
        float* from = values.Start;
        Along((axis, n) => _kept[axis * _apart.Length + n] = from[axis * _fine.Slots + _apart[n]]);
    }

    /// <summary>All corners apart, one after the other, the axes side by side.</summary>
    private void Along(Action<int, int> work)
    {
        const int worthwhile = 2000;
        if (_apart.Length == 0) return;
        _workers.For(3, axis =>
        {
            for (int n = 0; n < _apart.Length; n++) work(axis, n);
        }, _apart.Length > worthwhile);
    }

    private static void Gather(ReadOnlySpan<int> blocks, float* values, float weight, Span<float> row)
    {
        for (int b = 0; b < blocks.Length; b++)
        {
            if (blocks[b] < 0) continue;
            Span<float> target = row.Slice(b * BrickRows.Block, BrickRows.Block);
            (Vector256.Load(values + blocks[b]) * weight + Vector256.Create<float>(target)).CopyTo(target);
        }
    }
}
