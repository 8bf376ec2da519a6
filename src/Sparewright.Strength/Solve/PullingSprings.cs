namespace Sparewright.Strength.Solve;

/// <summary>The springs of one grid as they pull on its corners: first how far each is stretched, then what that does to each corner, corners in the order of memory.</summary>
internal sealed unsafe class PullingSprings
{
    /// <summary>So many springs are stretched by one piece of work.</summary>
    private const int OfPiece = 1024;

    /// <summary>With fewer pieces it is not worth waking others.</summary>
    private const int FewPieces = 4;

    private readonly int _slots;
    private readonly Workers _workers;

    // What each spring reads: its corners from Start[n] on, and its direction times its stiffness.
    private readonly int[] _start, _slot;
    private readonly double[] _weight;
    private readonly (double X, double Y, double Z, double Stiffness)[] _along;
    private readonly double[] _pulls;

    // What each corner gets: the same pairs of spring and corner, by slot.
    private readonly int[] _pulledSlot, _pulledBy;
    private readonly double[] _pulledWeight;

    public PullingSprings(GroundSpring[] springs, int slots, Workers workers)
    {
        (_slots, _workers) = (slots, workers);
        _start = new int[springs.Length + 1];
        for (int n = 0; n < springs.Length; n++) _start[n + 1] = _start[n] + springs[n].Corners.Length;
        int pairs = _start[^1];
        (_slot, _weight) = (new int[pairs], new double[pairs]);
        _along = [.. springs.Select(s => (s.X, s.Y, s.Z, s.Stiffness))];
        _pulls = new double[springs.Length];
        var springOf = new int[pairs];
        for (int n = 0; n < springs.Length; n++)
            for (int c = 0; c < springs[n].Corners.Length; c++)
            {
                int at = _start[n] + c;
                (_slot[at], _weight[at]) = springs[n].Corners[c];
                springOf[at] = n;
            }

        int[] order = SlotOrder.Of(_slot, slots);
        (_pulledSlot, _pulledBy, _pulledWeight) = ([.. order.Select(at => _slot[at])], [.. order.Select(at => springOf[at])], [.. order.Select(at => _weight[at])]);
    }

    /// <summary>Notes how each spring pulls at displacements that stand all x, all y, all z.</summary>
    public void Stretch<T>(T* u) where T : unmanaged
    {
        int pieces = (_pulls.Length + OfPiece - 1) / OfPiece;
        if (pieces > 0) _workers.For(pieces, piece => Stretch(u, piece * OfPiece, Math.Min(_pulls.Length, (piece + 1) * OfPiece)), pieces > FewPieces);
    }

    private void Stretch<T>(T* u, int from, int to) where T : unmanaged
    {
        for (int n = from; n < to; n++)
        {
            double x = 0, y = 0, z = 0;
            for (int at = _start[n]; at < _start[n + 1]; at++)
            {
                int slot = _slot[at];
                double weight = _weight[at];
                if (typeof(T) == typeof(float))
                {
                    x += weight * ((float*)u)[slot];
                    y += weight * ((float*)u)[_slots + slot];
                    z += weight * ((float*)u)[2 * _slots + slot];
                }
                else
                {
                    x += weight * ((double*)u)[slot];
                    y += weight * ((double*)u)[_slots + slot];
                    z += weight * ((double*)u)[2 * _slots + slot];
                }
            }

            var (ax, ay, az, stiffness) = _along[n];
            _pulls[n] = stiffness * (ax * x + ay * y + az * z);
        }
    }

    /// <summary>Adds what was noted to the forces of the corners with slots in a stretch.</summary>
    public void AddTo<T>(T* r, int start, int end) where T : unmanaged
    {
        for (int at = SlotOrder.First(_pulledSlot, start); at < _pulledSlot.Length && _pulledSlot[at] < end; at++)
        {
            int spring = _pulledBy[at], slot = _pulledSlot[at];
            var (x, y, z, _) = _along[spring];
            double force = _pulls[spring] * _pulledWeight[at];
            if (typeof(T) == typeof(float))
            {
                ((float*)r)[slot] += (float)(force * x);
                ((float*)r)[_slots + slot] += (float)(force * y);
                ((float*)r)[2 * _slots + slot] += (float)(force * z);
            }
            else
            {
                ((double*)r)[slot] += force * x;
                ((double*)r)[_slots + slot] += force * y;
                ((double*)r)[2 * _slots + slot] += force * z;
            }
        }
    }
}
