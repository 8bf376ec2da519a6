using System.Collections.Frozen;
using System.Globalization;
using Sparewright.Measure;
using Sparewright.Measure.Uncertainty;

namespace Sparewright.Reconcile.Nominals;

/// <summary>One even grid of lengths.</summary>
internal sealed record NominalGrid(double StepMm, double Weight, NominalForm Form, string Words);

/// <summary>A series of preferred numbers, in mm: its weight is spread as a grid's, each number having the half of the way to either neighbour.</summary>
internal sealed record NominalSeries(PreferredNumbers Numbers, double Weight, string Words);

/// <summary>A value's weight before it is compared with anything.</summary>
/// <param name="Weight">Of this value alone, as a share of one.</param>
/// <param name="Form">How a drawing says it.</param>
internal sealed record GridPoint(double Mm, double Weight, string Words, NominalForm Form = NominalForm.Millimetres);

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
        .GroupBy(row => row[0])
        .ToFrozenDictionary(g => g.Key, g => new NominalGrids(
            [.. g.Where(row => !IsSeries(row)).Select(row => new NominalGrid(Number(row[1]), Number(row[2]), FormOf(row[3]), row[4]))],
            [.. g.Where(IsSeries).Select(row => new NominalSeries(PreferredNumbers.Named(row[1]), Number(row[2]), row[4]))]));

    private readonly NominalGrid[] _grids;
    private readonly NominalSeries[] _series;

    private NominalGrids(NominalGrid[] grids, NominalSeries[] series) => (_grids, _series, NoneDensity) = (grids, series, (1 - grids.Sum(g => g.Weight) - series.Sum(s => s.Weight)) / StretchMm);

    /// <summary>All grids at once, for a single size of which nothing else is known.</summary>
    public static NominalGrids Mixed => Systems["mixed"];

    public static NominalGrids Metric => Systems["metric"];

    public static NominalGrids Inch => Systems["inch"];

    /// <summary>Density of "no round number", 1/mm.</summary>
    public double NoneDensity { get; }

    /// <summary>The points near a value that is known with a standard uncertainty, mm; a point on several grids is called by the first of them.</summary>
    public IReadOnlyList<GridPoint> Near(double mm, double u)
    {
        // Among so many points none is told from the others, and looking at all of them would take for ever.
        if (u > MostU) return [];
        var points = new List<GridPoint>();
        foreach (NominalGrid grid in _grids)
        {
            var (first, last) = Within(grid, mm, u);
            for (double k = first; k <= last; k++)
            {
                Add(new(k * grid.StepMm, grid.Weight * grid.StepMm / StretchMm, grid.Words, grid.Form));
            }
        }

        foreach (NominalSeries series in _series)
            foreach (var (at, spacing) in series.Numbers.Between(mm - Reach(u), mm + Reach(u)))
                Add(new(at, series.Weight * spacing / StretchMm, series.Words));
        return points;

        void Add(GridPoint point)
        {
            int same = points.FindIndex(p => Math.Abs(p.Mm - point.Mm) < 1e-7);
            if (same < 0) points.Add(point);
            else points[same] = points[same] with { Weight = points[same].Weight + point.Weight };
        }
    }

    /// <summary>How well the points foretell a value that is known with a standard uncertainty: the sum of their weights times the normal density there, 1/mm.</summary>
    public double Evidence(double mm, double u)
    {
        if (u > MostU) return 0;
        double sum = 0;
        foreach (NominalGrid grid in _grids)
        {
            var (first, last) = Within(grid, mm, u);
            double near = 0;
            for (double k = first; k <= last; k++) near += Normal.Density(mm - k * grid.StepMm, u);
            sum += grid.Weight * grid.StepMm / StretchMm * near;
        }

        foreach (NominalSeries series in _series)
            foreach (var (at, spacing) in series.Numbers.Between(mm - Reach(u), mm + Reach(u))) sum += series.Weight * spacing / StretchMm * Normal.Density(mm - at, u);
        return sum;
    }

    private static (double First, double Last) Within(NominalGrid grid, double mm, double u)
    {
        double reach = Reach(u);
        return (Math.Max(1, Math.Ceiling((mm - reach) / grid.StepMm)), Math.Floor((mm + reach) / grid.StepMm));
    }

    private static double Reach(double u) => Math.Max(FarthestInU * u, 1e-6);

    private static bool IsSeries(string[] row) => row[1].StartsWith('R');

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);

    private static NominalForm FormOf(string written) => written switch { "fraction" => NominalForm.InchFraction, "inch" => NominalForm.DecimalInches, _ => NominalForm.Millimetres };
}
