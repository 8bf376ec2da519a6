using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using Sparewright.Strength.Grid;

namespace Sparewright.Strength.Solve;

/// <summary>
/// Forces of the corners of cells over which solid is not spread evenly: those that the surface cuts, integrated truly, and coarse cells put together from finer ones.
/// </summary>
/// <remarks>
/// Strains and stresses are polynomials with the terms 1, ξ, η, ζ, ξη, ξζ, ηζ; what each product of a displacement feels is a sum of such terms times moments.
/// Lanes are neighbouring cells, as in <see cref="BrickKernel"/>. Moments stand block by block, within a block moment by moment, eight cells each.
/// </remarks>
internal static unsafe class CutKernel
{
    // Where the moments of the terms stand.
    private const int X = 1, Y = 3, Z = 9;

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static void AddRun<T>(in BrickRows.Run run, float* shares, float* moments, in BrickFactors factors, T* ux, T* uy, T* uz, T* rx, T* ry, T* rz) where T : unmanaged
    {
        Vector256<T> k11 = Lanes.All<T>(factors.K11), k12 = Lanes.All<T>(factors.K12), k13 = Lanes.All<T>(factors.K13), k33 = Lanes.All<T>(factors.K33), k44 = Lanes.All<T>(factors.K44), k66 = Lanes.All<T>(factors.K66);
        int s00 = run.Slot00, s10 = run.Slot10, s01 = run.Slot01, s11 = run.Slot11;
        Vector256<T> x00 = default, x10 = default, x01 = default, x11 = default, y00 = default, y10 = default, y01 = default, y11 = default;
        Vector256<T> z00 = default, z10 = default, z01 = default, z11 = default;
        Vector256<T>* s = stackalloc Vector256<T>[7], f = stackalloc Vector256<T>[6];
        int cells = run.Blocks * BrickRows.Block;
        for (int x = 0; x < cells; x += Vector256<T>.Count)
        {
            float* m = moments + x / BrickRows.Block * (BrickRows.Block * CutCells.PerCell) + x % BrickRows.Block;
            BrickKernel.Forward(ux + s00 + x, ux + s10 + x, ux + s01 + x, ux + s11 + x, out var a1, out var a2, out var a3, out var a12, out var a13, out var a23, out var a123);
            BrickKernel.Forward(uy + s00 + x, uy + s10 + x, uy + s01 + x, uy + s11 + x, out var b1, out var b2, out var b3, out var b12, out var b13, out var b23, out var b123);
            BrickKernel.Forward(uz + s00 + x, uz + s10 + x, uz + s01 + x, uz + s11 + x, out var c1, out var c2, out var c3, out var c12, out var c13, out var c23, out var c123);

            // Shear of two axes p and q: its terms, and the products that feel it, are 1, p, q, r, pr, qr.
            (s[0], s[1], s[2], s[3], s[4], s[5]) = (k66 * (a2 + b1), k66 * a12, k66 * b12, k66 * (a23 + b13), k66 * a123, k66 * b123);
            Shear(m, X, Y, Z, s, f);
            Vector256<T> xy0 = f[0], fa12 = f[1], fb12 = f[2], xyZ = f[3], fa123 = f[4], fb123 = f[5];
            (s[0], s[1], s[2], s[3], s[4], s[5]) = (k44 * (a3 + c1), k44 * a13, k44 * c13, k44 * (a23 + c12), k44 * a123, k44 * c123);
            Shear(m, X, Z, Y, s, f);
            Vector256<T> xz0 = f[0], fa13 = f[1], fc13 = f[2], xzY = f[3], fc123 = f[5];
            fa123 += f[4];
            (s[0], s[1], s[2], s[3], s[4], s[5]) = (k44 * (b3 + c2), k44 * b23, k44 * c23, k44 * (b13 + c12), k44 * b123, k44 * c123);
            Shear(m, Y, Z, X, s, f);
            Vector256<T> yz0 = f[0], fb23 = f[1], fc23 = f[2], yzX = f[3];
            fb123 += f[4];
            fc123 += f[5];

            // Along an axis: the terms are 1, ξ, η, ζ, ξη, ξζ, ηζ, felt by the products of the other two axes.
            (s[0], s[1], s[2], s[3], s[4], s[5], s[6]) = (k11 * a1 + k12 * b2 + k13 * c3, k12 * b12 + k13 * c13, k11 * a12 + k13 * c23, k11 * a13 + k12 * b23, k13 * c123, k12 * b123, k11 * a123);
            Along(m, Y, Z, s, f);
            Vector256<T> fa1 = f[0];
            fa12 += f[1];
            fa13 += f[2];
            fa123 += f[3];
            (s[0], s[1], s[2], s[3], s[4], s[5], s[6]) = (k12 * a1 + k11 * b2 + k13 * c3, k11 * b12 + k13 * c13, k12 * a12 + k13 * c23, k12 * a13 + k11 * b23, k13 * c123, k11 * b123, k12 * a123);
            Along(m, X, Z, s, f);
            Vector256<T> fb2 = f[0];
            fb12 += f[1];
            fb23 += f[2];
            fb123 += f[3];
            (s[0], s[1], s[2], s[3], s[4], s[5], s[6]) = (k13 * (a1 + b2) + k33 * c3, k13 * b12 + k33 * c13, k13 * a12 + k33 * c23, k13 * (a13 + b23), k33 * c123, k13 * b123, k13 * a123);
            Along(m, X, Y, s, f);
            Vector256<T> fc3 = f[0];
            fc13 += f[1];
            fc23 += f[2];
            fc123 += f[3];

            BrickKernel.Back(fa1, xy0, xz0, fa12, fa13, xyZ + xzY, fa123, rx + s00 + x, rx + s10 + x, rx + s01 + x, rx + s11 + x, ref x00, ref x10, ref x01, ref x11);
            BrickKernel.Back(xy0, fb2, yz0, fb12, xyZ + yzX, fb23, fb123, ry + s00 + x, ry + s10 + x, ry + s01 + x, ry + s11 + x, ref y00, ref y10, ref y01, ref y11);
            BrickKernel.Back(xz0, yz0, fc3, xzY + yzX, fc13, fc23, fc123, rz + s00 + x, rz + s10 + x, rz + s01 + x, rz + s11 + x, ref z00, ref z10, ref z01, ref z11);
        }

        if (shares[cells - 1] == 0) return;
        BrickKernel.AddFirst(rx, cells, s00, s10, s01, s11, x00, x10, x01, x11);
        BrickKernel.AddFirst(ry, cells, s00, s10, s01, s11, y00, y10, y01, y11);
        BrickKernel.AddFirst(rz, cells, s00, s10, s01, s11, z00, z10, z01, z11);
    }

