namespace Sparewright.Strength.Solve;

/// <summary>A cell of a coarser grid whose solid does not hang together with all that touches it.</summary>
/// <param name="Copies">For each of its eight corners which of the copies told at that place is its own: 0 is the grid's own, which it shares with the cells in rows.</param>
internal sealed record TwinCell(int I, int J, int K, int[] Copies, float[] Moments);

/// <summary>
/// The cells of a grid that have corners of their own, such as those along one side of a slit: at such a place the grid has a corner for each side. Their slots follow those of the rows.
/// </summary>
internal sealed class TwinCells
{
    private readonly TwinCell[] _cells;
    private readonly int[] _slots;
    private readonly List<(int I, int J, int K)> _more = [];

    /// <param name="slotOf">The slot of a corner of the rows, −1 where those keep none.</param>
    /// <param name="firstSlot">The first slot after those of the rows.</param>
    public TwinCells(TwinCell[] cells, Func<int, int, int, int> slotOf, int firstSlot)
    {
        _cells = cells;
        _slots = new int[8 * cells.Length];
        FirstSlot = firstSlot;
        var known = new Dictionary<(int, int, int, int), int>();
        foreach (var (n, cell) in cells.Index())
            for (int c = 0; c < 8; c++)
            {
                var (i, j, k) = (cell.I + (c & 1), cell.J + (c >> 1 & 1), cell.K + (c >> 2));
                int copy = cell.Copies[c];
                if (copy == 0 && slotOf(i, j, k) is >= 0 and var own)
                {
                    _slots[8 * n + c] = own;
                    continue;
                }

                if (!known.TryGetValue((i, j, k, copy), out int slot))
                {
                    known[(i, j, k, copy)] = slot = firstSlot + _more.Count;
                    _more.Add((i, j, k));
                }

                _slots[8 * n + c] = slot;
            }
    }

    public int Count => _cells.Length;

    /// <summary>The first slot of corners that only these cells have.</summary>
    public int FirstSlot { get; }

    /// <summary>How many slots follow those of the rows, a whole number of blocks.</summary>
    public int MoreSlots => (_more.Count + BrickRows.Block - 1) / BrickRows.Block * BrickRows.Block;

    public TwinCell this[int n] => _cells[n];

    /// <summary>The slots of a cell's eight corners, x first.</summary>
    public ReadOnlySpan<int> SlotsOf(int n) => _slots.AsSpan(8 * n, 8);

    /// <summary>The place of a corner whose slot is at or after <see cref="FirstSlot"/> (filling ones have none of their own).</summary>
    public (int I, int J, int K) CornerOf(int slot) => slot - FirstSlot < _more.Count ? _more[slot - FirstSlot] : default;
}
