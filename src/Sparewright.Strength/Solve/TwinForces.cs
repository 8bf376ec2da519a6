using System.Numerics;
using System.Runtime.InteropServices;

namespace Sparewright.Strength.Solve;

/// <summary>The forces of a grid's twin cells: first those of each cell by its matrix, then what they do to each corner, corners in the order of memory.</summary>
internal sealed unsafe class TwinForces
{
    private const int Size = BrickMatrix.Size;

    /// <summary>So many cells are done by one piece of work.</summary>
    private const int OfPiece = 256;

    private readonly BrickRows _rows;
    private readonly Workers _workers;

    // Column by column; and the forces, corner by corner, of all cells.
    private readonly float[] _matrices, _forces;

    // The pairs of corner and cell, by slot.
    private readonly int[] _slot, _from;

    public TwinForces(BrickRows rows, in BrickFactors factors, Workers workers)
    {
        (_rows, _workers) = (rows, workers);
        int cells = rows.Twins.Count;
        _matrices = new float[cells * Size * Size];
        _forces = new float[cells * Size];
        var slotOfPair = new int[8 * cells];
        var matrixOf = new CutMatrix(factors);
        Span<double> matrix = stackalloc double[Size * Size];
        for (int n = 0; n < cells; n++)
        {
            matrixOf.Of(rows.Twins[n].Moments, matrix);
            for (int at = 0; at < Size * Size; at++) _matrices[n * Size * Size + at] = (float)matrix[at];
            rows.Twins.SlotsOf(n).CopyTo(slotOfPair.AsSpan(8 * n));
        }

        _from = SlotOrder.Of(slotOfPair, rows.Slots);
        _slot = [.. _from.Select(pair => slotOfPair[pair])];
    }

    public long Bytes => sizeof(float) * ((long)_matrices.Length + _forces.Length) + 2L * sizeof(int) * _slot.Length;

    /// <summary>Notes the forces of all cells at displacements that stand all x, all y, all z.</summary>
    public void Note<T>(T* u) where T : unmanaged
    {
        int pieces = (_rows.Twins.Count + OfPiece - 1) / OfPiece;
        if (pieces > 0) _workers.For(pieces, piece => Note(u, piece * OfPiece, Math.Min(_rows.Twins.Count, (piece + 1) * OfPiece)), pieces > 1);
    }

    private void Note<T>(T* u, int from, int to) where T : unmanaged
    {
        int slots = _rows.Slots;
        for (int n = from; n < to; n++)
        {
            Span<Vector<float>> forces = MemoryMarshal.Cast<float, Vector<float>>(_forces.AsSpan(n * Size, Size));
            forces.Clear();
            ReadOnlySpan<int> corners = _rows.Twins.SlotsOf(n);
            for (int column = 0; column < Size; column++)
            {
                int at = column % 3 * slots + corners[column / 3];
                float moved = typeof(T) == typeof(float) ? ((float*)u)[at] : (float)((double*)u)[at];
                ReadOnlySpan<Vector<float>> stiffness = MemoryMarshal.Cast<float, Vector<float>>(_matrices.AsSpan((n * Size + column) * Size, Size));
                for (int v = 0; v < stiffness.Length; v++) forces[v] += stiffness[v] * moved;
            }
        }
    }

    /// <summary>Adds what was noted to the forces of the corners with slots in a stretch.</summary>
    public void AddTo<T>(T* r, int start, int end) where T : unmanaged
    {
        int slots = _rows.Slots;
        for (int at = SlotOrder.First(_slot, start); at < _slot.Length && _slot[at] < end; at++)
            for (int axis = 0; axis < 3; axis++)
            {
                float force = _forces[3 * _from[at] + axis];
                if (typeof(T) == typeof(float)) ((float*)r)[axis * slots + _slot[at]] += force;
                else ((double*)r)[axis * slots + _slot[at]] += force;
            }
    }
}
