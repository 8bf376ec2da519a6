using Sparewright.Strength.Grid;

namespace Sparewright.Strength.Solve;

/// <summary>
/// The grid of cells twice as long as those of another. Solid keeps its place within each: what trilinear movements of the coarser cells cost is exactly what it costs on the finer ones
/// (Galerkin's choice of the coarser operator). What does not hang together about a corner has corners of its own there.
/// </summary>
internal sealed class Coarsening
{
    private readonly int _nx, _ny, _nz;
    private readonly SortedDictionary<int, Splitting.Piece[]> _split;
    private readonly float[] _shares;
    private readonly (List<int> Cells, List<float> Moments, List<TwinCell> Twins)[] _layers;

    public Coarsening(BrickRows fine, Workers workers)
    {
        Fine = fine;
        (_nx, _ny, _nz) = ((fine.NX + 1) / 2, (fine.NY + 1) / 2, (fine.NZ + 1) / 2);
        _split = Splitting.Of(fine, workers);
        _shares = new float[_nx * _ny * _nz];
        _layers = new (List<int>, List<float>, List<TwinCell>)[_nz];
        workers.For(_nz, PutTogether);
        Coarse = BrickRows.Of(_nx, _ny, _nz, _shares, new(_nx, _ny, [.. _layers.SelectMany(l => l.Cells)], [.. _layers.SelectMany(l => l.Moments)]), [.. _layers.SelectMany(l => l.Twins)]);
        Apart = CornersApart();
    }

    public BrickRows Fine { get; }

    public BrickRows Coarse { get; }

    /// <summary>The finer corners that do not move with the coarser corners of the rows about them, by slot, and what they do move with.</summary>
    public SortedDictionary<int, (int Slot, float Weight)[]> Apart { get; }

    /// <summary>The coarser grid's corners that a corner's movement is interpolated from.</summary>
    public List<(int Slot, double Weight)> About(int slot)
    {
        if (Apart.TryGetValue(slot, out (int Slot, float Weight)[]? apart)) return [.. apart.Select(a => (a.Slot, (double)a.Weight))];
        var (i, j, k) = Fine.CornerOf(slot);
        var about = new List<(int, double)>(8);
        for (int c = 0; c < 8; c++)
        {
            if ((c & 1) > (i & 1) || (c >> 1 & 1) > (j & 1) || (c >> 2) > (k & 1)) continue;
            int at = Coarse.SlotOf(i / 2 + (c & 1), j / 2 + (c >> 1 & 1), k / 2 + (c >> 2));
            if (at >= 0) about.Add((at, 1.0 / ((1 + (i & 1)) * (1 + (j & 1)) * (1 + (k & 1)))));
        }

        return about;
    }

    /// <summary>The coarser cells of one layer.</summary>
    private void PutTogether(int layer)
    {
        var sums = new float[_nx * _ny * CutCells.PerCell];
        // Which of the eight cells within are whole: inside the part all are, and there is nothing to add up.
        var whole = new byte[_nx * _ny];
        for (int k = 2 * layer; k < Math.Min(Fine.NZ, 2 * layer + 2); k++) AddTo(sums, whole, k);
        var (cells, moments, twins) = _layers[layer] = ([], [], []);
        var none = new float[CutCells.PerCell];
        for (int at = 0; at < _nx * _ny; at++)
        {
            int cell = layer * _nx * _ny + at;
            bool isSplit = _split.TryGetValue(cell, out Splitting.Piece[]? pieces);
            if (whole[at] == byte.MaxValue && !isSplit)
            {
                _shares[cell] = 1;
                continue;
            }

            Span<float> inRows = sums.AsSpan(at * CutCells.PerCell, CutCells.PerCell);
            for (int which = 0; which < 8; which++)
                if ((whole[at] >> which & 1) != 0) CutCells.AddEvenToCoarser(1, which, inRows);
            if (!isSplit)
            {
                Keep(cell, inRows, cells, moments);
                continue;
            }

            foreach (Splitting.Piece piece in pieces!)
            {
                var own = new float[CutCells.PerCell];
                if (piece.HasRows) inRows.CopyTo(own);
                foreach (int twin in piece.Twins) CutCells.AddToCoarser(Fine.Twins[twin].Moments, WhichOf(Fine.Twins[twin]), own);
                if (piece.IsInRows)
                {
                    Keep(cell, own, cells, moments);
                    continue;
                }

                CutCells.MakePossible(own);
                twins.Add(new(at % _nx, at / _nx, layer, piece.Copies, own));
            }
        }
    }

