namespace Sparewright.Handover.PrintFiles;

/// <summary>What a print file holds, all lengths in mm and every placing already done.</summary>
/// <param name="Metadata">Name → text, as the file has them; empty for STL.</param>
/// <param name="Surfaces">One for each mesh that the file asks to be printed, in its order.</param>
public sealed record ReadShape(IReadOnlyDictionary<string, string> Metadata, IReadOnlyList<ReadSurface> Surfaces)
{
    /// <summary>Enclosed volume in mm³, surfaces added up.</summary>
    public double VolumeMm3 => Surfaces.Sum(surface => surface.VolumeMm3);

    public int TriangleCount => Surfaces.Sum(surface => surface.Triangles.Length / 3);
}

/// <summary>One surface of triangles; coordinates in mm, corners counter-clockwise seen from outside.</summary>
/// <param name="Points">x, y, z of each point, one after another.</param>
/// <param name="Triangles">Three point indices for each triangle.</param>
public sealed record ReadSurface(double[] Points, int[] Triangles)
{
    /// <summary>Enclosed volume in mm³ by the divergence theorem.</summary>
    public double VolumeMm3 => Triangles.Length == 0 ? 0 : SoundSurface.VolumeMm3(Points, Triangles);

    /// <summary>Area in mm².</summary>
    public double AreaMm2
    {
        get
        {
            double twice = 0;
            for (int t = 0; t < Triangles.Length; t += 3)
            {
                var (x, y, z) = SoundSurface.Normal(Points, Triangles[t], Triangles[t + 1], Triangles[t + 2]);
                twice += Math.Sqrt(x * x + y * y + z * z);
            }

            return twice / 2;
        }
    }

    /// <summary>Null when it is closed, oriented and without flat triangles; otherwise the first fault.</summary>
    public string? FirstFault() => SoundSurface.FirstFault(Points, Triangles);
}
