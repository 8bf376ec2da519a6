using System.Buffers.Binary;
using System.Diagnostics.CodeAnalysis;
using System.Globalization;
using System.Text;
using Sparewright.Part;
using Sparewright.Solid;

namespace Sparewright.Handover.PrintFiles;

/// <summary>
/// Binary STL: an 80-byte remark, a count, and 50 bytes for each triangle, all little-endian single precision.
/// The format knows no unit; ours is the millimetre, in the part's own coordinates, and the remark and the file name say so.
/// </summary>
public static class Stl
{
    private const int HeaderBytes = 80;
    private const int StartBytes = HeaderBytes + 4;
    private const int TriangleBytes = 50;

    /// <summary>The largest file that will be read: 64 MiB.</summary>
    public const int MostBytes = 64 << 20;

    /// <summary>Length in bytes of a file of so many triangles.</summary>
    public static long LengthOf(int triangles) => StartBytes + (long)TriangleBytes * triangles;

    /// <summary>Writes the mesh, or says why its surface is not sound once rounded to single precision.</summary>
    /// <param name="remark">Goes into the header after "Sparewright, mm"; letters outside ASCII become "?".</param>
    public static Problem? Write(Stream stream, Mesh mesh, string remark)
    {
        var points = Array.ConvertAll(mesh.Points, value => (double)(float)value);
        if (SoundSurface.FirstFault(points, mesh.Triangles) is { } fault)
            return new(Place.None, $"the mesh cannot be written as STL: {fault}", "mesh the solid with a larger chord error, or use the 3MF file, which keeps more digits");

        var bytes = new byte[LengthOf(mesh.TriangleCount)];
        string header = $"Sparewright, mm, {remark}";
        // Some readers take a file that starts with "solid" for the text form; ours starts with our name.
        Encoding.ASCII.GetBytes(header.AsSpan(0, Math.Min(header.Length, HeaderBytes)), bytes);
        BinaryPrimitives.WriteInt32LittleEndian(bytes.AsSpan(HeaderBytes), mesh.TriangleCount);

        var at = bytes.AsSpan(StartBytes);
        for (int t = 0; t < mesh.Triangles.Length; t += 3, at = at[TriangleBytes..])
        {
            var (nx, ny, nz) = SoundSurface.Normal(points, mesh.Triangles[t], mesh.Triangles[t + 1], mesh.Triangles[t + 2]);
            double length = Math.Sqrt(nx * nx + ny * ny + nz * nz);
            WriteThree(at, nx / length, ny / length, nz / length);
            for (int k = 0; k < 3; k++)
            {
                int p = 3 * mesh.Triangles[t + k];
                WriteThree(at[(12 + 12 * k)..], points[p], points[p + 1], points[p + 2]);
            }
        }

        stream.Write(bytes);
        return null;
    }

    private static void WriteThree(Span<byte> at, double x, double y, double z)
    {
        BinaryPrimitives.WriteSingleLittleEndian(at, (float)x);
        BinaryPrimitives.WriteSingleLittleEndian(at[4..], (float)y);
        BinaryPrimitives.WriteSingleLittleEndian(at[8..], (float)z);
    }

    /// <summary>
    /// Reads a binary STL file of any origin, taking its numbers for millimetres. Corners with the very same coordinates become one point;
    /// triangles that have two corners in one point enclose nothing and are left out.
    /// </summary>
    public static bool TryRead(ReadOnlySpan<byte> file, [NotNullWhen(true)] out ReadShape? shape, [NotNullWhen(false)] out Problem? problem)
    {
        shape = null;
        problem = Refusal(file);
        if (problem is not null)
            return false;

        int count = BinaryPrimitives.ReadInt32LittleEndian(file[HeaderBytes..]);
        var points = new List<double>();
        var triangles = new List<int>(3 * count);
        var known = new Dictionary<(float, float, float), int>();
        Span<int> corner = stackalloc int[3];
        for (int t = 0; t < count; t++)
        {
            var at = file.Slice(StartBytes + TriangleBytes * t, TriangleBytes);
            for (int k = 0; k < 3; k++)
            {
                var (x, y, z) = (ReadOne(at, 3 * k + 3), ReadOne(at, 3 * k + 4), ReadOne(at, 3 * k + 5));
                if (!float.IsFinite(x) || !float.IsFinite(y) || !float.IsFinite(z))
                {
                    problem = new(Place.None, string.Create(CultureInfo.InvariantCulture, $"triangle {t} has a coordinate that is not a finite number"), "have the file written again by the program that made it");
                    return false;
                }

                // −0 and 0 are one place.
                var place = (x + 0f, y + 0f, z + 0f);
                if (!known.TryGetValue(place, out corner[k]))
                {
                    known.Add(place, corner[k] = points.Count / 3);
                    points.AddRange([place.Item1, place.Item2, place.Item3]);
                }
            }

            if (corner[0] != corner[1] && corner[1] != corner[2] && corner[2] != corner[0])
                triangles.AddRange(corner);
        }

        shape = new(new Dictionary<string, string>(), [new([.. points], [.. triangles])]);
        return true;
    }

    private static float ReadOne(ReadOnlySpan<byte> triangle, int number) => BinaryPrimitives.ReadSingleLittleEndian(triangle[(4 * number)..]);

    private static Problem? Refusal(ReadOnlySpan<byte> file)
    {
        if (file.Length > MostBytes)
            return new(Place.None, "the file is larger than 64 MiB", "have it written with fewer triangles");
        if (file.Length < StartBytes)
            return new(Place.None, "the file is too short for a binary STL file", "check that it was copied whole");
        uint count = BinaryPrimitives.ReadUInt32LittleEndian(file[HeaderBytes..]);
        if (file.Length == StartBytes + TriangleBytes * (long)count)
            return count == 0 ? new(Place.None, "the file holds no triangles", "check that it is the right file") : null;
        if (file.StartsWith("solid"u8))
            return new(Place.None, "this is an STL file in its text form", "have it written in the binary form");
        return new(
            Place.None,
            string.Create(CultureInfo.InvariantCulture, $"the file says {count} triangles, which takes {StartBytes + TriangleBytes * (long)count} bytes, but it has {file.Length}"),
            "check that it was copied whole");
    }
}