    private void Keep(int cell, Span<float> moments, List<int> cells, List<float> all)
    {
        _shares[cell] = moments[0];
        if (CutCells.AreEven(moments)) return;
        CutCells.MakePossible(moments);
        cells.Add(cell);
        all.AddRange(moments);
    }

    /// <summary>Adds the moments of one layer's cells to those of the coarser cells about them, and notes which are whole.</summary>
    private void AddTo(float[] coarser, byte[] whole, int layer)
    {
        Span<float> moments = stackalloc float[CutCells.PerCell];
        for (int r = Fine.LayerStart[layer]; r < Fine.LayerStart[layer + 1]; r++)
        {
            BrickRows.Run run = Fine.Runs[r];
            var (first, j) = Fine.CellOf(r);
            for (int n = 0; n < run.Blocks * BrickRows.Block; n++)
            {
                float share = Fine.Shares[run.Shares + n];
                if (share == 0) continue;
                int i = first + n, which = (i & 1) + 2 * (j & 1) + 4 * (layer & 1);
                int at = j / 2 * _nx + i / 2;
                if (run.Cut < 0 && share == 1)
                {
                    whole[at] |= (byte)(1 << which);
                    continue;
                }

                Span<float> about = coarser.AsSpan(at * CutCells.PerCell, CutCells.PerCell);
                if (run.Cut < 0)
                {
                    CutCells.AddEvenToCoarser(share, which, about);
                    continue;
                }

                Fine.MomentsOf(run, n, moments);
                CutCells.AddToCoarser(moments, which, about);
            }
        }
    }

    private SortedDictionary<int, (int Slot, float Weight)[]> CornersApart()
    {
        var apart = new SortedDictionary<int, (int, float)[]>();
        int twin = 0;
        var corners = new int[8];
        foreach (var (cell, pieces) in _split)
        {
            int i = cell % _nx, j = cell / _nx % _ny, k = cell / _nx / _ny;
            foreach (Splitting.Piece piece in pieces)
            {
                for (int c = 0; c < 8; c++)
                    corners[c] = piece.IsInRows ? Coarse.SlotOf(i + (c & 1), j + (c >> 1 & 1), k + (c >> 2)) : Coarse.Twins.SlotsOf(twin)[c];
                if (!piece.IsInRows) twin++;
                foreach (int slot in piece.Slots)
                {
                    if (apart.ContainsKey(slot)) continue;
                    var (x, y, z) = Fine.CornerOf(slot);
                    var about = new List<(int Slot, float Weight)>(8);
                    bool isOwn = slot < Fine.Twins.FirstSlot;
                    for (int c = 0; c < 8; c++)
                    {
                        float weight = Along(c & 1, x - 2 * i) * Along(c >> 1 & 1, y - 2 * j) * Along(c >> 2, z - 2 * k);
                        if (weight == 0) continue;
                        about.Add((corners[c], weight));
                        isOwn &= corners[c] == Coarse.SlotOf(i + (c & 1), j + (c >> 1 & 1), k + (c >> 2));
                    }

                    if (!isOwn) apart[slot] = [.. about];
                }
            }
        }

        return apart;
    }

    /// <summary>The weight along one axis of the near (0) or far corner (1) for a place 0, 1 or 2 finer cells along.</summary>
    private static float Along(int corner, int place) => corner == 0 ? 1 - place / 2f : place / 2f;

    private static int WhichOf(TwinCell cell) => (cell.I & 1) + 2 * (cell.J & 1) + 4 * (cell.K & 1);
}
