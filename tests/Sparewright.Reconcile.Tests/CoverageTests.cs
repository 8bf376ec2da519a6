using System.Globalization;
using Sparewright.Measure.Uncertainty;
using Sparewright.Part.Elements;
using Sparewright.Part.Record;
using Sparewright.Reconcile.Findings;
using Sparewright.Reconcile.Readings;
using Xunit;

namespace Sparewright.Reconcile.Tests;

/// <summary>Whether the ± and the alarms are honest: the same part measured thousands of times, its sizes known. Everything follows from the seeds.</summary>
public class CoverageTests
{
    private const int Draws = 5_000, Seed = 4711;

    private static readonly double[] True = [20, 10, 30, 32, 5];

    private static Job Bush { get; } = Jobs.Of("{od: {about: 20}, bore: {about: 10}, len: {about: 30}, collar_d: {about: 32}, collar_t: {about: 5}}", """
          - {boss: collar, diameter: collar_d, height: collar_t}
          - {boss: tube, stands_on: collar.top, diameter: od, height: len}
          - {hole: bore, from: tube.top, diameter: bore, through: whole part}
        """, """
          - {outside: tube.side, reads: 20}
          - {outside: [tube.side, bore.wall], reads: 5}
          - {inside: bore.wall, reads: 10}
          - {inside: bore.wall, reads: 10}
          - {outside: [collar.bottom, tube.top], reads: 35}
          - {outside: [collar.bottom, collar.top], reads: 5}
          - {depth: [tube.top, collar.top], reads: 30}
          - {step: [tube.top, collar.top], reads: 30}
          - {outside: collar.side, reads: 32}
          - {outside: [collar.side, bore.wall], reads: 11}
        """);

    private static UncertaintyBudget[] Budgets { get; } = [.. Jobs.Reconcile(Simulated.Exactly(Bush, True)).Readings.Select(r => r.Measured!.Budget)];

    [Fact]
    public void With_Gaussian_errors_as_stated_95_of_100_intervals_hold_the_truth_and_alarms_keep_their_level()
    {
        var random = new Random(Seed);
        var tally = new Tally();
        for (int k = 0; k < Draws; k++) tally.Take(Jobs.Reconcile(Simulated.WithErrors(Bush, True, Budgets, random)));

        foreach (double share in tally.Covered) Assert.InRange(share, 0.94, 0.96);
        // Each of two tests may alarm in one job of a hundred; five standard deviations above at most, and never deaf.
        double margin = 5 * Math.Sqrt(Reconciliation.FalseAlarmLevel / Draws);
        Assert.InRange(tally.Contradicted, 0.3 * Reconciliation.FalseAlarmLevel, Reconciliation.FalseAlarmLevel + margin);
        Assert.InRange(tally.Disagreeing, 0, Reconciliation.FalseAlarmLevel + margin);
    }

    /// <summary>
    /// What calipers do that keep their limits, an error from place to place that takes some part of the stated ± 0.03 mm and a shift within the rest, a shift of the other faces within ± 0.02 mm
    /// (DIN 862), a zero set as well as the display shows it, a display that rounds, two or three repeats of a hand that is as steady as usual.
    /// </summary>
    [Fact]
    public void With_realistic_errors_93_to_98_of_100_intervals_hold_the_truth()
    {
        const double Scale = 0.03, OtherFaces = 0.02, Step = 0.01;
        var random = new Random(Seed + 1);
        double[] values = Jobs.True(Bush, True);
        PlacedShape shape = ShapePlacer.Place(Bush.Shape, Bush.Sizes.At(True));
        double Even() => 2 * random.NextDouble() - 1;
        (double Shift, double Place) Errs(Measure.ReadingWay way)
        {
            double place = Scale * random.NextDouble();
            return (Even() * (Scale - place) + (way == Measure.ReadingWay.Outside ? 0 : OtherFaces * Even()) + Step / 2 * Even(), place);
        }

        var tally = new Tally();
        for (int k = 0; k < Draws; k++)
        {
            var errs = Enum.GetValues<Measure.ReadingWay>().ToDictionary(w => w, Errs);
            var places = new Dictionary<string, double>();
            double AtPlace(Reading r)
            {
                string place = $"{((CaliperReading)r).Way} {ScalePlace.Of(r, shape)}";
                if (!places.TryGetValue(place, out double there)) places[place] = there = Even();
                return there;
            }

            int at = 0;
            Reading Read(Reading r)
            {
                var reading = (CaliperReading)r;
                double hand = Budgets[at].Lines.Single(l => l.Name == "repeatability").StandardUncertaintyMm;
                double here = values[at] + errs[reading.Way].Shift + errs[reading.Way].Place * AtPlace(reading);
                double[] reads = [.. Enumerable.Range(0, 2 + random.Next(2)).Select(_ => Math.Round(here + hand * Simulated.Normal(random), 2))];
                at++;
                return reading with { ReadsMm = reads };
            }

            tally.Take(Jobs.Reconcile(Bush with { Readings = [.. Bush.Readings.Select(Read)] }));
        }

        foreach (double share in tally.Covered) Assert.InRange(share, 0.93, 0.98);
        Assert.InRange(tally.Contradicted, 0, Reconciliation.FalseAlarmLevel + 5 * Math.Sqrt(Reconciliation.FalseAlarmLevel / Draws));
    }

