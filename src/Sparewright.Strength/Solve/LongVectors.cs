using System.Numerics;
using System.Runtime.InteropServices;

namespace Sparewright.Strength.Solve;

/// <summary>The passes over long vectors that the outer iteration needs, each one over a piece, as few as there can be.</summary>
internal static class LongVectors
{
    /// <summary>x += step · p; r −= step · q; b = r in single precision; returns r·r.</summary>
    public static double Advance(double step, ReadOnlySpan<double> p, ReadOnlySpan<double> q, Span<double> x, Span<double> r, Span<float> b)
    {
        ReadOnlySpan<Vector<double>> vp = Vectors(p), vq = Vectors(q);
        Span<Vector<double>> vx = MemoryMarshal.Cast<double, Vector<double>>(x), vr = MemoryMarshal.Cast<double, Vector<double>>(r);
        Span<Vector<float>> vb = MemoryMarshal.Cast<float, Vector<float>>(b);
        var sum = Vector<double>.Zero;
        int v = 0;
        for (int s = 0; s < vb.Length; s++, v += 2)
        {
            vx[v] += vp[v] * step;
            vx[v + 1] += vp[v + 1] * step;
            Vector<double> low = vr[v] - vq[v] * step, high = vr[v + 1] - vq[v + 1] * step;
            (vr[v], vr[v + 1]) = (low, high);
            vb[s] = Vector.Narrow(low, high);
            sum += low * low + high * high;
        }

        double rest = Vector.Sum(sum);
        for (int n = vb.Length * Vector<float>.Count; n < x.Length; n++)
        {
            x[n] += step * p[n];
            r[n] -= step * q[n];
            b[n] = (float)r[n];
            rest += r[n] * r[n];
        }

        return rest;
    }

    /// <summary>k = b − k.</summary>
    public static void Subtract(ReadOnlySpan<float> b, Span<float> k)
    {
        ReadOnlySpan<Vector<float>> vb = MemoryMarshal.Cast<float, Vector<float>>(b);
        Span<Vector<float>> vk = MemoryMarshal.Cast<float, Vector<float>>(k);
        for (int v = 0; v < vk.Length; v++) vk[v] = vb[v] - vk[v];
        for (int n = vk.Length * Vector<float>.Count; n < k.Length; n++) k[n] = b[n] - k[n];
    }

    /// <summary>r·z, z in single precision.</summary>
    public static double Dot(ReadOnlySpan<double> r, ReadOnlySpan<float> z)
    {
        ReadOnlySpan<Vector<double>> vr = Vectors(r);
        ReadOnlySpan<Vector<float>> vz = MemoryMarshal.Cast<float, Vector<float>>(z);
        var sum = Vector<double>.Zero;
        for (int s = 0; s < vz.Length; s++)
        {
            Vector.Widen(vz[s], out Vector<double> low, out Vector<double> high);
            sum += vr[2 * s] * low + vr[2 * s + 1] * high;
        }

        double rest = Vector.Sum(sum);
        for (int n = vz.Length * Vector<float>.Count; n < r.Length; n++) rest += r[n] * z[n];
        return rest;
    }

    /// <summary>a·b.</summary>
    public static double Dot(ReadOnlySpan<double> a, ReadOnlySpan<double> b)
    {
        ReadOnlySpan<Vector<double>> va = Vectors(a), vb = Vectors(b);
        var sum = Vector<double>.Zero;
        for (int v = 0; v < va.Length; v++) sum += va[v] * vb[v];
        double rest = Vector.Sum(sum);
        for (int n = va.Length * Vector<double>.Count; n < a.Length; n++) rest += a[n] * b[n];
        return rest;
    }

    /// <summary>a·b, summed in single precision within a piece: for estimates.</summary>
    public static double Dot(ReadOnlySpan<float> a, ReadOnlySpan<float> b)
    {
        ReadOnlySpan<Vector<float>> va = MemoryMarshal.Cast<float, Vector<float>>(a), vb = MemoryMarshal.Cast<float, Vector<float>>(b);
        var sum = Vector<float>.Zero;
        for (int v = 0; v < va.Length; v++) sum += va[v] * vb[v];
        double rest = Vector.Sum(sum);
        for (int n = va.Length * Vector<float>.Count; n < a.Length; n++) rest += a[n] * b[n];
        return rest;
    }

    /// <summary>last = inverse · k − a · x − b · last; returns last·k.</summary>
    public static double Turn(float a, float b, ReadOnlySpan<float> inverse, ReadOnlySpan<float> k, ReadOnlySpan<float> x, Span<float> last)
    {
        ReadOnlySpan<Vector<float>> vi = MemoryMarshal.Cast<float, Vector<float>>(inverse), vk = MemoryMarshal.Cast<float, Vector<float>>(k), vx = MemoryMarshal.Cast<float, Vector<float>>(x);
        Span<Vector<float>> vl = MemoryMarshal.Cast<float, Vector<float>>(last);
        for (int v = 0; v < vl.Length; v++) vl[v] = vi[v] * vk[v] - vx[v] * a - vl[v] * b;
        for (int n = vl.Length * Vector<float>.Count; n < x.Length; n++) last[n] = inverse[n] * k[n] - a * x[n] - b * last[n];
        return Dot(last, k);
    }

    /// <summary>The sum of x² over inverse, where that is not 0.</summary>
    public static double SquareOver(ReadOnlySpan<float> inverse, ReadOnlySpan<float> x)
    {
        double sum = 0;
        for (int n = 0; n < x.Length; n++)
            if (inverse[n] > 0) sum += x[n] * x[n] / inverse[n];
        return sum;
    }

    public static void Scale(float factor, Span<float> x)
    {
        Span<Vector<float>> vx = MemoryMarshal.Cast<float, Vector<float>>(x);
        for (int v = 0; v < vx.Length; v++) vx[v] *= factor;
        for (int n = vx.Length * Vector<float>.Count; n < x.Length; n++) x[n] *= factor;
    }

    /// <summary>p = z + keep · p.</summary>
    public static void Turn(double keep, ReadOnlySpan<float> z, Span<double> p)
    {
        ReadOnlySpan<Vector<float>> vz = MemoryMarshal.Cast<float, Vector<float>>(z);
        Span<Vector<double>> vp = MemoryMarshal.Cast<double, Vector<double>>(p);
        for (int s = 0; s < vz.Length; s++)
        {
            Vector.Widen(vz[s], out Vector<double> low, out Vector<double> high);
            vp[2 * s] = low + vp[2 * s] * keep;
            vp[2 * s + 1] = high + vp[2 * s + 1] * keep;
        }

        for (int n = vz.Length * Vector<float>.Count; n < p.Length; n++) p[n] = z[n] + keep * p[n];
    }

    private static ReadOnlySpan<Vector<double>> Vectors(ReadOnlySpan<double> span) => MemoryMarshal.Cast<double, Vector<double>>(span);
}
