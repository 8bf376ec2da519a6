using Sparewright.Solid;
using Sparewright.Strength.Loads;
using Sparewright.Strength.Margins;
using Sparewright.Strength.Solve;

namespace Sparewright.Strength.Cases;

/// <summary>A solved part's surface, its points in the order in which the stress in the cell beneath would make them go; from there its weakest places are found exactly.</summary>
internal sealed class JudgedSurface
{
    /// <summary>So many points, the worst by the stress in the cell beneath, are looked at exactly.</summary>
    private const int LookedAt = 300;

    private readonly Solution _solution;
    private readonly PartSurface _surface;
    private readonly Func<Stress, Reserve> _judge;
    private readonly NearPoint _near;
    private readonly double[] _factors;
    private readonly int[] _worstFirst;

    /// <param name="solution">Of the whole part or a window of it.</param>
    /// <param name="supports">What lies near these is not judged.</param>
    /// <param name="judge">The reserve of a stress in the grid's axes.</param>
    public JudgedSurface(Solution solution, SolidLoadCase @case, PartSurface surface, Nearness supports, Func<Stress, Reserve> judge)
    {
        (_solution, _surface, _judge) = (solution, surface, judge);
        _near = new(supports, @case, surface, solution.Grid.CellMm, Math.Max(WeakestPlace.LineWidthMm, 1.5 * solution.Grid.CellMm));
        double[] factors = _factors = new double[surface.Points.Count];
        Parallel.For(0, factors.Length, k => factors[k] = WeakestPlace.Beneath(solution, surface.Points[k]) is { } stress ? judge(stress).Factor : double.PositiveInfinity);
        _worstFirst = [.. Enumerable.Range(0, factors.Length).Where(k => double.IsFinite(factors[k]))];
        Array.Sort([.. _worstFirst.Select(k => factors[k])], _worstFirst);
    }

    /// <summary>The weakest place; null where none can be judged.</summary>
    /// <param name="apart">Whether a point counts; all do if not said.</param>
    public WeakestPlace? Weakest(Func<SurfacePoint, bool>? apart = null)
    {
        var worst = new List<int>();
        int? sharp = null;
        foreach (int k in _worstFirst)
        {
            Point3 at = _surface.Points[k].At;
            if (apart?.Invoke(_surface.Points[k]) == false || _near.Support(at)) continue;
            if (_near.SharpCorner(at)) sharp ??= k;
            else worst.Add(k);
            if (worst.Count == LookedAt) break;
        }

        if (worst.Count == 0) return null;
        var exact = new (Stress Stress, Reserve Reserve)[worst.Count];
        Parallel.For(0, exact.Length, n =>
        {
            SurfacePoint p = _surface.Points[worst[n]];
            Stress stress = WeakestPlace.StressAt(_solution, p, _near.Load(p.At))!.Value;
            exact[n] = (stress, _judge(stress));
        });
        int least = Enumerable.Range(0, exact.Length).MinBy(n => exact[n].Reserve.Factor);
        return new(_surface.Points[worst[least]], exact[least].Stress, exact[least].Reserve, sharp is { } s && _factors[s] < exact[least].Reserve.Factor ? _surface.SharpCorners.MinBy(c => (c.At - _surface.Points[s].At).Length) : null);
    }
}
