using System.Runtime.InteropServices;

namespace Sparewright.Strength.Solve;

/// <summary>
/// At a corner that a stiff slanting spring pulls, the diagonal alone would make every direction look as stiff as the spring's own. This is the inverse of the corner's 3 × 3 block less the
/// inverse of the diagonal: added to a smoothing step it leaves the other directions as soft as they are.
/// </summary>
internal readonly record struct CornerBlock(int Slot, float XX, float YY, float ZZ, float YZ, float XZ, float XY)
{
    /// <summary>d and x get take · block · (b − k) more.</summary>
    public void Step(float take, int slots, Span<float> b, Span<float> k, Span<float> d, Span<float> x)
    {
        int v = slots + Slot, w = 2 * slots + Slot;
        float rx = take * (b[Slot] - k[Slot]), ry = take * (b[v] - k[v]), rz = take * (b[w] - k[w]);
        float dx = XX * rx + XY * ry + XZ * rz, dy = XY * rx + YY * ry + YZ * rz, dz = XZ * rx + YZ * ry + ZZ * rz;
        d[Slot] += dx;
        d[v] += dy;
        d[w] += dz;
        x[Slot] += dx;
        x[v] += dy;
        x[w] += dz;
    }

    /// <param name="own">The diagonal of the cells alone, all x, all y, all z.</param>
    /// <param name="inverse">1 / diagonal as the smoothing uses it; 0 where nothing moves.</param>
    public static CornerBlock[] Corrections(GroundSpring[] springs, ReadOnlySpan<float> own, ReadOnlySpan<float> inverse)
    {
        int slots = inverse.Length / 3;
        var blocks = new Dictionary<int, (double XX, double YY, double ZZ, double YZ, double XZ, double XY)>();
        foreach (GroundSpring s in springs)
        {
            // A spring's matrix over its corners is no larger than these blocks together (Cauchy and Schwarz), so the bound of the eigenvalues stays.
            double sum = 0;
            foreach (var (_, weight) in s.Corners) sum += Math.Abs(weight);
            foreach (var (slot, weight) in s.Corners)
            {
                ref var block = ref CollectionsMarshal.GetValueRefOrAddDefault(blocks, slot, out _);
                double k = s.Stiffness * sum * Math.Abs(weight);
                block.XX += k * s.X * s.X;
                block.YY += k * s.Y * s.Y;
                block.ZZ += k * s.Z * s.Z;
                block.YZ += k * s.Y * s.Z;
                block.XZ += k * s.X * s.Z;
                block.XY += k * s.X * s.Y;
            }
        }

        var corrections = new List<CornerBlock>();
        foreach (int slot in blocks.Keys.Order())
        {
            var m = blocks[slot];
            double ix = inverse[slot], iy = inverse[slots + slot], iz = inverse[2 * slots + slot];
            // What does not move anyway counts as endlessly stiff, without a link to the rest.
            double a = ix == 0 ? 1 : m.XX + own[slot], b = iy == 0 ? 1 : m.YY + own[slots + slot], c = iz == 0 ? 1 : m.ZZ + own[2 * slots + slot];
            double yz = iy == 0 || iz == 0 ? 0 : m.YZ, xz = ix == 0 || iz == 0 ? 0 : m.XZ, xy = ix == 0 || iy == 0 ? 0 : m.XY;
            double det = a * (b * c - yz * yz) - xy * (xy * c - yz * xz) + xz * (xy * yz - b * xz);
            double xx = (b * c - yz * yz) / det, yy = (a * c - xz * xz) / det, zz = (a * b - xy * xy) / det;
            corrections.Add(new(slot, ix == 0 ? 0 : (float)(xx - ix), iy == 0 ? 0 : (float)(yy - iy), iz == 0 ? 0 : (float)(zz - iz),
                (float)((xy * xz - a * yz) / det), (float)((xy * yz - b * xz) / det), (float)((xz * yz - c * xy) / det)));
        }

        return [.. corrections];
    }
}