    /// <summary>Means of a shear stress of two axes times each of the products that feel it. Terms and products: 1, p, q, r, pr, qr, by the strides of the axes.</summary>
    [MethodImpl(MethodImplOptions.NoInlining)]
    private static void Shear<T>(float* m, int p, int q, int r, Vector256<T>* s, Vector256<T>* f) where T : unmanaged
    {
        Vector256<T> s0 = s[0], s1 = s[1], s2 = s[2], s3 = s[3], s4 = s[4], s5 = s[5];
        for (int n = 0; n < 6; n++)
        {
            int t = n switch { 0 => 0, 1 => p, 2 => q, 3 => r, 4 => p + r, _ => q + r };
            Vector256<T> even = s0 * Mean<T>(m, t), odd = s1 * Mean<T>(m, t + p);
            even = Lanes.AddProduct(s2, Mean<T>(m, t + q), even);
            odd = Lanes.AddProduct(s3, Mean<T>(m, t + r), odd);
            even = Lanes.AddProduct(s4, Mean<T>(m, t + p + r), even);
            odd = Lanes.AddProduct(s5, Mean<T>(m, t + q + r), odd);
            f[n] = even + odd;
        }
    }

    /// <summary>Means of a stress along an axis times each of the products that feel it: 1, p, q, pq of the other two axes.</summary>
    [MethodImpl(MethodImplOptions.NoInlining)]
    private static void Along<T>(float* m, int p, int q, Vector256<T>* s, Vector256<T>* f) where T : unmanaged
    {
        Vector256<T> s0 = s[0], s1 = s[1], s2 = s[2], s3 = s[3], s4 = s[4], s5 = s[5], s6 = s[6];
        for (int n = 0; n < 4; n++)
        {
            int t = ((n & 1) == 0 ? 0 : p) + ((n & 2) == 0 ? 0 : q);
            Vector256<T> even = s0 * Mean<T>(m, t), odd = s1 * Mean<T>(m, t + X);
            even = Lanes.AddProduct(s2, Mean<T>(m, t + Y), even);
            odd = Lanes.AddProduct(s3, Mean<T>(m, t + Z), odd);
            even = Lanes.AddProduct(s4, Mean<T>(m, t + X + Y), even);
            odd = Lanes.AddProduct(s5, Mean<T>(m, t + X + Z), odd);
            even = Lanes.AddProduct(s6, Mean<T>(m, t + Y + Z), even);
            f[n] = even + odd;
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector256<T> Mean<T>(float* m, int at) where T : unmanaged => Lanes.Widened<T>(m + at * BrickRows.Block);
}
