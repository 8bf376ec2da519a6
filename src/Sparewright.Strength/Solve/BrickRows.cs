using Sparewright.Strength.Grid;

namespace Sparewright.Strength.Solve;

/// <summary>
/// Where the corners and cells of a grid lie in memory: only rows along x that touch solid, in blocks of eight, a whole number of vectors whatever the machine.
/// Corner (i, j, k) has slot <c>SlotOf(i, j, k)</c>; neighbours along x within a row have neighbouring slots.
/// </summary>
internal sealed class BrickRows
{
    public const int Block = 8;

    /// <summary>
    /// Blocks of cells one behind the other along x: the slots of the four rows of corners about them, where their shares start.
    /// Where the last cell holds solid, a block of corners follows in each row. Where solid is not spread evenly over cells, <c>Cut</c> is the number of the first block's moments, else −1.
    /// </summary>
    public readonly record struct Run(int Blocks, int Slot00, int Slot10, int Slot01, int Slot11, int Shares, int Cut)
    {
        /// <summary>The slot of the first cell's corner with this number, x first.</summary>
        public int Corner(int number) => ((number >> 1) switch { 0 => Slot00, 1 => Slot10, 2 => Slot01, _ => Slot11 }) + (number & 1);
    }

    /// <summary>Numbers that the moments of one block take.</summary>
    public const int MomentsOfBlock = Block * CutCells.PerCell;

    private readonly int[] _slotOfBlock;
    private readonly int[] _blockOfSlot;
    private readonly int _blocksX;

    private BrickRows(int nx, int ny, int nz, float[] shares, CutCells cut, TwinCell[] twins)
    {
        (NX, NY, NZ) = (nx, ny, nz);
        _blocksX = nx / Block + 1;
        _slotOfBlock = new int[_blocksX * (ny + 1) * (nz + 1)];
        Array.Fill(_slotOfBlock, -1);
        // Marks, then numbers, the blocks of corners.
        for (int k = 0; k < nz; k++)
            for (int j = 0; j < ny; j++)
            {
                ReadOnlySpan<float> row = shares.AsSpan((k * ny + j) * nx, nx);
                for (int i = 0; i < nx; i++)
                    if (row[i] > 0)
                    {
                        int b = i / Block;
                        for (int c = 0; c < 4; c++)
                        {
                            int at = BlockIndex(b, j + (c & 1), k + (c >> 1));
                            _slotOfBlock[at] = 0;
                            if (i % Block == Block - 1) _slotOfBlock[at + 1] = 0;
                        }
                    }
            }

        PlaneStart = new int[nz + 2];
        int slots = 0;
        for (int k = 0; k <= nz; k++)
        {
            PlaneStart[k] = slots;
            for (int at = k * (ny + 1) * _blocksX; at < (k + 1) * (ny + 1) * _blocksX; at++)
                if (_slotOfBlock[at] == 0)
                {
                    _slotOfBlock[at] = slots;
                    slots += Block;
                }
        }

        Twins = new(twins, SlotOf, slots);
        PlaneStart[nz + 1] = Slots = slots + Twins.MoreSlots;
        _blockOfSlot = new int[slots / Block];
        for (int at = 0; at < _slotOfBlock.Length; at++)
            if (_slotOfBlock[at] >= 0) _blockOfSlot[_slotOfBlock[at] / Block] = at;
        (Runs, LayerStart, Shares, Moments) = RunsOf(shares, cut);
        Chunks = ChunksOf();
    }

    public int NX { get; }

    public int NY { get; }

    public int NZ { get; }

    /// <summary>Cells that are not in rows as they have corners of their own.</summary>
    public TwinCells Twins { get; }

    /// <summary>Corners kept, with those that fill up blocks.</summary>
    public int Slots { get; }

    /// <summary>Solid share of each cell, run after run, filled up with zeros; stays in its place in memory, as moments do.</summary>
    public float[] Shares { get; }

    /// <summary>Moments of the cells of cut blocks: block by block, within a block moment by moment, <see cref="Block"/> cells each.</summary>
    public float[] Moments { get; }

    public Run[] Runs { get; }

    /// <summary>First run of each layer of cells.</summary>
    public int[] LayerStart { get; }

