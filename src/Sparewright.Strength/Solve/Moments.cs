namespace Sparewright.Strength.Solve;

/// <summary>
/// How solid lies in a cell: the means of ξᵃ ηᵇ ζᶜ over the cell, zero where no solid is, with a, b, c = 0, 1, 2 and ξ, η, ζ from −1 to 1 across it. The mean of 1 is the solid share.
/// A trilinear cell's stiffness needs no more: its strains' products go no higher.
/// </summary>
internal static class Moments
{
    public const int Count = 27;

    /// <summary>Where the mean of ξᵃ ηᵇ ζᶜ stands.</summary>
    public static int At(int a, int b, int c) => a + 3 * b + 9 * c;

    /// <summary>That mean over a full cell.</summary>
    public static float OfFull(int at) => OfLine(at % 3) * OfLine(at / 3 % 3) * OfLine(at / 9);

    private static float OfLine(int power) => power switch { 0 => 1, 1 => 0, _ => 1f / 3 };

    /// <summary>Adds one of the eight cells within a cell twice as long. <paramref name="child"/> tells which: x 1, y 2, z 4 for the far side.</summary>
    public static void AddChild(ReadOnlySpan<float> moments, int child, Span<float> parent)
    {
        Span<float> along = stackalloc float[Count];
        moments.CopyTo(along);
        for (int axis = 0, stride = 1; axis < 3; axis++, stride *= 3)
        {
            // ξ of the parent is (ξ ± 1) / 2.
            float side = (child >> axis & 1) == 0 ? -1 : 1;
            for (int at = 0; at < Count; at++)
            {
                if (at / stride % 3 != 0) continue;
                float m0 = along[at], m1 = along[at + stride], m2 = along[at + 2 * stride];
                along[at + stride] = (m1 + side * m0) / 2;
                along[at + 2 * stride] = (m2 + 2 * side * m1 + m0) / 4;
            }
        }

        for (int at = 0; at < Count; at++) parent[at] += along[at] / 8;
    }

    /// <summary>Whether solid is spread evenly, so that the share says it all.</summary>
    public static bool IsEven(ReadOnlySpan<float> moments)
    {
        const float rounding = 1e-6f;
        for (int at = 1; at < Count; at++)
            if (Math.Abs(moments[at] - moments[0] * OfFull(at)) > rounding) return false;
        return true;
    }
}

/// <summary>Moments of those cells of a grid over which solid is not spread evenly.</summary>
/// <param name="At">For each cell, x fastest, where its moments start in <paramref name="Values"/>; −1 where its share says it all.</param>
/// <param name="Values"><see cref="Moments.Count"/> numbers a cell.</param>
internal sealed record CellMoments(int[] At, float[] Values)
{
    public ReadOnlySpan<float> Of(int cell) => Values.AsSpan(At[cell], Moments.Count);
}
