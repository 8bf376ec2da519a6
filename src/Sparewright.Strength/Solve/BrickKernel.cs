using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using System.Runtime.Intrinsics.X86;

namespace Sparewright.Strength.Solve;

/// <summary>
/// Forces of the cells' corners from their displacements: r += K u over a run of cells along x.
/// </summary>
/// <remarks>
/// Trilinear brick with full integration. Over a cube the products 1, ξ, η, ζ, ξη, ξζ, ηζ, ξηζ are orthogonal, so that in their coefficients (sums and differences of the
/// corners' values, the Hadamard transform) the 24 × 24 matrix is nearly diagonal also for a layered material whose axes are the grid's: about 200 operations a cell rather than 1150.
/// Lanes are neighbouring cells along x. A cell's far corners are the next lane's near corners: their forces move up one lane, the last lane's into the next vector,
/// so that each row is written once a vector, aligned.
/// </remarks>
internal static unsafe class BrickKernel
{
    /// <summary>Adds the forces of layers <paramref name="fromLayer"/> … <paramref name="toLayer"/> − 1; u and r hold all x, then all y, then all z.</summary>
    public static void Add<T>(BrickRows rows, float* shares, float* moments, in BrickFactors factors, T* u, T* r, int fromLayer, int toLayer) where T : unmanaged
    {
        int n = rows.Slots;
        for (int at = rows.LayerStart[fromLayer]; at < rows.LayerStart[toLayer]; at++)
        {
            ref readonly BrickRows.Run run = ref rows.Runs[at];
            if (run.Cut < 0) AddRun(run, shares + run.Shares, factors, u, u + n, u + 2 * n, r, r + n, r + 2 * n);
            else CutKernel.AddRun(run, shares + run.Shares, moments + (long)run.Cut * BrickRows.MomentsOfBlock, factors, u, u + n, u + 2 * n, r, r + n, r + 2 * n);
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void AddRun<T>(in BrickRows.Run run, float* shares, in BrickFactors f, T* ux, T* uy, T* uz, T* rx, T* ry, T* rz) where T : unmanaged
    {
        Vector256<T> k11 = Lanes.All<T>(f.K11), k12 = Lanes.All<T>(f.K12), k13 = Lanes.All<T>(f.K13), k33 = Lanes.All<T>(f.K33), k44 = Lanes.All<T>(f.K44), k66 = Lanes.All<T>(f.K66);
        Vector256<T> third = Lanes.All<T>(1.0 / 3), ninth = Lanes.All<T>(1.0 / 9);
        Vector256<T> k1166 = k11 + k66, k1144 = k11 + k44, k3344 = k33 + k44;
        Vector256<T> k116644 = (k1166 + k44) * ninth, k334444 = (k3344 + k44) * ninth;
        int s00 = run.Slot00, s10 = run.Slot10, s01 = run.Slot01, s11 = run.Slot11;
        Vector256<T> x00 = default, x10 = default, x01 = default, x11 = default, y00 = default, y10 = default, y01 = default, y11 = default;
        Vector256<T> z00 = default, z10 = default, z01 = default, z11 = default;
        int cells = run.Blocks * BrickRows.Block;
        for (int x = 0; x < cells; x += Vector256<T>.Count)
        {
            Vector256<T> share = Lanes.Widened<T>(shares + x), thirdShare = share * third;
            Forward(ux + s00 + x, ux + s10 + x, ux + s01 + x, ux + s11 + x, out var a1, out var a2, out var a3, out var a12, out var a13, out var a23, out var a123);
            Forward(uy + s00 + x, uy + s10 + x, uy + s01 + x, uy + s11 + x, out var b1, out var b2, out var b3, out var b12, out var b13, out var b23, out var b123);
            Forward(uz + s00 + x, uz + s10 + x, uz + s01 + x, uz + s11 + x, out var c1, out var c2, out var c3, out var c12, out var c13, out var c23, out var c123);

            Vector256<T> xy = k66 * (a2 + b1) * share, xz = k44 * (a3 + c1) * share, yz = k44 * (b3 + c2) * share;
            Vector256<T> xyZ = k66 * (a23 + b13), xzY = k44 * (a23 + c12), yzX = k44 * (b13 + c12);
            Back(
                (k11 * a1 + k12 * b2 + k13 * c3) * share, xy, xz, (k1166 * a12 + k13 * c23) * thirdShare, (k1144 * a13 + k12 * b23) * thirdShare,
                (xyZ + xzY) * thirdShare, k116644 * a123 * share, rx + s00 + x, rx + s10 + x, rx + s01 + x, rx + s11 + x, ref x00, ref x10, ref x01, ref x11);
            Back(
                xy, (k12 * a1 + k11 * b2 + k13 * c3) * share, yz, (k1166 * b12 + k13 * c13) * thirdShare, (xyZ + yzX) * thirdShare,
                (k1144 * b23 + k12 * a13) * thirdShare, k116644 * b123 * share, ry + s00 + x, ry + s10 + x, ry + s01 + x, ry + s11 + x, ref y00, ref y10, ref y01, ref y11);
            Back(
                xz, yz, (k13 * (a1 + b2) + k33 * c3) * share, (xzY + yzX) * thirdShare, (k3344 * c13 + k13 * b12) * thirdShare,
                (k3344 * c23 + k13 * a12) * thirdShare, k334444 * c123 * share, rz + s00 + x, rz + s10 + x, rz + s01 + x, rz + s11 + x, ref z00, ref z10, ref z01, ref z11);
        }

        if (shares[cells - 1] == 0) return;
        // The last cell's far corners begin the block that follows.
        AddFirst(rx, cells, s00, s10, s01, s11, x00, x10, x01, x11);
        AddFirst(ry, cells, s00, s10, s01, s11, y00, y10, y01, y11);
        AddFirst(rz, cells, s00, s10, s01, s11, z00, z10, z01, z11);
    }

    /// <summary>The coefficients of the seven products from the values at eight corners, eight times too large; that of 1 moves nothing.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    internal static void Forward<T>(T* u00, T* u10, T* u01, T* u11, out Vector256<T> m1, out Vector256<T> m2, out Vector256<T> m3, out Vector256<T> m12, out Vector256<T> m13, out Vector256<T> m23, out Vector256<T> m123)
        where T : unmanaged
    {
        Vector256<T> near = Vector256.Load(u00), far = Vector256.Load(u00 + 1);
        Vector256<T> sum00 = near + far, dif00 = far - near;
        (near, far) = (Vector256.Load(u10), Vector256.Load(u10 + 1));
        Vector256<T> sum10 = near + far, dif10 = far - near;
        (near, far) = (Vector256.Load(u01), Vector256.Load(u01 + 1));
        Vector256<T> sum01 = near + far, dif01 = far - near;
        (near, far) = (Vector256.Load(u11), Vector256.Load(u11 + 1));
        Vector256<T> sum11 = near + far, dif11 = far - near;
        Vector256<T> ss0 = sum00 + sum10, sd0 = sum10 - sum00, ds0 = dif00 + dif10, dd0 = dif10 - dif00;
        Vector256<T> ss1 = sum01 + sum11, sd1 = sum11 - sum01, ds1 = dif01 + dif11, dd1 = dif11 - dif01;
        m1 = ds0 + ds1;
        m2 = sd0 + sd1;
        m3 = ss1 - ss0;
        m12 = dd0 + dd1;
        m13 = ds1 - ds0;
        m23 = sd1 - sd0;
        m123 = dd1 - dd0;
    }

    /// <summary>Forces at the corners from those of the products (the transpose of <see cref="Forward"/>), added to four rows; the last is what the far corners of the vector before left over.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    internal static void Back<T>(Vector256<T> m1, Vector256<T> m2, Vector256<T> m3, Vector256<T> m12, Vector256<T> m13, Vector256<T> m23, Vector256<T> m123, T* r00, T* r10, T* r01, T* r11,
        ref Vector256<T> over00, ref Vector256<T> over10, ref Vector256<T> over01, ref Vector256<T> over11) where T : unmanaged
    {
        Vector256<T> ds0 = m1 - m13, ds1 = m1 + m13, sd0 = m2 - m23, sd1 = m2 + m23, dd0 = m12 - m123, dd1 = m12 + m123;
        AddRow(r00, -m3 - sd0, ds0 - dd0, ref over00);
        AddRow(r10, sd0 - m3, ds0 + dd0, ref over10);
        AddRow(r01, m3 - sd1, ds1 - dd1, ref over01);
        AddRow(r11, m3 + sd1, ds1 + dd1, ref over11);
    }

    /// <summary>Near corners get sum − difference; far corners sum + difference, one lane up. <paramref name="over"/> holds the far corners of the vector before, turned one lane: its lane 0 is wanted.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void AddRow<T>(T* row, Vector256<T> sum, Vector256<T> difference, ref Vector256<T> over) where T : unmanaged
    {
        Vector256<T> turned = TurnedUp(sum + difference);
        (Vector256.Load(row) + (sum - difference) + WithFirst(turned, over)).Store(row);
        over = turned;
    }

    internal static void AddFirst<T>(T* r, int cells, int s00, int s10, int s01, int s11, Vector256<T> over00, Vector256<T> over10, Vector256<T> over01, Vector256<T> over11) where T : unmanaged
    {
        AddOne(r + s00 + cells, over00);
        AddOne(r + s10 + cells, over10);
        AddOne(r + s01 + cells, over01);
        AddOne(r + s11 + cells, over11);
    }

    private static void AddOne<T>(T* at, Vector256<T> over) where T : unmanaged
    {
        if (typeof(T) == typeof(float)) *(float*)at += over.AsSingle().GetElement(0);
        else *(double*)at += over.AsDouble().GetElement(0);
    }

    /// <summary>Lane n becomes lane n + 1, the last lane 0.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector256<T> TurnedUp<T>(Vector256<T> v) where T : unmanaged
    {
        if (typeof(T) == typeof(float))
            return Vector256.Shuffle(v.AsSingle(), Vector256.Create(7, 0, 1, 2, 3, 4, 5, 6)).As<float, T>();
        return Vector256.Shuffle(v.AsDouble(), Vector256.Create(3L, 0, 1, 2)).As<double, T>();
    }

    /// <summary>Lane 0 of the second, all others of the first.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector256<T> WithFirst<T>(Vector256<T> v, Vector256<T> first) where T : unmanaged
    {
        if (typeof(T) == typeof(float))
            return Avx.IsSupported ? Avx.Blend(v.AsSingle(), first.AsSingle(), 1).As<float, T>() : Vector256.ConditionalSelect(Vector256.Create(-1, 0, 0, 0, 0, 0, 0, 0).As<int, T>(), first, v);
        return Avx.IsSupported ? Avx.Blend(v.AsDouble(), first.AsDouble(), 1).As<double, T>() : Vector256.ConditionalSelect(Vector256.Create(-1L, 0, 0, 0).As<long, T>(), first, v);
    }
}

/// <summary>A material's stiffness times h/16: what the coefficients of the products need (edge h of the cell, 1/8 from each transform, 2/h from each slope, h³ of volume).</summary>
internal readonly record struct BrickFactors(double K11, double K12, double K13, double K33, double K44, double K66)
{
    public static BrickFactors Of(Elastic c, double cellMm)
    {
        double s = cellMm / 16;
        return new(s * c.C11, s * c.C12, s * c.C13, s * c.C33, s * c.C44, s * c.C66);
    }

    /// <summary>The diagonal entry of a full cell along x and y, the same at every corner.</summary>
    public double DiagonalXY => (K11 + K66 + K44) * 16 / 9;

    /// <summary>The diagonal entry of a full cell along z.</summary>
    public double DiagonalZ => (K33 + K44 + K44) * 16 / 9;
}
