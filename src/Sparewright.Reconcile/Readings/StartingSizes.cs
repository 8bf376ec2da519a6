using Sparewright.Measure.Numbers;
using Sparewright.Part;
using Sparewright.Part.Record;
using Sparewright.Part.Sizes;

namespace Sparewright.Reconcile.Readings;

/// <summary>
/// Where the adjustment begins. A size with `about` or `likely` begins there; one without begins where a reading puts it that depends on no other such size.
/// </summary>
internal static class StartingSizes
{
    /// <summary>Values at which sizes of which nothing is known yet stand in, mm or degrees, tried one after the other.</summary>
    private static readonly double[] StandIns = [10, 3, 40];

    private const int MostSteps = 30;

    /// <summary>One value for each free size, or the problems that keep it from being found.</summary>
    public static (double[] Free, IReadOnlyList<Problem> Problems) Find(Job job, IReadOnlyList<Reading> readings, ShapeInHand placed)
    {
        IReadOnlyList<Size> sizes = job.Sizes.Free;
        var free = new double[sizes.Count];
        var known = new bool[sizes.Count];
        for (int k = 0; k < free.Length; k++)
            (free[k], known[k]) = sizes[k].Given switch
            {
                Given.About about => (about.Value, true),
                Given.Likely likely => (likely.Value, true),
                _ => (0, false),
            };

        foreach (double standIn in StandIns)
        {
            for (int k = 0; k < free.Length; k++)
                if (!known[k]) free[k] = standIn;
            while (Array.IndexOf(known, false) >= 0 && readings.Any(reading => TryStart(reading, free, known, placed))) { }
        }

        return (free, [.. sizes.Where((_, k) => !known[k]).Select(size => new Problem(size.Place,
            $"nothing says roughly how big `{size.Name}` is, and no reading depends on it alone", $"give it a start, however rough: {size.Name}: {{about: …}}"))]);
    }

    /// <summary>Newton's steps for the one unknown size on which the reading depends.</summary>
    private static bool TryStart(Reading reading, double[] free, bool[] known, ShapeInHand placed)
    {
        double observed = ReadingGeometry.Reads(reading).Average();
        int size = -1;
        double before = double.NaN;
        for (int step = 0; step < MostSteps; step++)
        {
            Dual span = ReadingGeometry.Span(reading, placed.At(free))!.Mm;
            if (size < 0)
            {
                int[] on = [.. Enumerable.Range(0, free.Length).Where(k => !known[k] && Math.Abs(span.Gradient.By(k)) > 1e-9)];
                if (on.Length != 1) return false;
                (size, before) = (on[0], free[on[0]]);
            }

            double change = (observed - span.Value) / span.Gradient.By(size);
            if (!double.IsFinite(change)) break;
            if (Math.Abs(change) < 1e-6) return known[size] = true;
            free[size] += change;
        }

        if (size >= 0) free[size] = before;
        return false;
    }
}
