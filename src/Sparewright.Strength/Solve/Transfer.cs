using System.Runtime.Intrinsics;

namespace Sparewright.Strength.Solve;

/// <summary>Between a grid and the one with cells twice as long: trilinear interpolation down, its transpose up.</summary>
internal sealed unsafe class Transfer(BrickRows fine, BrickRows coarse, Workers workers)
{
    /// <summary>Room before the first corner of a row.</summary>
    private const int Lead = BrickRows.Block;

    private readonly bool _isBig = fine.Slots > 20000;

    /// <summary>fine += P · coarse, in the rows' filled-up blocks too.</summary>
    public void AddInterpolated(NativeArray<float> from, NativeArray<float> to)
    {
        float* u = from.Start, r = to.Start;
        workers.For(fine.NZ + 1, k =>
        {
            Span<float> row = new float[fine.NX / 2 + 2 * Lead];
            for (int j = 0; j <= fine.NY; j++)
            {
                ReadOnlySpan<int> blocks = fine.BlocksOf(j, k);
                if (blocks.IndexOfAnyExcept(-1) < 0) continue;
                float weight = 1f / ((1 + (j & 1)) * (1 + (k & 1)));
                for (int axis = 0; axis < 3; axis++)
                {
                    row.Clear();
                    for (int c = 0; c < 4; c++)
                        if ((c & 1) <= (j & 1) && c >> 1 <= (k & 1) && j / 2 + (c & 1) <= coarse.NY && k / 2 + (c >> 1) <= coarse.NZ)
                            Gather(coarse.BlocksOf(j / 2 + (c & 1), k / 2 + (c >> 1)), u + axis * coarse.Slots, weight, row);
                    for (int b = 0; b < blocks.Length; b++)
                    {
                        if (blocks[b] < 0) continue;
                        var target = new Span<float>(r + axis * fine.Slots + blocks[b], BrickRows.Block);
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
    }

    /// <summary>coarse = Pᵀ · fine.</summary>
    public void Restrict(NativeArray<float> from, NativeArray<float> to)
    {
        float* u = from.Start, r = to.Start;
        workers.For(coarse.NZ + 1, k =>
        {
            Span<float> row = new float[2 * coarse.NX + 4 * Lead];
            for (int j = 0; j <= coarse.NY; j++)
            {
                ReadOnlySpan<int> blocks = coarse.BlocksOf(j, k);
                if (blocks.IndexOfAnyExcept(-1) < 0) continue;
                for (int axis = 0; axis < 3; axis++)
                {
                    row.Clear();
                    for (int dk = -1; dk <= 1; dk++)
                        for (int dj = -1; dj <= 1; dj++)
                        {
                            int fj = 2 * j + dj, fk = 2 * k + dk;
                            if (fj < 0 || fj > fine.NY || fk < 0 || fk > fine.NZ) continue;
                            Gather(fine.BlocksOf(fj, fk), u + axis * fine.Slots, 1f / ((1 + Math.Abs(dj)) * (1 + Math.Abs(dk))), row[Lead..]);
                        }

                    for (int b = 0; b < blocks.Length; b++)
                    {
                        if (blocks[b] < 0) continue;
                        var target = new Span<float>(r + axis * coarse.Slots + blocks[b], BrickRows.Block);
                        ReadOnlySpan<float> source = row.Slice(Lead + 2 * b * BrickRows.Block - 1, 2 * BrickRows.Block + 1);
                        for (int n = 0; n < BrickRows.Block; n++) target[n] = source[2 * n + 1] + (source[2 * n] + source[2 * n + 2]) / 2;
                    }
                }
            }
        }, _isBig);
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
