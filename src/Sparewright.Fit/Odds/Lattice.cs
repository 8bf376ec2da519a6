using System.Globalization;
using Sparewright.Measure;

namespace Sparewright.Fit.Odds;

/// <summary>
/// A rank-1 lattice rule, shifted at random and folded: averages over the unit cube whose error is known because several shifts are compared
/// (I. H. Sloan and S. Joe, Lattice Methods for Multiple Integration, 1994; folding: F. J. Hickernell, 2002; both from memory). The same seed gives the same points.
/// </summary>
internal sealed class Lattice
{
    private readonly double[] _steps;

    private Lattice(int points, double[] steps) => (Points, _steps) = (points, steps);

    /// <summary>The lattice that comes with the tool.</summary>
    public static Lattice Built { get; } = Read();

    /// <summary>Points of one shifted copy.</summary>
    public int Points { get; }

    /// <summary>The average of a function over the unit cube: copies are added until the error is small enough, at least <paramref name="fewest"/>; one alone has no error to show.</summary>
    /// <param name="dimensions">How many coordinates a point has.</param>
    /// <param name="value">Of the function at a point; may not keep the span.</param>
    /// <param name="wanted">Half width of the 95 % interval that is enough.</param>
    public Estimate Average(int dimensions, Func<double[], double> value, double wanted, int seed, int fewest, int most = 64)
    {
        var random = new Random(seed);
        var (at, point) = (new double[dimensions], new double[dimensions]);
        var copies = new List<double>();
        while (true)
        {
            for (int j = 0; j < dimensions; j++) at[j] = random.NextDouble();
            double sum = 0;
            for (int k = 0; k < Points; k++)
            {
                for (int j = 0; j < dimensions; j++)
                {
                    // Beyond the vector's dimensions, which matter least, points are drawn.
                    double x = at[j] = j < _steps.Length ? at[j] + _steps[j] : random.NextDouble();
                    if (x >= 1) at[j] = x -= 1;
                    point[j] = 1 - Math.Abs(2 * x - 1);
                }

                sum += value(point);
            }

            copies.Add(sum / Points);
            if (copies.Count < fewest) continue;
            if (fewest == 1) return new(copies[0], double.NaN);
            Estimate estimate = Estimate.Of(copies);
            if (estimate.Error95 <= wanted || copies.Count >= most) return estimate;
        }
    }

    private static Lattice Read()
    {
        int[][] rows = [.. DataTable.Rows(typeof(Lattice), "lattice.csv").Select(r => r.Select(c => int.Parse(c, CultureInfo.InvariantCulture)).ToArray())];
        return new(rows[0][0], [.. rows.Select(r => (double)r[1] / r[0])]);
    }
}
