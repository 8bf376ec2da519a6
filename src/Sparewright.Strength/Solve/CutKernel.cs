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
    public static void AddRun<T>(in BrickRows.Run run, float* shares, float* moments, in BrickFactors f, T* ux, T* uy, T* uz, T* rx, T* ry, T* rz) where T : unmanaged
    {
        Vector256<T> k11 = Lanes.All<T>(f.K11), k12 = Lanes.All<T>(f.K12), k13 = Lanes.All<T>(f.K13), k33 = Lanes.All<T>(f.K33), k44 = Lanes.All<T>(f.K44), k66 = Lanes.All<T>(f.K66);
        int s00 = run.Slot00, s10 = run.Slot10, s01 = run.Slot01, s11 = run.Slot11;
        Vector256<T> x00 = default, x10 = default, x01 = default, x11 = default, y00 = default, y10 = default, y01 = default, y11 = default;
        Vector256<T> z00 = default, z10 = default, z01 = default, z11 = default;
        int cells = run.Blocks * BrickRows.Block;
        for (int x = 0; x < cells; x += Vector256<T>.Count)
        {
            float* m = moments + x / BrickRows.Block * (BrickRows.Block * CutCells.PerCell) + x % BrickRows.Block;
            BrickKernel.Forward(ux + s00 + x, ux + s10 + x, ux + s01 + x, ux + s11 + x, out var a1, out var a2, out var a3, out var a12, out var a13, out var a23, out var a123);
            BrickKernel.Forward(uy + s00 + x, uy + s10 + x, uy + s01 + x, uy + s11 + x, out var b1, out var b2, out var b3, out var b12, out var b13, out var b23, out var b123);
            BrickKernel.Forward(uz + s00 + x, uz + s10 + x, uz + s01 + x, uz + s11 + x, out var c1, out var c2, out var c3, out var c12, out var c13, out var c23, out var c123);

            // Shear of two axes p, q: its terms are 1, p, q, r, pr, qr.
            Vector256<T> s0 = k66 * (a2 + b1), sp = k66 * a12, sq = k66 * b12, sr = k66 * (a23 + b13), spr = k66 * a123, sqr = k66 * b123;
            Vector256<T> fa2 = Shear<T>(m, 0, X, Y, Z, s0, sp, sq, sr, spr, sqr), fb1 = fa2;
            Vector256<T> fa12 = Shear<T>(m, X, X, Y, Z, s0, sp, sq, sr, spr, sqr), fb12 = Shear<T>(m, Y, X, Y, Z, s0, sp, sq, sr, spr, sqr);
            Vector256<T> fa23 = Shear<T>(m, Z, X, Y, Z, s0, sp, sq, sr, spr, sqr), fb13 = fa23;
            Vector256<T> fa123 = Shear<T>(m, X + Z, X, Y, Z, s0, sp, sq, sr, spr, sqr), fb123 = Shear<T>(m, Y + Z, X, Y, Z, s0, sp, sq, sr, spr, sqr);

            (s0, sp, sq, sr, spr, sqr) = (k44 * (a3 + c1), k44 * a13, k44 * c13, k44 * (a23 + c12), k44 * a123, k44 * c123);
            Vector256<T> fa3 = Shear<T>(m, 0, X, Z, Y, s0, sp, sq, sr, spr, sqr), fc1 = fa3;
            Vector256<T> fa13 = Shear<T>(m, X, X, Z, Y, s0, sp, sq, sr, spr, sqr), fc13 = Shear<T>(m, Z, X, Z, Y, s0, sp, sq, sr, spr, sqr);
            Vector256<T> xzY = Shear<T>(m, Y, X, Z, Y, s0, sp, sq, sr, spr, sqr);
            fa23 += xzY;
            fa123 += Shear<T>(m, X + Y, X, Z, Y, s0, sp, sq, sr, spr, sqr);
            Vector256<T> fc123 = Shear<T>(m, Z + Y, X, Z, Y, s0, sp, sq, sr, spr, sqr);

            (s0, sp, sq, sr, spr, sqr) = (k44 * (b3 + c2), k44 * b23, k44 * c23, k44 * (b13 + c12), k44 * b123, k44 * c123);
            Vector256<T> fb3 = Shear<T>(m, 0, Y, Z, X, s0, sp, sq, sr, spr, sqr), fc2 = fb3;
            Vector256<T> fb23 = Shear<T>(m, Y, Y, Z, X, s0, sp, sq, sr, spr, sqr), fc23 = Shear<T>(m, Z, Y, Z, X, s0, sp, sq, sr, spr, sqr);
            Vector256<T> yzX = Shear<T>(m, X, Y, Z, X, s0, sp, sq, sr, spr, sqr);
            fb13 += yzX;
            Vector256<T> fc12 = xzY + yzX;
            fb123 += Shear<T>(m, Y + X, Y, Z, X, s0, sp, sq, sr, spr, sqr);
            fc123 += Shear<T>(m, Z + X, Y, Z, X, s0, sp, sq, sr, spr, sqr);

            // Along an axis: all terms, felt by the products without that axis.
            Vector256<T> t0 = k11 * a1 + k12 * b2 + k13 * c3, tx = k12 * b12 + k13 * c13, ty = k11 * a12 + k13 * c23, tz = k11 * a13 + k12 * b23, txy = k13 * c123, txz = k12 * b123, tyz = k11 * a123;
            Vector256<T> fa1 = Along<T>(m, 0, t0, tx, ty, tz, txy, txz, tyz);
            fa12 += Along<T>(m, Y, t0, tx, ty, tz, txy, txz, tyz);
            fa13 += Along<T>(m, Z, t0, tx, ty, tz, txy, txz, tyz);
            fa123 += Along<T>(m, Y + Z, t0, tx, ty, tz, txy, txz, tyz);

            (t0, tx, ty, tz, txy, txz, tyz) = (k12 * a1 + k11 * b2 + k13 * c3, k11 * b12 + k13 * c13, k12 * a12 + k13 * c23, k12 * a13 + k11 * b23, k13 * c123, k11 * b123, k12 * a123);
            Vector256<T> fb2 = Along<T>(m, 0, t0, tx, ty, tz, txy, txz, tyz);
            fb12 += Along<T>(m, X, t0, tx, ty, tz, txy, txz, tyz);
            fb23 += Along<T>(m, Z, t0, tx, ty, tz, txy, txz, tyz);
            fb123 += Along<T>(m, X + Z, t0, tx, ty, tz, txy, txz, tyz);

            (t0, tx, ty, tz, txy, txz, tyz) = (k13 * (a1 + b2) + k33 * c3, k13 * b12 + k33 * c13, k13 * a12 + k33 * c23, k13 * (a13 + b23), k33 * c123, k13 * b123, k13 * a123);
            Vector256<T> fc3 = Along<T>(m, 0, t0, tx, ty, tz, txy, txz, tyz);
            fc13 += Along<T>(m, X, t0, tx, ty, tz, txy, txz, tyz);
            fc23 += Along<T>(m, Y, t0, tx, ty, tz, txy, txz, tyz);
            fc123 += Along<T>(m, X + Y, t0, tx, ty, tz, txy, txz, tyz);

            BrickKernel.Back(fa1, fa2, fa3, fa12, fa13, fa23, fa123, rx + s00 + x, rx + s10 + x, rx + s01 + x, rx + s11 + x, ref x00, ref x10, ref x01, ref x11);
            BrickKernel.Back(fb1, fb2, fb3, fb12, fb13, fb23, fb123, ry + s00 + x, ry + s10 + x, ry + s01 + x, ry + s11 + x, ref y00, ref y10, ref y01, ref y11);
            BrickKernel.Back(fc1, fc2, fc3, fc12, fc13, fc23, fc123, rz + s00 + x, rz + s10 + x, rz + s01 + x, rz + s11 + x, ref z00, ref z10, ref z01, ref z11);
        }

        if (shares[cells - 1] == 0) return;
        BrickKernel.AddFirst(rx, cells, s00, s10, s01, s11, x00, x10, x01, x11);
        BrickKernel.AddFirst(ry, cells, s00, s10, s01, s11, y00, y10, y01, y11);
        BrickKernel.AddFirst(rz, cells, s00, s10, s01, s11, z00, z10, z01, z11);
    }

    /// <summary>The mean of a shear stress with the given terms times the product at <paramref name="t"/>; p, q and r are the strides of the axes.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector256<T> Shear<T>(float* m, int t, int p, int q, int r, Vector256<T> s0, Vector256<T> sp, Vector256<T> sq, Vector256<T> sr, Vector256<T> spr, Vector256<T> sqr) where T : unmanaged
    {
        Vector256<T> even = s0 * Mean<T>(m, t), odd = sp * Mean<T>(m, t + p);
        even = Lanes.AddProduct(sq, Mean<T>(m, t + q), even);
        odd = Lanes.AddProduct(sr, Mean<T>(m, t + r), odd);
        even = Lanes.AddProduct(spr, Mean<T>(m, t + p + r), even);
        odd = Lanes.AddProduct(sqr, Mean<T>(m, t + q + r), odd);
        return even + odd;
    }

    /// <summary>The mean of a stress along an axis with the given terms times the product at <paramref name="t"/>.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector256<T> Along<T>(float* m, int t, Vector256<T> t0, Vector256<T> tx, Vector256<T> ty, Vector256<T> tz, Vector256<T> txy, Vector256<T> txz, Vector256<T> tyz) where T : unmanaged
    {
        Vector256<T> even = t0 * Mean<T>(m, t), odd = tx * Mean<T>(m, t + X);
        even = Lanes.AddProduct(ty, Mean<T>(m, t + Y), even);
        odd = Lanes.AddProduct(tz, Mean<T>(m, t + Z), odd);
        even = Lanes.AddProduct(txy, Mean<T>(m, t + X + Y), even);
        odd = Lanes.AddProduct(txz, Mean<T>(m, t + X + Z), odd);
        even = Lanes.AddProduct(tyz, Mean<T>(m, t + Y + Z), even);
        return even + odd;
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector256<T> Mean<T>(float* m, int at) where T : unmanaged => Lanes.Widened<T>(m + at * BrickRows.Block);
}
