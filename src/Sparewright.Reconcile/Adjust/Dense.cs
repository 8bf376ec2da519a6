using System.Numerics;

namespace Sparewright.Reconcile.Adjust;

/// <summary>The two loops in which an adjustment spends its time.</summary>
internal static class Dense
{
    /// <summary>y += a·x.</summary>
    public static void Add(double a, ReadOnlySpan<double> x, Span<double> y)
    {
        int i = 0, step = Vector<double>.Count;
        var factor = new Vector<double>(a);
        for (; i <= x.Length - step; i += step)
            (new Vector<double>(y[i..]) + factor * new Vector<double>(x[i..])).CopyTo(y[i..]);
        for (; i < x.Length; i++) y[i] += a * x[i];
    }

    public static double Dot(ReadOnlySpan<double> x, ReadOnlySpan<double> y)
    {
        int i = 0, step = Vector<double>.Count;
        var sums = Vector<double>.Zero;
        for (; i <= x.Length - step; i += step) sums += new Vector<double>(x[i..]) * new Vector<double>(y[i..]);
        double sum = Vector.Sum(sums);
        for (; i < x.Length; i++) sum += x[i] * y[i];
        return sum;
    }
}
