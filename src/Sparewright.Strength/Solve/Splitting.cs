namespace Sparewright.Strength.Solve;

/// <summary>
/// Which corners of a grid of cells twice as long must be told more than once: a corner moves what lies in the cells about it, and where the solid there is in several pieces
/// that do not hang together, such as the sides of a slit, each piece gets a corner of its own.
/// </summary>
internal sealed class Splitting
{
    private readonly BrickRows _fine;
    private readonly int _nx, _ny, _nz;

    /// <summary>For each coarser cell which of the eight cells within hold solid in the rows.</summary>
    private readonly byte[] _holds;

    private readonly Dictionary<int, Piece[]> _pieces = [];

    private Splitting(BrickRows fine)
    {
        _fine = fine;
        (_nx, _ny, _nz) = ((fine.NX + 1) / 2, (fine.NY + 1) / 2, (fine.NZ + 1) / 2);
        _holds = new byte[_nx * _ny * _nz];
    }

    /// <summary>What of a coarser cell's solid hangs together within it.</summary>
    public sealed class Piece(int cell, bool hasRows, int[] twins, int[] slots, double share)
    {
        public int Cell => cell;

        /// <summary>Whether what the rows hold of the cell is part of it (that hangs together always: any two of eight cells touch in the middle).</summary>
        public bool HasRows => hasRows;

        /// <summary>The finer twin cells in it.</summary>
        public int[] Twins => twins;

        /// <summary>The finer corners that it moves, ascending.</summary>
        public int[] Slots => slots;

        public double Share => share;

        /// <summary>Which copy of each of the coarser cell's corners is its own; 0 is the one with most solid about it.</summary>
        public int[] Copies { get; } = new int[8];

        /// <summary>Whether it stays in the rows: all its corners are the first ones, and no other piece took the place.</summary>
        public bool IsInRows { get; set; }
    }

    /// <summary>The pieces of those cells that are more than one or whose corners are told several times, or that hold finer twins, by cell; all others are one piece in the rows.</summary>
    public static SortedDictionary<int, Piece[]> Of(BrickRows fine, Workers workers)
    {
        var splitting = new Splitting(fine);
        workers.For(splitting._nz, splitting.NoteWhatHolds);
        var doubtful = new List<int>[splitting._nz + 1];
        splitting.TakeTwins();
        workers.For(splitting._nz + 1, plane => doubtful[plane] = splitting.DoubtfulOf(plane));
        foreach (int corner in doubtful.SelectMany(d => d)) splitting.Split(corner);
        var split = new SortedDictionary<int, Piece[]>();
        foreach (var (cell, pieces) in splitting._pieces)
        {
            if (pieces.FirstOrDefault(p => p.Copies.All(c => c == 0)) is { } inRows) inRows.IsInRows = true;
            if (pieces.Length > 1 || !pieces[0].IsInRows || pieces[0].Twins.Length > 0) split[cell] = pieces;
        }

        return split;
    }

    private void NoteWhatHolds(int layer)
    {
        for (int k = 2 * layer; k < Math.Min(_fine.NZ, 2 * layer + 2); k++)
        {
            int z = k & 1;
            _fine.ForEachCell(k, (i, j, k, _) => _holds[(layer * _ny + j / 2) * _nx + i / 2] |= (byte)(1 << ((i & 1) + 2 * (j & 1) + 4 * z)));
        }
    }

    /// <summary>Puts together what hangs together within the cells that hold finer twins.</summary>
    private void TakeTwins()
    {
        var within = new Dictionary<int, List<int>>();
        for (int n = 0; n < _fine.Twins.Count; n++)
        {
            TwinCell twin = _fine.Twins[n];
            int cell = (twin.K / 2 * _ny + twin.J / 2) * _nx + twin.I / 2;
            if (!within.TryGetValue(cell, out List<int>? twins)) within[cell] = twins = [];
            twins.Add(n);
        }

        foreach (var (cell, twins) in within)
        {
            List<Piece> parts = [.. twins.Select(n => new Piece(cell, false, [n], [.. _fine.Twins.SlotsOf(n).ToArray().Distinct().Order()], _fine.Twins[n].Moments[0]))];
            if (_holds[cell] != 0) parts.Insert(0, InRows(cell));
            int[] group = Groups.Of(parts.Count, (a, b) => Meet(parts[a].Slots, parts[b].Slots));
            _pieces[cell] = [.. parts.Index().GroupBy(p => group[p.Index]).Select(g => new Piece(cell, g.Any(p => p.Item.HasRows), [.. g.SelectMany(p => p.Item.Twins)],
                [.. g.SelectMany(p => p.Item.Slots).Distinct().Order()], g.Sum(p => p.Item.Share)))];
        }
    }

