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

    /// <param name="own">The diagonal of the cells alone at each corner that a spring pulls, by slot.</param>
    /// <param name="inverse">1 / diagonal as the smoothing uses it; 0 where nothing moves.</param>
    public static CornerBlock[] Corrections(GroundSpring[] springs, Dictionary<int, (float X, float Y, float Z)> own, ReadOnlySpan<float> inverse)
    {
        int slots = inverse.Length / 3;
        var blocks = new Dictionary<int, double[]>();
        foreach (GroundSpring s in springs)
        {
            // A spring's matrix over its corners is no larger than these blocks together (Cauchy and Schwarz), so the bound of the eigenvalues stays.
            double sum = s.Corners.Sum(c => Math.Abs(c.Weight));
            foreach (var (slot, weight) in s.Corners)
            {
                if (!blocks.TryGetValue(slot, out double[]? block)) blocks[slot] = block = new double[6];
                double k = s.Stiffness * sum * Math.Abs(weight);
                block[0] += k * s.X * s.X;
                block[1] += k * s.Y * s.Y;
                block[2] += k * s.Z * s.Z;
                block[3] += k * s.Y * s.Z;
                block[4] += k * s.X * s.Z;
                block[5] += k * s.X * s.Y;
            }
        }

        var corrections = new List<CornerBlock>();
        foreach (int slot in blocks.Keys.Order())
        {
            double[] m = blocks[slot];
            double ix = inverse[slot], iy = inverse[slots + slot], iz = inverse[2 * slots + slot];
            // What does not move anyway counts as endlessly stiff, without a link to the rest.
            double a = ix == 0 ? 1 : m[0] + own[slot].X, b = iy == 0 ? 1 : m[1] + own[slot].Y, c = iz == 0 ? 1 : m[2] + own[slot].Z;
            double yz = iy == 0 || iz == 0 ? 0 : m[3], xz = ix == 0 || iz == 0 ? 0 : m[4], xy = ix == 0 || iy == 0 ? 0 : m[5];
            double det = a * (b * c - yz * yz) - xy * (xy * c - yz * xz) + xz * (xy * yz - b * xz);
            double xx = (b * c - yz * yz) / det, yy = (a * c - xz * xz) / det, zz = (a * b - xy * xy) / det;
            corrections.Add(new(slot, ix == 0 ? 0 : (float)(xx - ix), iy == 0 ? 0 : (float)(yy - iy), iz == 0 ? 0 : (float)(zz - iz),
                (float)((xy * xz - a * yz) / det), (float)((xy * yz - b * xz) / det), (float)((xz * yz - c * xy) / det)));
        }

        return [.. corrections];
    }
}
