using Sparewright.Measure;
using Sparewright.Measure.Uncertainty;
using Sparewright.Part.Elements;
using Sparewright.Part.Record;
using Sparewright.Reconcile.Readings;

namespace Sparewright.Reconcile.Tests;

/// <summary>Readings of known origin: what true sizes give by the formula, and errors that we put there.</summary>
internal static class Simulated
{
    /// <summary>The caliper readings that the true sizes give, without any error; jaw flats and zero errors are taken away from the instruments.</summary>
    public static Job Exactly(Job job, ReadOnlySpan<double> truth) => With(job, truth, (_, _) => 0);

    /// <summary>
    /// The same with random errors as the readings' budgets state them: each reading draws its own, all at one place of its scale the error there, and all of one instrument in one way share the shift that was drawn for them, all across one break in one direction its gap.
    /// </summary>
    /// <param name="budgets">Of each caliper reading, in their order.</param>
    /// <param name="wrongBy">What is wrong besides, in the reading's whole standard uncertainties, by its place among the caliper readings.</param>
    public static Job WithErrors(Job job, ReadOnlySpan<double> truth, IReadOnlyList<UncertaintyBudget> budgets, Random random, Func<int, double>? wrongBy = null)
    {
        var shifts = new Dictionary<object, double>();
        double Shared(object by)
        {
            if (!shifts.TryGetValue(by, out double shift)) shifts[by] = shift = Normal(random);
            return shift;
        }

        PlacedShape shape = ShapePlacer.Place(job.Shape, job.Sizes.At(truth));
        return With(job, truth, (reading, k) => budgets[k].ReachingMm(ErrorReach.ThisReading) * Normal(random)
            + budgets[k].ReachingMm(ErrorReach.SamePlace) * Shared((reading.With, reading.Way, ScalePlace.Of(reading, shape)))
            + budgets[k].ReachingMm(ErrorReach.SameInstrumentAndWay) * Shared((reading.With, reading.Way))
            + (reading.AcrossBreak ? budgets[k].ReachingMm(ErrorReach.SameBreak) * Shared((reading.Break, Line(JawContact.Of(reading, shape)!.Along))) : 0)
            + (wrongBy?.Invoke(k) ?? 0) * budgets[k].StandardUncertaintyMm);
    }

    /// <summary>
    /// The same as calipers err that keep what is stated of them: what differs from place to place takes some part of the scale's ± 0.03 mm, and a shift lies within the rest; a zero as well as the display shows it; the hand as steady
    /// as usual; a display in steps of 0.01 mm. What is no caliper, and gaps of breaks, are drawn from their budgets.
    /// </summary>
    /// <param name="anew">Inside, depth and step readings err, as those of no caliper do, anew each time over the whole of their limit, ± 0.05 mm.</param>
    public static Job ByACaliper(Job job, ReadOnlySpan<double> truth, IReadOnlyList<UncertaintyBudget> budgets, Random random, bool anew = false)
    {
        const double Scale = 0.03, OtherFaces = 0.02, Step = 0.01;
        double Even() => 2 * random.NextDouble() - 1;
        var ways = Enum.GetValues<ReadingWay>().ToDictionary(way => way, _ =>
        {
            double place = Scale * random.NextDouble();
            return (Place: place, Shift: Even() * (Scale - place) + Step / 2 * Even(), Faces: OtherFaces * Even());
        });
        PlacedShape shape = ShapePlacer.Place(job.Shape, job.Sizes.At(truth));
        var places = new Dictionary<(string?, string), double>();
        double AtPlace(CaliperReading reading)
        {
            var what = (reading.With, $"{reading.Way} {ScalePlace.Of(reading, shape)}");
            if (!places.TryGetValue(what, out double at)) places[what] = at = Even();
            return at;
        }

        var gaps = new Dictionary<object, double>();
        double[] values = Jobs.True(job, truth);
        return With(job, truth, (reading, k) =>
        {
            if (reading.With is { } name && !job.Instruments[name].Kind.IsCaliper()) return budgets[k].StandardUncertaintyMm * Normal(random);
            var (place, shift, faces) = ways[reading.Way];
            double scale = reading.Way == ReadingWay.Outside ? shift + place * AtPlace(reading) : anew ? (Scale + OtherFaces) * Even() : shift + place * AtPlace(reading) + faces;
            double off = scale + budgets[k].Lines.Single(l => l.Name == "repeatability").StandardUncertaintyMm * Normal(random);
            if (reading.AcrossBreak)
            {
                object gap = (reading.Break, Line(JawContact.Of(reading, shape)!.Along));
                if (!gaps.TryGetValue(gap, out double wide)) gaps[gap] = wide = budgets[k].ReachingMm(ErrorReach.SameBreak) * Normal(random);
                off += wide;
            }

            return Math.Round(values[k] + off, 2) - values[k];
        });
    }

    /// <summary>A direction, whichever way along it.</summary>
    private static (double, double, double) Line(Measure.Numbers.Vector d)
    {
        double sign = Math.Sign(new[] { d.X.Value, d.Y.Value, d.Z.Value }.First(c => Math.Abs(c) > 1e-3));
        return (Math.Round(sign * d.X.Value, 2), Math.Round(sign * d.Y.Value, 2), Math.Round(sign * d.Z.Value, 2));
    }

    /// <summary>Standard normal (Box and Muller).</summary>
    public static double Normal(Random random) => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());

    private static Job With(Job job, ReadOnlySpan<double> truth, Func<CaliperReading, int, double> errorMm)
    {
        double[] values = Jobs.True(job, truth);
        int k = 0;
        return job with
        {
            Instruments = job.Instruments.ToDictionary(i => i.Key, i => i.Value.Kind.IsCaliper() ? i.Value with { ZeroError = 0, InsideJawFlat = 0 } : i.Value),
            Readings = [.. job.Readings.Select(r => r is CaliperReading caliper ? caliper with { ReadsMm = [values[k] + errorMm(caliper, k++)] } : r)],
        };
    }
}
