using Sparewright.Measure.Numbers;
using Sparewright.Part.Sizes;

namespace Sparewright.Reconcile.Readings;

/// <summary>A height as a job writes it, in its sizes: "base_t + 2*step".</summary>
internal static class HeightInSizes
{
    /// <summary>Slopes are taken as whole eighths; what is none is no plain sum of sizes.</summary>
    private const double Fraction = 8, Nearly = 1e-6;

    /// <summary>Null where it is no sum of multiples of sizes.</summary>
    /// <param name="sizes">All sizes of the shape with their derivatives, by which a free one is told.</param>
    public static SizeExpression? Of(Dual height, IReadOnlyDictionary<string, Dual> sizes)
    {
        SizeExpression? sum = null;
        double rest = height.Value;
        for (int k = 0; k < height.Gradient.Unknowns.Length; k++)
        {
            double slope = Math.Round(height.Gradient.Derivatives[k] * Fraction) / Fraction;
            if (Math.Abs(slope - height.Gradient.Derivatives[k]) > Nearly) return null;
            if (slope == 0) continue;
            int unknown = height.Gradient.Unknowns[k];
            string name = sizes.Where(s => IsUnknown(s.Value, unknown)).Select(s => s.Key).Order(StringComparer.Ordinal).First();
            rest -= slope * sizes[name].Value;
            SizeExpression term = Math.Abs(slope) == 1 ? new SizeExpression.Name(name) : new SizeExpression.Binary('*', Math.Abs(slope), new SizeExpression.Name(name));
            sum = sum is null ? slope < 0 ? new SizeExpression.Negative(term) : term : new SizeExpression.Binary(slope < 0 ? '-' : '+', sum, term);
        }

        rest = Math.Round(rest, 4);
        if (sum is null) return rest;
        return rest == 0 ? sum : new SizeExpression.Binary(rest < 0 ? '-' : '+', sum, Math.Abs(rest));
    }

    private static bool IsUnknown(Dual size, int unknown) => size.Gradient.Unknowns.Length == 1 && size.Gradient.Unknowns[0] == unknown && size.Gradient.Derivatives[0] == 1;
}
