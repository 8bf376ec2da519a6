using Sparewright.Handover.PrintFiles.ThreeMf;
using Sparewright.Solid;

namespace Sparewright.Outside;

/// <summary>A washer of flat strips with everything a hand-over says about a part, for outside judges to look at.</summary>
internal static class PrintedPart
{
    public const double OuterMm = 9, InnerMm = 5, TallMm = 4;

    public static Mesh Washer(int sides = 64)
    {
        var points = new List<double>();
        var triangles = new List<int>();
        for (int k = 0; k < sides; k++)
        {
            double turn = 2 * Math.PI * k / sides, c = Math.Cos(turn), s = Math.Sin(turn);
            points.AddRange([OuterMm * c, OuterMm * s, 0, OuterMm * c, OuterMm * s, TallMm, InnerMm * c, InnerMm * s, 0, InnerMm * c, InnerMm * s, TallMm]);
            int a = 4 * k, b = 4 * ((k + 1) % sides);
            foreach (var (p, q, r, t) in new[] { (a, b, b + 1, a + 1), (a + 1, b + 1, b + 3, a + 3), (a + 3, b + 3, b + 2, a + 2), (a + 2, b + 2, b, a) })
                triangles.AddRange([p, q, r, p, r, t]);
        }

        return new([.. points], [.. triangles], new int[triangles.Count / 3], 0);
    }

    public static byte[] ThreeMf()
    {
        var label = new PartLabel("Washer", "A washer for outside judges.", "washer-1", new DateOnly(2026, 3, 9), "Sparewright 0.1.0", "as measured")
        {
            Designer = "A. Repairer",
            Cautions = ["It is not an approved spare part."],
        };
        using var stream = new MemoryStream();
        if (ThreeMfWriter.Write(stream, Washer(), label, OnePixel) is { } problem)
            throw new InvalidOperationException(problem.What);
        return stream.ToArray();
    }

    /// <summary>The smallest PNG there is.</summary>
    private static readonly byte[] OnePixel = Convert.FromBase64String("iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==");
}
