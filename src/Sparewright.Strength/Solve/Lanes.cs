using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace Sparewright.Strength.Solve;

/// <summary>Vectors of either precision.</summary>
internal static unsafe class Lanes
{
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector256<T> All<T>(double value) where T : unmanaged =>
        typeof(T) == typeof(float) ? Vector256.Create((float)value).As<float, T>() : Vector256.Create(value).As<double, T>();

    /// <summary>As many single numbers as the vector has lanes.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector256<T> Widened<T>(float* at) where T : unmanaged => typeof(T) == typeof(float)
        ? Vector256.Load(at).As<float, T>()
        : Vector256.WidenLower(Vector128.Load(at).ToVector256()).As<double, T>();

    /// <summary>a · b + sum, with one rounding where the machine can.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector256<T> AddProduct<T>(Vector256<T> a, Vector256<T> b, Vector256<T> sum) where T : unmanaged => typeof(T) == typeof(float)
        ? Vector256.MultiplyAddEstimate(a.AsSingle(), b.AsSingle(), sum.AsSingle()).As<float, T>()
        : Vector256.MultiplyAddEstimate(a.AsDouble(), b.AsDouble(), sum.AsDouble()).As<double, T>();
}