    /// <summary>First slot of each plane of corners; those that only twin cells have go with the last.</summary>
    public int[] PlaneStart { get; }

    /// <summary>Layers of cells that one piece of work does. Every second piece touches no corner of the others, so those can be done side by side.</summary>
    public (int From, int To)[] Chunks { get; }

    public static BrickRows Of(int nx, int ny, int nz, float[] shares, CutCells cut, TwinCell[] twins) => new(nx, ny, nz, shares, cut, twins);

    public static BrickRows Of(VoxelGrid grid)
    {
        var shares = new float[grid.NX * grid.NY * grid.NZ];
        for (int k = 0; k < grid.NZ; k++)
            for (int j = 0; j < grid.NY; j++)
                grid.Row(j, k).CopyTo(shares.AsSpan((k * grid.NY + j) * grid.NX));
        return new(grid.NX, grid.NY, grid.NZ, shares, grid.Cut, []);
    }

    /// <summary>The moments of a run's cell.</summary>
    public void MomentsOf(in Run run, int cell, Span<float> moments)
    {
        for (int m = 0; m < moments.Length; m++)
            moments[m] = run.Cut < 0 ? Shares[run.Shares + cell] * CutCells.Whole[m] : Moments[(run.Cut + cell / Block) * MomentsOfBlock + m * Block + cell % Block];
    }

    /// <summary>The slot of a corner; −1 where nothing is kept.</summary>
    public int SlotOf(int i, int j, int k)
    {
        if ((uint)i > (uint)NX || (uint)j > (uint)NY || (uint)k > (uint)NZ) return -1;
        int slot = _slotOfBlock[BlockIndex(i / Block, j, k)];
        return slot < 0 ? -1 : slot + i % Block;
    }

    /// <summary>The corner that a slot stands for (it may be one that only fills up a block).</summary>
    public (int I, int J, int K) CornerOf(int slot)
    {
        if (slot >= Twins.FirstSlot) return Twins.CornerOf(slot);
        int block = _blockOfSlot[slot / Block];
        return (block % _blocksX * Block + slot % Block, block / _blocksX % (NY + 1), block / _blocksX / (NY + 1));
    }

    /// <summary>The blocks of corners of one row: first slot or −1.</summary>
    public ReadOnlySpan<int> BlocksOf(int j, int k) => _slotOfBlock.AsSpan(BlockIndex(0, j, k), _blocksX);

    /// <summary>Solid in all cells, those of the rows and the twins, as whole ones.</summary>
    public double Solid => Shares.Sum() + Enumerable.Range(0, Twins.Count).Sum(n => (double)Twins[n].Moments[0]);

    /// <summary>How many cells hold solid.</summary>
    public int Cells => Shares.Count(s => s > 0) + Twins.Count;

    /// <summary>The first cell of a run along x and y.</summary>
    public (int I, int J) CellOf(int run) => _cellOfRun[run];

    /// <summary>Every cell in the rows of one layer.</summary>
    public void ForEachCell(int layer, Action<int, int, int, float> visit)
    {
        for (int r = LayerStart[layer]; r < LayerStart[layer + 1]; r++)
        {
            Run run = Runs[r];
            var (i, j) = _cellOfRun[r];
            for (int n = 0; n < run.Blocks * Block; n++)
                if (Shares[run.Shares + n] > 0) visit(i + n, j, layer, Shares[run.Shares + n]);
        }
    }

    /// <summary>For each slot the sum of the shares of the cells about it; 0 for slots that only fill up.</summary>
    public float[] SharesAbout()
    {
        var sums = new float[Slots + 1];
        foreach (Run run in Runs)
            foreach (int slot in (ReadOnlySpan<int>)[run.Slot00, run.Slot10, run.Slot01, run.Slot11])
                for (int n = 0; n < run.Blocks * Block; n++)
                {
                    float share = Shares[run.Shares + n];
                    if (share == 0) continue;
                    sums[slot + n] += share;
                    sums[slot + n + 1] += share;
                }

        for (int n = 0; n < Twins.Count; n++)
            foreach (int slot in Twins.SlotsOf(n)) sums[slot] += Twins[n].Moments[0];
        return sums;
    }

    private (int I, int J)[] _cellOfRun = [];

