using CsCheck;
using Sparewright.Measure.Numbers;
using Sparewright.Part.Elements;
using Sparewright.Part.Record;
using Sparewright.Reconcile.Readings;
using Xunit;

namespace Sparewright.Reconcile.Tests.Readings;

/// <summary>The derivatives of every reading of the examples against central differences, at sizes drawn about the starting ones.</summary>
public class ReadingDerivativeTests
{
    public static TheoryData<string> Examples => [.. Jobs.ExampleNames];

    [Theory]
    [MemberData(nameof(Examples))]
    public void Derivatives_agree_with_central_differences(string example)
    {
        Job job = Jobs.Example(example);
        CaliperReading[] readings = [.. job.Readings.OfType<CaliperReading>()];
        double[] about = [.. Jobs.Reconcile(job).Free];
        int compared = 0;
        Gen.Double[0.95, 1.05].Array[about.Length].Sample(factors =>
        {
            double[] at = [.. about.Zip(factors, (size, factor) => size * factor)];
            Dual[] values = Values(job, readings, at);
            for (int k = 0; k < at.Length; k++)
            {
                double h = 1e-5 * Math.Abs(at[k]), size = at[k];
                at[k] = size + h;
                Dual[] above = Values(job, readings, at);
                at[k] = size - h;
                Dual[] below = Values(job, readings, at);
                at[k] = size;
                for (int r = 0; r < readings.Length; r++)
                {
                    double difference = (above[r].Value - below[r].Value) / (2 * h);
                    Assert.True(Math.Abs(difference - values[r].Gradient.By(k)) < 1e-6, $"{readings[r].Id} by {job.Sizes.Free[k].Name}: {values[r].Gradient.By(k)}, by differences {difference}");
                    compared++;
                }
            }
        }, iter: 50, threads: 1);
        Assert.True(compared >= 50 * about.Length * readings.Length);
    }

    private static Dual[] Values(Job job, CaliperReading[] readings, double[] at)
    {
        PlacedShape shape = ShapePlacer.Place(job.Shape, job.Sizes.At(at));
        return [.. readings.Select(r => CaliperGeometry.Of(r, shape).Mm ?? throw new InvalidOperationException($"{r.Id} is refused"))];
    }
}
