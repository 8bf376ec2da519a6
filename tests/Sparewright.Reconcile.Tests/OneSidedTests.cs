using System.Globalization;
using Sparewright.Measure;
using Sparewright.Measure.Uncertainty;
using Sparewright.Part.Record;
using Sparewright.Reconcile.Findings;
using Xunit;

namespace Sparewright.Reconcile.Tests;

/// <summary>
/// Errors that go one way only, askew and soft, are in the adjustment by their mean and variance. Here they are drawn as they are, one-sided and anything but normal, alone, several, and beside readings without them:
/// the ± must hold the truth as often as all others must. Everything follows from the seeds.
/// </summary>
public class OneSidedTests
{
    private const int Draws = 3_000, Seed = 92;

    private const double ThicknessMm = 24, WidthMm = 60;

    /// <param name="askew">So many readings askew, each by an angle of its own, any within the stated one as likely.</param>
    [Theory]
    [InlineData(1, 1, 0)]
    [InlineData(3, 1, 0)]
    [InlineData(10, 1, 0)]
    [InlineData(3, 2, 0)]
    [InlineData(10, 2, 0)]
    [InlineData(10, 4, 0)]
    [InlineData(3, 1, 1)]
    [InlineData(10, 1, 1)]
    [InlineData(10, 3, 1)]
    public void Readings_taken_askew_keep_their_plus_minus(double degrees, int askew, int straight)
    {
        var random = new Random(Seed);
        string each = string.Create(CultureInfo.InvariantCulture, $"tilt: {degrees} deg");
        Job job = Block([.. Enumerable.Repeat(each, askew), .. Enumerable.Repeat("", straight)]);
        UncertaintyBudget[] budgets = Budgets(job);
        Assert.InRange(Held(job, draw =>
        {
            double place = Normal(random), shift = Normal(random);
            return (k, mm) =>
            {
                double angle = k < askew ? degrees * (2 * random.NextDouble() - 1) : 0;
                return Tilt.ReadsMm(mm, angle) + OfTheCaliper(budgets[2 * k], place, shift, random);
            };
        }), 0.93, 0.99);
    }

    /// <param name="soft">So many readings of something soft, all pressed in by the same, anything from nothing to twice the mean as likely; <paramref name="hard"/> of the other way, which shows how far.</param>
    [Theory]
    [InlineData(1, 0)]
    [InlineData(2, 0)]
    [InlineData(6, 0)]
    [InlineData(1, 1)]
    [InlineData(4, 2)]
    public void Readings_of_something_soft_keep_their_plus_minus(int soft, int hard)
    {
        var random = new Random(Seed + 1);
        Job job = Block([.. Enumerable.Repeat("soft: yes", soft), .. Enumerable.Repeat("", hard)]);
        UncertaintyBudget[] budgets = Budgets(job);
        double most = 2 * Math.Sqrt(3) * InstrumentDefaults.Published.SurfaceExtraMm(SurfaceState.Soft);
        Assert.InRange(Held(job, draw =>
        {
            double place = Normal(random), shift = Normal(random), pressed = most * random.NextDouble();
            return (k, mm) => mm - (k < soft ? pressed : 0) + OfTheCaliper(budgets[2 * k], place, shift, random);
        }), 0.93, 0.99);
    }

    /// <summary>Mean and variance of 1/cos of a uniform angle, by their integrals, against what is drawn; and how little there is to gain from the whole law for one reading: 95 of 100 lie between 0 and 0.9025 of the most, 2 · 1.96 standard deviations are 1.17.</summary>
    [Fact]
    public void One_reading_askew_could_be_narrower_by_a_quarter_at_most()
    {
        const double Degrees = 10;
        var (longer, spread) = Tilt.Of(Degrees);
        double most = Tilt.ReadsMm(1, Degrees) - 1;
        Assert.Equal(1 / 3.0, (longer - 1) / most, 0.01);
        Assert.Equal(Math.Sqrt(4 / 45.0), spread * longer / most, 0.01);
        double shortest = (Tilt.ReadsMm(1, 0.95 * Degrees) - 1) / most, told = 2 * Sparewright.Measure.Uncertainty.Normal.TwoSidedCritical(0.05) * spread * longer / most;
        Assert.InRange(shortest / told, 0.75, 1);
    }

    private static Job Block(IReadOnlyList<string> marks) => Jobs.Of("{t: {about: 24}, w: {about: 60}}", "  - {block: bar, long: w, deep: 30, tall: t, corner_at: [0, 0, 0]}",
        string.Join('\n', marks.SelectMany(mark => new[] { "bar.bottom, bar.top", "bar.left, bar.right" }.Select(faces => $"  - {{outside: [{faces}], {(mark.Length > 0 ? mark + ", " : "")}reads: 1}}"))));

    private static UncertaintyBudget[] Budgets(Job job) => [.. Jobs.Reconcile(job with { Readings = [.. job.Readings.Select((r, k) => (Reading)((CaliperReading)r with { ReadsMm = [True(k)] }))] }).Readings.Select(r => r.Measured!.Budget)];

    private static double True(int reading) => reading % 2 == 0 ? ThicknessMm : WidthMm;

    /// <summary>What the caliper errs by as its budget states: all readings of one size stand at one place of its scale.</summary>
    private static double OfTheCaliper(UncertaintyBudget budget, double place, double shift, Random random) =>
        budget.ReachingMm(ErrorReach.SamePlace) * place + budget.ReachingMm(ErrorReach.SameInstrumentAndWay) * shift
        + Math.Sqrt(budget.Lines.Where(l => l.Reach == ErrorReach.ThisReading && l.Name != "tilt").Sum(l => l.StandardUncertaintyMm * l.StandardUncertaintyMm)) * Normal(random);

    /// <summary>How often the intervals of both sizes hold the truth.</summary>
    /// <param name="draw">What a reading, counted among those of its size, shows of a true length.</param>
    private static double Held(Job job, Func<int, Func<int, double, double>> draw)
    {
        int held = 0;
        for (int k = 0; k < Draws; k++)
        {
            Func<int, double, double> shows = draw(k);
            Reconciled found = Jobs.Reconcile(job with { Readings = [.. job.Readings.Select((r, at) => (Reading)((CaliperReading)r with { ReadsMm = [shows(at / 2, True(at))] }))] });
            held += (found.Size("t") is { } t && t.Low95 <= ThicknessMm && ThicknessMm <= t.High95 ? 1 : 0) + (found.Size("w") is { } w && w.Low95 <= WidthMm && WidthMm <= w.High95 ? 1 : 0);
        }

        return held / (2.0 * Draws);
    }

    private static double Normal(Random random) => Simulated.Normal(random);
}
