using System.Collections.Frozen;
using System.Globalization;
using Sparewright.Measure;

namespace Sparewright.Reconcile.Nominals;

/// <summary>One even grid of lengths.</summary>
internal sealed record NominalGrid(double StepMm, double Weight, string Words);

/// <summary>A value's weight before it is compared with anything.</summary>
/// <param name="Weight">Of this value alone, as a share of one.</param>
internal sealed record GridPoint(double Mm, double Weight, string Words);

/// <summary>
/// What designers choose, as odds: each grid's weight is spread evenly over the points within 5 mm of where one looks, a point on several grids gathers their weights,
/// the rest is an even density of "no round number". (Bayes' rule with this prior; see Data/nominal-grids.csv.)
/// </summary>
internal sealed class NominalGrids
{
    /// <summary>The stretch over which weights are spread, mm.</summary>
    private const double StretchMm = 10;

    /// <summary>A value that is known no better than this (mm) says nothing of what was meant.</summary>
    private const double MostU = 10;

    /// <summary>Candidates farther away than this many standard uncertainties are none.</summary>
    private const double FarthestInU = 6;

    private static readonly FrozenDictionary<string, NominalGrids> Systems = DataTable.Rows(typeof(NominalGrids), "nominal-grids.csv")
        .GroupBy(row => row[0], row => new NominalGrid(double.Parse(row[1], CultureInfo.InvariantCulture), double.Parse(row[2], CultureInfo.InvariantCulture), row[3]))
        .ToFrozenDictionary(g => g.Key, g => new NominalGrids([.. g]));

    private readonly NominalGrid[] _grids;

    private NominalGrids(NominalGrid[] grids) => _grids = grids;

    /// <summary>All grids at once, for a single size of which nothing else is known.</summary>
    public static NominalGrids Mixed => Systems["mixed"];

    public static NominalGrids Metric => Systems["metric"];

    public static NominalGrids Inch => Systems["inch"];

    /// <summary>Density of "no round number", 1/mm.</summary>
    public double NoneDensity => (1 - _grids.Sum(g => g.Weight)) / StretchMm;

    /// <summary>The points near a value that is known with a standard uncertainty, mm; a point on several grids is called by the first of them.</summary>
    public IReadOnlyList<GridPoint> Near(double mm, double u)
    {
        // Among so many points none is told from the others, and looking at all of them would take for ever.
        if (u > MostU) return [];
        double reach = Math.Max(FarthestInU * u, 1e-6);
        var points = new List<GridPoint>();
        foreach (NominalGrid grid in _grids)
            for (double k = Math.Max(1, Math.Ceiling((mm - reach) / grid.StepMm)); k * grid.StepMm <= mm + reach; k++)
            {
                double at = k * grid.StepMm, weight = grid.Weight * grid.StepMm / StretchMm;
                int same = points.FindIndex(p => Math.Abs(p.Mm - at) < 1e-7);
                if (same < 0) points.Add(new(at, weight, grid.Words));
                else points[same] = points[same] with { Weight = points[same].Weight + weight };
            }

        return points;
    }
}
