namespace Sparewright.Reconcile.Nominals;

/// <summary>How the values on a drawing became those of a part: the grids in which the designer chose them, and the share by which the part shrank since, in its mould.</summary>
/// <param name="Shrink">0 where it did not.</param>
internal sealed record DesignSystem(NominalGrids Grids, double Shrink)
{
    public bool IsShrunk => Shrink > 0;

    private double Scale => 1 - Shrink;

    /// <summary>Density of "no round number" among the sizes of the part, 1/mm.</summary>
    public double NoneDensity => Grids.NoneDensity / Scale;

    /// <summary>The points near a size of the part; their values are those of the part.</summary>
    public IReadOnlyList<GridPoint> Near(double mm, double u)
    {
        IReadOnlyList<GridPoint> points = Grids.Near(mm / Scale, u / Scale);
        return IsShrunk ? [.. points.Select(p => p with { Mm = p.Mm * Scale })] : points;
    }

    /// <inheritdoc cref="NominalGrids.Evidence"/>
    public double Evidence(double mm, double u) => Grids.Evidence(mm / Scale, u / Scale) / Scale;
}
