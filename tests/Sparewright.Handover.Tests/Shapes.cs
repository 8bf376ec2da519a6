using Sparewright.Solid;

namespace Sparewright.Handover.Tests;

/// <summary>Small meshes made by hand.</summary>
internal static class Shapes
{
    /// <summary>A box with its left-front-bottom corner at a place; mm.</summary>
    public static Mesh Box(double long_, double deep, double tall, double x = 0, double y = 0, double z = 0)
    {
        var points = new List<double>();
        foreach (double pz in new[] { z, z + tall })
        {
            foreach (double py in new[] { y, y + deep })
            {
                foreach (double px in new[] { x, x + long_ })
                    points.AddRange([px, py, pz]);
            }
        }

        int[] triangles =
        [
            0, 2, 1, 1, 2, 3, 4, 5, 6, 5, 7, 6, 0, 1, 4, 1, 5, 4,
            2, 6, 3, 3, 6, 7, 0, 4, 2, 2, 4, 6, 1, 3, 5, 3, 7, 5,
        ];
        return new([.. points], triangles, new int[12], 0);
    }

    /// <summary>A ring: an outer and an inner cylinder about the z axis, cut into flat strips.</summary>
    public static Mesh Ring(double outerRadius, double innerRadius, double tall, int sides)
    {
        var points = new List<double>();
        var triangles = new List<int>();
        for (int k = 0; k < sides; k++)
        {
            double turn = 2 * Math.PI * k / sides, c = Math.Cos(turn), s = Math.Sin(turn);
            points.AddRange([outerRadius * c, outerRadius * s, 0, outerRadius * c, outerRadius * s, tall]);
            points.AddRange([innerRadius * c, innerRadius * s, 0, innerRadius * c, innerRadius * s, tall]);
            int a = 4 * k, b = 4 * ((k + 1) % sides);
            Four(a, b, b + 1, a + 1);
            Four(a + 1, b + 1, b + 3, a + 3);
            Four(a + 3, b + 3, b + 2, a + 2);
            Four(a + 2, b + 2, b, a);
        }

        return new([.. points], [.. triangles], new int[triangles.Count / 3], 0);

        void Four(int a, int b, int c, int d) => triangles.AddRange([a, b, c, a, c, d]);
    }
}
