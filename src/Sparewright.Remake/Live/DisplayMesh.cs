using System.Buffers.Binary;
using System.Runtime.InteropServices;
using Sparewright.Solid;

namespace Sparewright.Remake.Live;

/// <summary>
/// A mesh made ready for drawing: each face has points of its own with the exact normals of its surface, and the lines are there that a drawing office would draw.
/// Little-endian: "SPM1", five counts (uint32), then the blocks in the order of the properties.
/// </summary>
public sealed class DisplayMesh
{
    /// <summary>Which form of bytes this is; another number when they change, so that what browsers have kept is not mistaken for it.</summary>
    public const int Form = 1;

    /// <summary>Faces that meet at less than this run smoothly into each other, degrees.</summary>
    private const double SmoothDegrees = 4;

    private static readonly double SmoothCosine = Math.Cos(SmoothDegrees * Math.PI / 180);

    private readonly List<float> _points = [], _normals = [];
    private readonly List<int> _sharp = [], _smooth = [], _turning = [];
    private readonly int[] _triangles, _faceOfTriangle;

    private DisplayMesh(Mesh mesh, IReadOnlyList<SolidFace> faces)
    {
        (_triangles, _faceOfTriangle) = (new int[mesh.Triangles.Length], mesh.FaceOfTriangle);
        SplitByFace(mesh, faces);
        FindLines(mesh, faces);
    }

    /// <summary>x, y, z, mm.</summary>
    public IReadOnlyList<float> Points => _points;

    /// <summary>Outward unit normals.</summary>
    public IReadOnlyList<float> Normals => _normals;

    /// <summary>Three points a triangle, counter-clockwise seen from outside.</summary>
    public IReadOnlyList<int> Triangles => _triangles;

    /// <summary>Index into the solid's face table for each triangle.</summary>
    public IReadOnlyList<int> FaceOfTriangle => _faceOfTriangle;

    /// <summary>Two points a piece of edge, where faces meet at an angle.</summary>
    public IReadOnlyList<int> SharpEdges => _sharp;

    /// <summary>Two points a piece of edge, where one face runs into the next.</summary>
    public IReadOnlyList<int> SmoothEdges => _smooth;

    /// <summary>Two points and the two triangles beside them, wherever a round face may turn away from the eye.</summary>
    public IReadOnlyList<int> TurningEdges => _turning;

    public static DisplayMesh Of(PartInView part) => Of(part.Mesh, part.Solid.Faces);

    /// <param name="faces">The table in which the mesh counts its faces.</param>
    public static DisplayMesh Of(Mesh mesh, IReadOnlyList<SolidFace> faces) => new(mesh, faces);

    /// <summary>As it goes over the wire.</summary>
    public byte[] ToBytes()
    {
        int[] counts = [_points.Count / 3, _faceOfTriangle.Length, _sharp.Count / 2, _smooth.Count / 2, _turning.Count / 4];
        var bytes = new byte[4 + 4 * counts.Length + 4 * (_points.Count + _normals.Count + _triangles.Length + _faceOfTriangle.Length + _sharp.Count + _smooth.Count + _turning.Count)];
        "SPM1"u8.CopyTo(bytes);
        int at = 4;
        Write<int>(counts);
        Write<float>(CollectionsMarshal.AsSpan(_points));
        Write<float>(CollectionsMarshal.AsSpan(_normals));
        Write<int>(_triangles);
        Write<int>(_faceOfTriangle);
        Write<int>(CollectionsMarshal.AsSpan(_sharp));
        Write<int>(CollectionsMarshal.AsSpan(_smooth));
        Write<int>(CollectionsMarshal.AsSpan(_turning));
        return bytes;

        void Write<T>(ReadOnlySpan<T> values) where T : struct
        {
            ReadOnlySpan<int> words = MemoryMarshal.Cast<T, int>(values);
            Span<byte> to = bytes.AsSpan(at, 4 * words.Length);
            if (BitConverter.IsLittleEndian) MemoryMarshal.AsBytes(words).CopyTo(to);
            else
                for (int k = 0; k < words.Length; k++) BinaryPrimitives.WriteInt32LittleEndian(to[(4 * k)..], words[k]);
            at += to.Length;
        }
    }

    private void SplitByFace(Mesh mesh, IReadOnlyList<SolidFace> faces)
    {
        var own = new Dictionary<(int Point, int Face), int>(mesh.PointCount * 2);
        for (int corner = 0; corner < mesh.Triangles.Length; corner++)
        {
            int point = mesh.Triangles[corner], face = mesh.FaceOfTriangle[corner / 3];
            if (!own.TryGetValue((point, face), out int index))
            {
                own[(point, face)] = index = own.Count;
                Point3 p = PointOf(mesh, point);
                Add(_points, p);
                Add(_normals, NormalOf(faces[face], p) ?? default);
            }

            _triangles[corner] = index;
        }

        AverageWhereThereIsNoFormula(mesh);
    }

