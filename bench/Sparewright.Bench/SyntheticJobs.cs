using System.Globalization;
using System.Text;
using Sparewright.Part;
using Sparewright.Part.Elements;
using Sparewright.Part.Record;
using Sparewright.Reconcile.Readings;

namespace Sparewright.Bench;

/// <summary>Jobs of any number of sizes and readings: a long bar with bosses, each bored, in a row.</summary>
internal static class SyntheticJobs
{
    /// <summary>Readings that the true sizes give, with normal errors of 0.015 mm from a seed.</summary>
    /// <param name="sizes">Four for each boss: its diameter, height, bore, and distance from the bar's left end.</param>
    /// <param name="readings">At least as many as sizes.</param>
    public static Job Of(int sizes, int readings)
    {
        int bosses = sizes / 4;
        var text = new StringBuilder("""
            sparewright: 1
            part: bar of bosses
            could_injure: no
            instruments:
              caliper: {kind: digital caliper, resolution: 0.01, mpe: 0.03, zero_error: 0.00, inside_jaw_flat: 0}
            sizes:

            """);
        void Line(FormattableString line) => text.Append(line.ToString(CultureInfo.InvariantCulture)).Append('\n');
        for (int k = 0; k < bosses; k++)
        {
            Line($"  d{k}: {{about: {12 + k % 5}}}");
            Line($"  h{k}: {{about: {20 + k % 7}}}");
            Line($"  b{k}: {{about: {5 + k % 3}}}");
            Line($"  x{k}: {{about: {20 + 25 * k}}}");
        }

        Line($"shape:");
        Line($"  - {{plate: bar, thickness: 5, outline: {{rectangle: [{25 * bosses + 30}, 20], corner_at: [0, -10]}}}}");
        for (int k = 0; k < bosses; k++)
        {
            Line($"  - {{boss: boss{k}, stands_on: bar.top, at: [x{k}, 0], diameter: d{k}, height: h{k}}}");
            Line($"  - {{hole: bore{k}, from: boss{k}.top, diameter: b{k}, through: boss{k}}}");
        }

        Line($"readings:");
        foreach (string reading in Readings(bosses).Take(readings)) Line($"  - {{{reading}, reads: 1}}");
        Job job = JobFile.Read(text.ToString()).Job ?? throw new InvalidOperationException("the synthetic job was refused");
        if (job.Sizes.Free.Count != sizes || job.Readings.Count != readings) throw new InvalidOperationException($"{job.Sizes.Free.Count} sizes, {job.Readings.Count} readings");
        return WithValues(job);
    }

    /// <summary>First what decides every size, then checks of ever wider reach.</summary>
    private static IEnumerable<string> Readings(int bosses)
    {
        for (int k = 0; k < bosses; k++)
        {
            yield return $"outside: boss{k}.side";
            yield return $"outside: [bar.bottom, boss{k}.top]";
            yield return $"inside: bore{k}.wall";
            yield return $"outside: [bar.rim#4, boss{k}.side]";
        }

        for (int apart = 1; apart < bosses; apart++)
            for (int k = 0; k + apart < bosses; k++)
            {
                yield return $"outside: [boss{k}.side, boss{k + apart}.side]";
                yield return $"inside: [boss{k}.side, boss{k + apart}.side]";
                yield return $"inside: [bore{k}.wall, bore{k + apart}.wall]";
                yield return $"outside: [boss{k}.side, bore{k + apart}.wall]";
                yield return $"step: [boss{k}.top, bar.top]";
            }
    }

    private static Job WithValues(Job job)
    {
        var random = new Random(60);
        double Normal() => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
        double[] truth = [.. job.Sizes.Free.Select(s => ((Part.Sizes.Given.About)s.Given).Value + 0.3 * Normal())];
        PlacedShape shape = ShapePlacer.Place(job.Shape, job.Sizes.At(truth));
        return job with
        {
            Readings = [.. job.Readings.Cast<CaliperReading>().Select(r =>
            {
                CaliperValue value = CaliperGeometry.Of(r, shape);
                if (value.Mm is not { } mm) throw new InvalidOperationException(value.Refusal!.What);
                return r with { ReadsMm = [mm.Value + 0.015 * Normal()] };
            })],
        };
    }
}