    private (Run[] Runs, int[] LayerStart, float[] Shares, float[] Moments) RunsOf(float[] shares, CutCells uneven)
    {
        var runs = new List<Run>();
        var cells = new List<(int, int)>();
        var kept = new List<float>();
        var cutBlocks = new List<int>();
        var layerStart = new int[NZ + 1];
        int blocks = (NX + Block - 1) / Block;
        // Cut cells come in the order in which cells are gone through.
        int next = 0;
        for (int k = 0; k < NZ; k++)
        {
            layerStart[k] = runs.Count;
            for (int j = 0; j < NY; j++)
            {
                int rowAt = (k * NY + j) * NX;
                for (int b = 0; b < blocks;)
                {
                    if (!Holds(b)) { b++; continue; }
                    bool cut = IsCut(b);
                    int end = b + 1;
                    while (end < blocks && Holds(end) && IsCut(end) == cut) end++;
                    runs.Add(new(end - b, SlotOf(b * Block, j, k), SlotOf(b * Block, j + 1, k), SlotOf(b * Block, j, k + 1), SlotOf(b * Block, j + 1, k + 1), kept.Count, cut ? cutBlocks.Count : -1));
                    cells.Add((b * Block, j));
                    for (int i = b * Block; i < end * Block; i++) kept.Add(i < NX ? shares[rowAt + i] : 0);
                    for (; b < end; b++)
                        if (cut) cutBlocks.Add(rowAt + b * Block);
                }

                bool Holds(int b)
                {
                    for (int i = b * Block; i < Math.Min(NX, (b + 1) * Block); i++)
                        if (shares[rowAt + i] > 0) return true;
                    return false;
                }

                bool IsCut(int b)
                {
                    while (next < uneven.Count && uneven.Cells[next] < rowAt + b * Block) next++;
                    return next < uneven.Count && uneven.Cells[next] < rowAt + Math.Min(NX, (b + 1) * Block);
                }
            }
        }

        layerStart[NZ] = runs.Count;
        _cellOfRun = [.. cells];
        float[] pinned = GC.AllocateUninitializedArray<float>(kept.Count, pinned: true);
        kept.CopyTo(pinned);
        return ([.. runs], layerStart, pinned, MomentsOf(cutBlocks, shares, uneven));
    }

    /// <summary>The moments of blocks that begin with these cells.</summary>
    private float[] MomentsOf(List<int> blocks, float[] shares, CutCells uneven)
    {
        float[] moments = GC.AllocateArray<float>(blocks.Count * MomentsOfBlock, pinned: true);
        const int blocksOfPiece = 256;
        Parallel.For(0, (blocks.Count + blocksOfPiece - 1) / blocksOfPiece, piece =>
        {
            for (int block = piece * blocksOfPiece; block < Math.Min(blocks.Count, (piece + 1) * blocksOfPiece); block++)
            {
                int first = blocks[block], cells = Math.Min(Block, NX - first % NX);
                Span<float> own = moments.AsSpan(block * MomentsOfBlock, MomentsOfBlock);
                int next = uneven.First(first);
                for (int cell = 0; cell < cells; cell++)
                {
                    bool isCut = next < uneven.Count && uneven.Cells[next] == first + cell;
                    ReadOnlySpan<float> from = isCut ? uneven.Moments(next++) : CutCells.Whole;
                    float share = isCut ? 1 : shares[first + cell];
                    if (share != 0)
                        for (int m = 0; m < from.Length; m++) own[m * Block + cell] = share * from[m];
                }
            }
        });
        return moments;
    }

    private (int, int)[] ChunksOf()
    {
        // Enough pieces for many threads, each with work worth starting a piece for.
        long all = Shares.Length;
        long target = Math.Max(8192, all / 64);
        var chunks = new List<(int, int)>();
        int from = 0;
        long sum = 0;
        for (int k = 0; k < NZ; k++)
        {
            for (int r = LayerStart[k]; r < LayerStart[k + 1]; r++) sum += Runs[r].Blocks * Block;
            if (sum < target && k + 1 < NZ) continue;
            chunks.Add((from, k + 1));
            (from, sum) = (k + 1, 0);
        }

        return [.. chunks];
    }

    private int BlockIndex(int block, int j, int k) => (k * (NY + 1) + j) * _blocksX + block;
}