    private void AverageWhereThereIsNoFormula(Mesh mesh)
    {
        var sums = new Dictionary<int, Point3>();
        for (int corner = 0; corner < _triangles.Length; corner++)
        {
            int index = _triangles[corner];
            if (_normals[3 * index] != 0 || _normals[3 * index + 1] != 0 || _normals[3 * index + 2] != 0) continue;
            sums[index] = sums.GetValueOrDefault(index) + Flat(mesh, corner / 3);
        }

        foreach ((int index, Point3 sum) in sums)
        {
            Point3 unit = Unit(sum) ?? new(0, 0, 1);
            (_normals[3 * index], _normals[3 * index + 1], _normals[3 * index + 2]) = ((float)unit.X, (float)unit.Y, (float)unit.Z);
        }
    }

    private void FindLines(Mesh mesh, IReadOnlyList<SolidFace> faces)
    {
        // Each edge of the closed mesh comes twice; sorted, the two lie beside each other.
        var edges = new (ulong Key, int Corner)[mesh.Triangles.Length];
        for (int corner = 0; corner < edges.Length; corner++)
        {
            uint a = (uint)mesh.Triangles[corner], b = (uint)mesh.Triangles[Next(corner)];
            edges[corner] = (a < b ? (ulong)a << 32 | b : (ulong)b << 32 | a, corner);
        }

        Array.Sort(edges, (x, y) => x.Key != y.Key ? x.Key.CompareTo(y.Key) : x.Corner.CompareTo(y.Corner));
        for (int k = 0; k + 1 < edges.Length; k++)
        {
            if (edges[k].Key != edges[k + 1].Key) continue;
            int one = edges[k].Corner, other = edges[++k].Corner;
            int face = mesh.FaceOfTriangle[one / 3], beyond = mesh.FaceOfTriangle[other / 3];
            int from = _triangles[one], to = _triangles[Next(one)];
            bool smooth = true;
            if (face != beyond)
            {
                // The other triangle runs along the edge the other way.
                smooth = Agree(from, _triangles[Next(other)]) && Agree(to, _triangles[other]);
                List<int> lines = smooth ? _smooth : _sharp;
                lines.Add(from);
                lines.Add(to);
            }

            if (smooth && (face != beyond || faces[face].Kind != SurfaceKind.Plane)) _turning.AddRange([from, to, one / 3, other / 3]);
        }
    }

    private bool Agree(int one, int other) =>
        _normals[3 * one] * _normals[3 * other] + _normals[3 * one + 1] * _normals[3 * other + 1] + _normals[3 * one + 2] * _normals[3 * other + 2] > SmoothCosine;

    private static int Next(int corner) => corner % 3 == 2 ? corner - 2 : corner + 1;

    /// <summary>The outward normal of the exact surface at a point; null where the surface has no formula, or no one normal there.</summary>
    private static Point3? NormalOf(SolidFace face, Point3 p)
    {
        Point3 from = p - face.Origin;
        double along = Point3.Dot(from, face.Direction);
        Point3 outward = from - face.Direction * along;
        Point3? normal = face.Kind switch
        {
            SurfaceKind.Plane => face.Direction,
            SurfaceKind.Cylinder => Unit(outward),
            SurfaceKind.Cone when Unit(outward) is { } radial => radial * Math.Cos(face.HalfAngleDegrees * Math.PI / 180) - face.Direction * Math.Sin(face.HalfAngleDegrees * Math.PI / 180),
            SurfaceKind.Sphere => Unit(from),
            SurfaceKind.Torus when Unit(outward) is { } radial => Unit(from - radial * face.RadiusMm),
            _ => null,
        };
        return face.Kind == SurfaceKind.Plane || face.Bulges || normal is not { } inward ? normal : inward * -1;
    }

    private static Point3 Flat(Mesh mesh, int triangle)
    {
        Point3 a = PointOf(mesh, mesh.Triangles[3 * triangle]), b = PointOf(mesh, mesh.Triangles[3 * triangle + 1]), c = PointOf(mesh, mesh.Triangles[3 * triangle + 2]);
        return Point3.Cross(b - a, c - a);
    }

    private static Point3 PointOf(Mesh mesh, int point) => new(mesh.Points[3 * point], mesh.Points[3 * point + 1], mesh.Points[3 * point + 2]);

    private static Point3? Unit(Point3 v) => v.Length is var length && length > 1e-9 ? v * (1 / length) : null;

    private static void Add(List<float> to, Point3 p)
    {
        to.Add((float)p.X);
        to.Add((float)p.Y);
        to.Add((float)p.Z);
    }
}
