using Sparewright.Solid;

namespace Sparewright.Strength.Loads;

/// <summary>Whether a support presses at the known place that is nearest to a point: known places in the order of the axis along which they lie farthest apart.</summary>
internal sealed class NearestPressed
{
    private readonly PressedPlace[] _places;
    private readonly double[] _along;
    private readonly int _axis;

    /// <param name="places">At least one.</param>
    public NearestPressed(PressedPlace[] places)
    {
        _axis = Enumerable.Range(0, 3).MaxBy(axis => places.Max(p => On(p.At, axis)) - places.Min(p => On(p.At, axis)));
        _places = [.. places.OrderBy(p => On(p.At, _axis))];
        _along = [.. _places.Select(p => On(p.At, _axis))];
    }

    public bool Presses(Point3 at)
    {
        double here = On(at, _axis), best = double.PositiveInfinity;
        bool presses = true;
        int start = Array.BinarySearch(_along, here);
        if (start < 0) start = ~start;
        // To both sides until the axis alone is farther than the best.
        for (int n = start; n < _places.Length && (_along[n] - here) * (_along[n] - here) < best; n++) Consider(n);
        for (int n = start - 1; n >= 0 && (_along[n] - here) * (_along[n] - here) < best; n--) Consider(n);
        return presses;

        void Consider(int n)
        {
            Point3 away = _places[n].At - at;
            double square = Point3.Dot(away, away);
            if (square < best) (best, presses) = (square, _places[n].Presses);
        }
    }

    private static double On(Point3 p, int axis) => axis switch { 0 => p.X, 1 => p.Y, _ => p.Z };
}