    [Fact]
    public void Lengths_in_inches_say_the_same()
    {
        static string Text(Func<double, string> length) => $$$"""
            sparewright: 1
            part: test
            could_injure: no
            instruments:
              caliper: {kind: digital caliper, resolution: {{{length(0.01)}}}, mpe: {{{length(0.03)}}}, zero_error: {{{length(0.01)}}}, inside_jaw_flat: {{{length(0.4)}}}}
            sizes: {t: {about: {{{length(5)}}}}, h: {about: {{{length(10)}}}}, d: {about: {{{length(6)}}}} }
            shape:
              - {plate: p, thickness: t, outline: {disc: [0, 0], radius: 12}}
              - {boss: b, stands_on: p.top, diameter: 9, height: h}
              - {hole: bore, from: b.top, diameter: d, through: whole part}
            readings:
              - {outside: [p.top, p.bottom], reads: [{{{length(5.02)}}}, {{{length(5.04)}}}]}
              - {outside: [p.bottom, b.top], reads: {{{length(15.05)}}}}
              - {depth: [b.top, p.top], reads: {{{length(10.07)}}}}
              - {inside: bore.wall, reads: {{{length(6.03)}}}}
            """;
        Reconciled mm = Jobs.Reconcile(Jobs.Read(Text(v => v.ToString("R", CultureInfo.InvariantCulture)))), inches = Jobs.Reconcile(Jobs.Read(Text(v => (v / 25.4).ToString("R", CultureInfo.InvariantCulture) + " in")));
        foreach (ReconciledSize size in mm.Sizes)
        {
            Assert.Equal(size.Estimate, inches.Size(size.Name).Estimate, 1e-9);
            Assert.Equal(size.StandardUncertainty, inches.Size(size.Name).StandardUncertainty, 1e-11);
        }

        Assert.Equal(mm.Global.ChiSquare, inches.Global.ChiSquare, 1e-9);
    }

    [Fact]
    public void Many_threads_get_the_same_answer_to_the_last_bit()
    {
        Job job = Jobs.Example("vent-knuckle");
        Reconciled one = Jobs.Reconcile(job);
        var all = new Reconciled[8];
        Parallel.For(0, all.Length, k => _ = Told(all[k] = Jobs.Reconcile(job)));
        Assert.All(all, other =>
        {
            Assert.Equal(one.Free, other.Free);
            Assert.Equal(one.Sizes.Select(s => s.StandardUncertainty), other.Sizes.Select(s => s.StandardUncertainty));
            Assert.Equal(one.Global, other.Global);
            // Proposals, explanations, what to measure next and the plan with them.
            Assert.Equal(Told(one), Told(other));
        });
    }

    private static string Told(Reconciled reconciled)
    {
        using var stream = new MemoryStream();
        using (var json = new System.Text.Json.Utf8JsonWriter(stream))
        {
            json.WriteStartObject();
            ReconcileJson.WriteMembers(json, reconciled);
            json.WriteEndObject();
        }

        return System.Text.Encoding.UTF8.GetString(stream.ToArray());
    }

    /// <summary>How often each size's interval held the truth, and how many jobs raised an alarm.</summary>
    private sealed class Tally
    {
        private readonly int[] _held = new int[True.Length];
        private int _jobs, _contradicted, _disagreeing;

        public void Take(Reconciled reconciled)
        {
            _jobs++;
            for (int k = 0; k < _held.Length; k++)
                if (reconciled.Sizes[k].Low95 <= True[k] && True[k] <= reconciled.Sizes[k].High95) _held[k]++;
            if (reconciled.Contradictions.Count > 0) _contradicted++;
            if (reconciled.DisagreeTogether) _disagreeing++;
        }

        public double[] Covered => [.. _held.Select(h => (double)h / _jobs)];

        public double Contradicted => (double)_contradicted / _jobs;

        public double Disagreeing => (double)_disagreeing / _jobs;
    }
}
