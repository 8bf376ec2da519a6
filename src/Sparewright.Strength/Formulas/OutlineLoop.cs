namespace Sparewright.Strength.Formulas;

/// <summary>A closed line of a section's outline, its pieces in order, the material on their left.</summary>
internal sealed record OutlineLoop(IReadOnlyList<OutlinePiece> Pieces)
{
    /// <summary>Ends so near each other are one, mm.</summary>
    private const double One = 1e-6;

    public double LengthMm { get; } = Pieces.Sum(p => p.LengthMm);

    /// <summary>What it goes around.</summary>
    public double AreaMm2 { get; } = Math.Abs(Pieces.Sum(p => p.U * p.AlongV - p.V * p.AlongU)) / 2;

    /// <summary>The loops of a section; nothing where its pieces do not close.</summary>
    public static IReadOnlyList<OutlineLoop> Of(CrossSection cut)
    {
        List<OutlinePiece> left = [.. cut.Outline.Where(p => p.LengthMm > One)];
        var loops = new List<OutlineLoop>();
        while (left.Count > 0)
        {
            List<OutlinePiece> loop = [left[^1]];
            left.RemoveAt(left.Count - 1);
            while (Gap(loop[^1], loop[0]) > One)
            {
                int next = left.FindIndex(p => Gap(loop[^1], p) < 2 * One);
                if (next < 0) return [];
                loop.Add(left[next]);
                left.RemoveAt(next);
            }

            loops.Add(new(loop));
        }

        return loops;
    }

    /// <summary>
    /// How an open thin-walled section resists warping, mm⁶ (Vlasov, Thin-Walled Elastic Beams, from memory): ∫ω² dA. Along the surface ω changes by the shear there, which for a twist of one is the wall's thickness, less
    /// what a ray from the centroid sweeps; a shift and a tilt of the section do not count. What turns over within a wall is taken as at its surface, so that a narrow rectangle is told three times too much.
    /// </summary>
    /// <param name="walls">The pieces that have a wall behind them, with its thickness.</param>
    public double WarpingMm6(IReadOnlyList<(OutlinePiece Piece, double ThickMm)> walls)
    {
        var thick = walls.ToDictionary(w => w.Piece, w => w.ThickMm);
        var points = new List<(double Area, double[] Of, double Swept)>();
        double swept = 0;
        foreach (OutlinePiece p in Pieces)
        {
            double by = p.U * p.AlongV - p.V * p.AlongU;
            if (thick.TryGetValue(p, out double t))
            {
                by -= t * p.LengthMm;
                points.Add((t * p.LengthMm / 2, [1, p.U, p.V], swept + by / 2));
            }

            swept += by;
        }

        // The least squares' normal equations in three unknowns, by elimination.
        var m = new double[3, 4];
        foreach (var (area, of, at) in points)
            for (int r = 0; r < 3; r++)
            {
                for (int c = 0; c < 3; c++) m[r, c] += area * of[r] * of[c];
                m[r, 3] += area * of[r] * at;
            }

        for (int k = 0; k < 3; k++)
            for (int r = 0; r < 3; r++)
            {
                if (r == k || Math.Abs(m[k, k]) < 1e-12) continue;
                double times = m[r, k] / m[k, k];
                for (int c = k; c < 4; c++) m[r, c] -= times * m[k, c];
            }

        double[] fit = [.. Enumerable.Range(0, 3).Select(k => Math.Abs(m[k, k]) < 1e-12 ? 0 : m[k, 3] / m[k, k])];
        return points.Sum(p => p.Area * Math.Pow(p.Swept - fit[0] - fit[1] * p.Of[1] - fit[2] * p.Of[2], 2));
    }

    private static double Gap(OutlinePiece one, OutlinePiece next) =>
        Math.Max(Math.Abs(one.U + one.AlongU / 2 - next.U + next.AlongU / 2), Math.Abs(one.V + one.AlongV / 2 - next.V + next.AlongV / 2));
}
