using Sparewright.Fit.Capability;
using Sparewright.Fit.Odds;

namespace Sparewright.Fit.Drawn;

/// <summary>A surface that is to come out of the printer at a size, in mm.</summary>
/// <param name="Printed">How it is drawn now, and which of the job's sizes draw it; its factor has no say.</param>
public sealed record WantedSurface(string Name, PrintedSize Printed, double WantedMm);

/// <summary>A surface once the sizes are drawn anew, in mm.</summary>
/// <param name="ExpectedMm">What will come out of the printer, in the mean.</param>
public sealed record CompensatedSurface(string Name, SurfaceKind Kind, double DrawnMm, double WantedMm, double ExpectedMm)
{
    public double OffMm => ExpectedMm - WantedMm;
}

/// <summary>
/// Sizes drawn so that the printer's mean error brings surfaces to where they are wanted: the job's own sizes are solved anew, and the solid is built from them; no surface is pushed about by itself.
/// Where there are more surfaces than sizes the squares of what is left are least. Where the layer is known, heights are drawn on whole ones.
/// </summary>
public sealed record Compensation(IReadOnlyList<SizeChange> Changes, IReadOnlyList<CompensatedSurface> Surfaces)
{
    private const double SmallestMm = 1e-10;

    /// <summary>By how much each of the job's sizes changes; sizes that no surface is drawn by stay.</summary>
    public static Compensation Solve(ProcessCapability process, IReadOnlyList<WantedSurface> surfaces)
    {
        string[] sizes = [.. surfaces.SelectMany(s => s.Printed.PerSize.Keys).Distinct().Order(StringComparer.Ordinal)];
        var changes = new double[sizes.Length];
        double Drawn(WantedSurface s) => s.Printed.DrawnMm + sizes.Select((size, k) => changes[k] * s.Printed.PerSize.GetValueOrDefault(size)).Sum();
        // The error hardly depends on the size, so that each round leaves a few thousandths of the last one's step.
        for (int round = 0; round < 30; round++)
        {
            var (normal, right) = (new double[sizes.Length, sizes.Length], new double[sizes.Length]);
            foreach (WantedSurface s in surfaces)
            {
                double off = s.WantedMm - process[s.Printed.Kind].Forecast(Drawn(s)).MeanMm;
                for (int i = 0; i < sizes.Length; i++)
                {
                    double slope = s.Printed.PerSize.GetValueOrDefault(sizes[i]);
                    right[i] += slope * off;
                    for (int j = 0; j < sizes.Length; j++) normal[i, j] += slope * s.Printed.PerSize.GetValueOrDefault(sizes[j]);
                }
            }

            double[] step = Solved(normal, right);
            for (int i = 0; i < step.Length; i++) changes[i] += step[i];
            if (step.All(s => Math.Abs(s) < SmallestMm)) break;
        }

        OnWholeLayers(process, surfaces, sizes, changes, Drawn);
        return new([.. sizes.Zip(changes, (size, by) => new SizeChange(size, by))],
            [.. surfaces.Select(s => new CompensatedSurface(s.Name, s.Printed.Kind, Drawn(s), s.WantedMm, process[s.Printed.Kind].Forecast(Drawn(s)).MeanMm))]);
    }

    /// <summary>
    /// Heights come in whole layers whatever is drawn, so that those which only one size still decides are drawn on the one that comes out nearer to what is wanted, the simplest surfaces first. Sizes that anything else hangs on stay.
    /// </summary>
    private static void OnWholeLayers(ProcessCapability process, IReadOnlyList<WantedSurface> surfaces, string[] sizes, double[] changes, Func<WantedSurface, double> drawn)
    {
        bool InLayers(WantedSurface s) => s.Printed.Kind == SurfaceKind.Height && process[SurfaceKind.Height].Prior.LayerMm > 0;
        HashSet<string> settled = [.. surfaces.Where(s => !InLayers(s)).SelectMany(s => s.Printed.PerSize.Keys)];
        foreach (WantedSurface surface in surfaces.Where(InLayers).OrderBy(s => s.Printed.PerSize.Count))
        {
            string[] open = [.. surface.Printed.PerSize.Keys.Where(k => !settled.Contains(k))];
            settled.UnionWith(open);
            if (open is not [var size] || Math.Abs(Math.Abs(surface.Printed.PerSize[size]) - 1) > SmallestMm) continue;
            KindCapability kind = process[surface.Printed.Kind];
            double whole = kind.Prior.WholeLayersBeside(drawn(surface)).MinBy(mm => Math.Abs(kind.Forecast(mm).MeanMm - surface.WantedMm));
            changes[Array.IndexOf(sizes, size)] += (whole - drawn(surface)) / surface.Printed.PerSize[size];
        }
    }

    /// <summary>Gauss elimination with the largest pivot; a direction that no surface decides is left alone.</summary>
    private static double[] Solved(double[,] of, double[] right)
    {
        int n = right.Length;
        var row = Enumerable.Range(0, n).ToArray();
        var x = new double[n];
        var pivotOf = new int[n];
        Array.Fill(pivotOf, -1);
        int next = 0;
        for (int column = 0; column < n && next < n; column++)
        {
            int pivot = Enumerable.Range(next, n - next).MaxBy(k => Math.Abs(of[row[k], column]));
            if (Math.Abs(of[row[pivot], column]) < 1e-9) continue;
            (row[next], row[pivot]) = (row[pivot], row[next]);
            for (int k = next + 1; k < n; k++)
            {
                double factor = of[row[k], column] / of[row[next], column];
                for (int j = column; j < n; j++) of[row[k], j] -= factor * of[row[next], j];
                right[row[k]] -= factor * right[row[next]];
            }

            pivotOf[column] = next++;
        }

        for (int column = n - 1; column >= 0; column--)
        {
            if (pivotOf[column] < 0) continue;
            int at = row[pivotOf[column]];
            double rest = right[at];
            for (int j = column + 1; j < n; j++) rest -= of[at, j] * x[j];
            x[column] = rest / of[at, column];
        }

        return x;
    }
}