    /// <summary>What the rows hold of a cell.</summary>
    private Piece InRows(int cell)
    {
        int i = 2 * (cell % _nx), j = 2 * (cell / _nx % _ny), k = 2 * (cell / _nx / _ny);
        var slots = new SortedSet<int>();
        for (int which = 0; which < 8; which++)
            if ((_holds[cell] >> which & 1) != 0)
                for (int c = 0; c < 8; c++) slots.Add(_fine.SlotOf(i + (which & 1) + (c & 1), j + (which >> 1 & 1) + (c >> 1 & 1), k + (which >> 2) + (c >> 2)));
        return new(cell, true, [], [.. slots], byte.PopCount(_holds[cell]));
    }

    /// <summary>The corners of one plane about which the solid may not hang together.</summary>
    private List<int> DoubtfulOf(int plane)
    {
        var doubtful = new List<int>();
        for (int j = 0; j <= _ny; j++)
            for (int i = 0; i <= _nx; i++)
            {
                int whole = 0, some = 0, twins = 0;
                for (int c = 0; c < 8; c++)
                {
                    int cell = CellAbout(i, j, plane, c);
                    if (cell < 0) continue;
                    if (_holds[cell] == byte.MaxValue) whole++;
                    if (_holds[cell] != 0) some++;
                    if (_pieces.Count > 0 && _pieces.ContainsKey(cell)) twins++;
                }

                if (twins > 0 || some > 1 && whole < 8 && !HangTogether(i, j, plane)) doubtful.Add((plane * (_ny + 1) + j) * (_nx + 1) + i);
            }

        return doubtful;
    }

    /// <summary>Whether what the rows hold in the cells about a corner hangs together.</summary>
    private bool HangTogether(int i, int j, int k)
    {
        Span<byte> holds = stackalloc byte[8];
        int left = 0;
        for (int c = 0; c < 8; c++)
        {
            holds[c] = CellAbout(i, j, k, c) is >= 0 and var cell ? _holds[cell] : (byte)0;
            if (holds[c] != 0) left |= 1 << c;
        }

        // From the lowest cell on, by all that is reached.
        int open = left & -left;
        left &= ~open;
        while (open != 0 && left != 0)
        {
            int c = int.TrailingZeroCount(open);
            open &= open - 1;
            for (int d = 0; d < 8; d++)
                if ((left >> d & 1) != 0 && (holds[c] & Beside(c, d)) != 0 && (holds[d] & Beside(d, c)) != 0)
                {
                    open |= 1 << d;
                    left &= ~(1 << d);
                }
        }

        return left == 0;
    }

    /// <summary>Which of the eight cells within one of the cells about a corner lie where it meets another; any two such of both touch there.</summary>
    private static byte Beside(int cell, int other)
    {
        int beside = byte.MaxValue, far = cell ^ other;
        // The far side along x, y and z as seen from the cell: 0xAA, 0xCC, 0xF0.
        if ((far & 1) != 0) beside &= (cell & 1) == 0 ? 0xAA : 0x55;
        if ((far & 2) != 0) beside &= (cell & 2) == 0 ? 0xCC : 0x33;
        if ((far & 4) != 0) beside &= (cell & 4) == 0 ? 0xF0 : 0x0F;
        return (byte)beside;
    }

    /// <summary>Tells a corner once for each piece of what hangs together about it, the one with most solid first.</summary>
    private void Split(int corner)
    {
        int i = corner % (_nx + 1), j = corner / (_nx + 1) % (_ny + 1), k = corner / (_nx + 1) / (_ny + 1);
        var about = new List<(Piece Piece, int Corner)>();
        for (int c = 0; c < 8; c++)
            if (CellAbout(i, j, k, c) is >= 0 and var cell)
                foreach (Piece piece in PiecesOf(cell)) about.Add((piece, 7 - c));
        int[] group = Groups.Of(about.Count, (a, b) => Meet(about[a].Piece.Slots, about[b].Piece.Slots));
        foreach (var (copy, pieces) in about.Index().GroupBy(p => group[p.Index]).OrderByDescending(g => g.Sum(p => p.Item.Piece.Share)).Index())
            foreach (var (_, (piece, at)) in pieces) piece.Copies[at] = copy;
    }

    private Piece[] PiecesOf(int cell)
    {
        if (_pieces.TryGetValue(cell, out Piece[]? pieces)) return pieces;
        return _holds[cell] == 0 ? [] : _pieces[cell] = [InRows(cell)];
    }

    /// <summary>One of the eight cells about a corner; −1 beyond the grid.</summary>
    private int CellAbout(int i, int j, int k, int which)
    {
        int x = i - 1 + (which & 1), y = j - 1 + (which >> 1 & 1), z = k - 1 + (which >> 2);
        return (uint)x < (uint)_nx && (uint)y < (uint)_ny && (uint)z < (uint)_nz ? (z * _ny + y) * _nx + x : -1;
    }

    /// <summary>Whether two ascending lists have a number in common.</summary>
    private static bool Meet(int[] a, int[] b)
    {
        for (int m = 0, n = 0; m < a.Length && n < b.Length;)
        {
            if (a[m] == b[n]) return true;
            if (a[m] < b[n]) m++;
            else n++;
        }

        return false;
    }
}
