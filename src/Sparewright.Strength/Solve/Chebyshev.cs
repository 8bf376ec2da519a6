using System.Numerics;
using System.Runtime.InteropServices;

namespace Sparewright.Strength.Solve;

/// <summary>
/// Smoothing of the rough part of an error by a polynomial in D⁻¹K: the Chebyshev polynomial that is least over the upper part of the spectrum.
/// </summary>
/// <remarks>Method: Adams, Brezina, Hu and Tuminaro, "Parallel multigrid smoothing: polynomial versus Gauss–Seidel", J. Comput. Phys. 188 (2003), from memory.</remarks>
internal static class Chebyshev
{
    public const int Degree = 3;

    /// <summary>Share of the largest eigenvalue from which on errors are smoothed.</summary>
    public const double From = 0.1;

    /// <summary>Factors of each step: d = Keep · d + Take · D⁻¹(b − K x), then x += d.</summary>
    public static (float Keep, float Take)[] Steps(double largest, int degree = Degree, double from = From)
    {
        double middle = largest * (1 + from) / 2, half = largest * (1 - from) / 2, sigma = middle / half, rho = 1 / sigma;
        var steps = new (float, float)[degree];
        steps[0] = (0, (float)(1 / middle));
        for (int n = 1; n < degree; n++)
        {
            double next = 1 / (2 * sigma - rho);
            steps[n] = ((float)(rho * next), (float)(2 * next / half));
            rho = next;
        }

        return steps;
    }

    /// <summary>d = keep · d + take · inverse (b − k); x += d.</summary>
    public static void Step(float keep, float take, ReadOnlySpan<float> inverse, ReadOnlySpan<float> b, ReadOnlySpan<float> k, Span<float> d, Span<float> x)
    {
        int n = 0;
        ReadOnlySpan<Vector<float>> vi = Vectors(inverse), vb = Vectors(b), vk = Vectors(k);
        Span<Vector<float>> vd = MemoryMarshal.Cast<float, Vector<float>>(d), vx = MemoryMarshal.Cast<float, Vector<float>>(x);
        for (int v = 0; v < vi.Length; v++)
        {
            Vector<float> step = vd[v] * keep + vi[v] * (vb[v] - vk[v]) * take;
            vd[v] = step;
            vx[v] += step;
        }

        for (n = vi.Length * Vector<float>.Count; n < x.Length; n++)
        {
            d[n] = keep * d[n] + inverse[n] * (b[n] - k[n]) * take;
            x[n] += d[n];
        }
    }

    /// <summary>The first step from x = 0: d = x = take · inverse b.</summary>
    public static void Start(float take, ReadOnlySpan<float> inverse, ReadOnlySpan<float> b, Span<float> d, Span<float> x)
    {
        ReadOnlySpan<Vector<float>> vi = Vectors(inverse), vb = Vectors(b);
        Span<Vector<float>> vd = MemoryMarshal.Cast<float, Vector<float>>(d), vx = MemoryMarshal.Cast<float, Vector<float>>(x);
        for (int v = 0; v < vi.Length; v++) vd[v] = vx[v] = vi[v] * vb[v] * take;
        for (int n = vi.Length * Vector<float>.Count; n < x.Length; n++) d[n] = x[n] = inverse[n] * b[n] * take;
    }

    private static ReadOnlySpan<Vector<float>> Vectors(ReadOnlySpan<float> span) => MemoryMarshal.Cast<float, Vector<float>>(span);
}
