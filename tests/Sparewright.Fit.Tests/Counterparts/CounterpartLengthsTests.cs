using CsCheck;
using Sparewright.Fit.Counterparts;
using Sparewright.Measure;
using Sparewright.Part;
using Sparewright.Part.Record;
using Xunit;

namespace Sparewright.Fit.Tests.Counterparts;

/// <summary>How big counterparts are themselves.</summary>
public class CounterpartLengthsTests
{
    private static FoundLength Size(string counterpart) => Lengths(counterpart, (lengths, c) => lengths.SizeOf(c));

    private static FoundLength Pitch(string counterpart) => Lengths(counterpart, (lengths, c) => lengths.PitchOf(c));

    private static FoundLength Lengths(string counterpart, Func<CounterpartLengths, Counterpart, FoundLength> find)
    {
        Job job = Jobs.With(counterpart);
        return find(new CounterpartLengths(job.Instruments, Jobs.Reconciled(job).Shape.Sizes), job.Counterparts[0]);
    }

    [Fact]
    public void What_was_read_has_the_budget_of_its_instrument()
    {
        Job job = Jobs.With("{rod: r, reads: [11.94, 11.97, 11.95], goes_into: bore}");
        var budget = MeasuredLength.From(new LengthReading(job.Instruments["caliper"], ReadingWay.Outside, [11.94, 11.97, 11.95]));
        OwnLength own = Size("{rod: r, reads: [11.94, 11.97, 11.95], goes_into: bore}").Value!;
        Assert.Equal(budget.ValueMm, own.Length.MeanMm);
        Assert.InRange(own.Length.StandardDeviationMm, budget.Budget.StandardUncertaintyMm, 1.2 * budget.Budget.StandardUncertaintyMm);
        Assert.Contains("read 3 times with caliper", own.Words, StringComparison.Ordinal);
    }

    [Fact]
    public void What_goes_over_the_part_is_read_with_inside_jaws()
    {
        double outside = Size("{tube: r, reads: 40, goes_into: bore}").Value!.Length.StandardDeviationMm, inside = Size("{tube: r, reads: 40, goes_over: peg}").Value!.Length.StandardDeviationMm;
        Assert.True(inside > outside, "DIN 862 allows inside readings a larger error");
    }

    /// <summary>u = T/√12 of the class limits (GUM 4.3.7). 5 h11 is 4.925 to 5 (ISO 286-1, from memory).</summary>
    [Theory]
    [InlineData("{pin: r, diameter: 5, tolerance: h11, goes_into: bore}", 4.9625, 0.075)]
    [InlineData("{hole: r, diameter: 40, tolerance: H7, goes_over: peg}", 40.0125, 0.025)]
    [InlineData("{wood screw: r, gauge: 8, goes_into: bore}", (0.164 - 0.0015) * 25.4, 0.011 * 25.4)]
    [InlineData("{bearing: r, designation: 608, goes_into: bore}", 21.9955, 0.009)]
    [InlineData("{bearing: r, designation: 6001-2RS, goes_over: peg}", 11.996, 0.008)]
    [InlineData("{nut: r, thread: M4, goes_into: seat}", 6.89, 0.22)]
    [InlineData("{insert: r, thread: M3, goes_into: bore}", 4.4, 0.1)]
    [InlineData("{screw: r, thread: M4, goes_into: bore}", 3.908, 0.14)]
    [InlineData("{pin: r, diameter: 5, goes_into: bore}", 5, 0.2)]
    public void Limits_by_standard_are_rectangular(string counterpart, double middle, double width)
    {
        NormalLength own = Size(counterpart).Value!.Length;
        Assert.Equal(middle, own.MeanMm, 1e-9);
        Assert.Equal(width / Math.Sqrt(12), own.StandardDeviationMm, 1e-9);
    }

    [Fact]
    public void A_plus_minus_holds_in_95_of_100_cases() => Assert.Equal(new NormalLength(5, 0.05), Size("{pin: r, diameter: 5, plus_minus: 0.1, goes_into: bore}").Value!.Length);

    [Fact]
    public void A_nominal_size_may_be_written_with_sizes_of_the_part() => Assert.Equal(12, Size("{pin: r, diameter: bore_d - 0.3, tolerance: h9, goes_into: bore}").Value!.Length.MeanMm, 0.05);

    [Fact]
    public void Web_and_span_together_give_the_pitch_whatever_the_holes_are() => Gen.Select(Gen.Double[10, 60], Gen.Double[2, 6], Gen.Double[2, 6]).Sample((pitch, first, second) =>
    {
        string F(double mm) => mm.ToString("0.0000", System.Globalization.CultureInfo.InvariantCulture);
        OwnLength found = Pitch($"{{holes: h, web_reads: {F(pitch - (first + second) / 2)}, span_reads: {F(pitch + (first + second) / 2)}, meet: screws}}").Value!;
        Assert.Equal(pitch, found.Length.MeanMm, 1e-3);
        Assert.True(found.Length.StandardDeviationMm < 0.04);
    }, iter: 30);

    [Theory]
    [InlineData("{holes: h, span_reads: 38.5, diameter: 4.5, plus_minus: 0.02, meet: screws}", 34)]
    [InlineData("{holes: h, web_reads: 29.5, reads: 4.5, meet: screws}", 34)]
    [InlineData("{holes: h, pitch: 34, pitch_plus_minus: 0.1, meet: screws}", 34)]
    [InlineData("{holes: h, pitch_reads: [34.1, 33.9], meet: screws}", 34)]
    public void A_pitch_comes_from_whatever_was_read(string holes, double pitch) => Assert.Equal(pitch, Pitch(holes).Value!.Length.MeanMm, 0.001);

    [Fact]
    public void Centres_found_by_eye_are_less_sure_than_walls()
    {
        double byEye = Pitch("{holes: h, pitch_reads: 34, meet: screws}").Value!.Length.StandardDeviationMm, byWalls = Pitch("{holes: h, web_reads: 29.5, span_reads: 38.5, meet: screws}").Value!.Length.StandardDeviationMm;
        Assert.True(byEye > 0.1 && byWalls < 0.04, $"{byEye} {byWalls}");
    }

    [Fact]
    public void Which_instrument_must_be_clear()
    {
        Job job = Jobs.Read(File.ReadAllText(Path.Combine(Jobs.Root, "tests", "Sparewright.Part.Tests", "corpus", "counterparts.yaml")));
        var two = new Dictionary<string, Instrument>(job.Instruments) { ["another"] = Instrument.Usual(InstrumentKind.DigitalCaliper) };
        Problem problem = new CounterpartLengths(two, new Dictionary<string, Measure.Numbers.Dual>()).SizeOf(job.Counterparts.First(c => c.Name == "d")).Problem!;
        Assert.Contains("it does not say which of `caliper`, `digital caliper` it was taken with", problem.What, StringComparison.Ordinal);
    }
}
