using Sparewright.Measure.Quantities;
using Sparewright.Reconcile.Findings;
using Sparewright.Reconcile.Nominals;
using Sparewright.Remake.Outputs;
using Sparewright.Remake.Reports;
using Xunit;
using Quantity = Sparewright.Part.Sizes.Quantity;

namespace Sparewright.Remake.Tests;

public class ReportTests
{
    private static ReconciledSize Length(double mm, double u, SizeStatus status = SizeStatus.Decided) => new("x", Quantity.Length, mm, u, [], status);

    [Theory]
    // 95 % of a normal distribution lie within 1.96 standard deviations (JCGM 100:2008, table G.1).
    [InlineData(12.1963, 0.0102, "12.20 mm", "±0.02", "0.4802 in", "±0.0008")]
    [InlineData(48.0149, 0.3, "48.01 mm", "±0.59", "1.890 in", "±0.023")]
    [InlineData(5.00001, 0.0004, "5.0000 mm", "±0.0008", "0.19685 in", "±0.00003")]
    public void Sizes_bear_the_digits_that_their_uncertainty_allows(double mm, double u, string value, string plusMinus, string inches, string plusMinusInches)
    {
        ReconciledSize size = Length(mm, u);
        Assert.Equal(value, SizeText.Value(size, LengthUnit.Millimetre));
        Assert.Equal(plusMinus, SizeText.PlusMinus(size));
        Assert.Equal(inches, SizeText.Value(size, LengthUnit.Inch));
        Assert.Equal(plusMinusInches, SizeText.PlusMinus(size, LengthUnit.Inch));
    }

    [Fact]
    public void What_was_meant_perhaps_is_told_with_its_odds()
    {
        ReconciledSize size = Length(12.69, 0.02) with
        {
            Nominal = new(new(12.7, "1/2 in", 0.85) { Form = NominalForm.InchFraction }, new(12.75, "quarter of a mm", 0.06), 0.02),
            SameAs = new("leg", 0.71),
            Centred = new("long/2", "eye in the middle of bar, left to right", 0.93),
        };
        Assert.Equal("1/2 in 85 %, or 12.75 mm 6 %; the same as leg 71 %; long/2, eye in the middle of bar, left to right 93 %", Findings.Meant(size, LengthUnit.Millimetre));
        Assert.StartsWith("1/2 in 85 %, or 0.502 in 6 %", Findings.Meant(size, LengthUnit.Inch), StringComparison.Ordinal);
        ReconciledSize shrunk = Length(49.69, 0.02) with { Nominal = new(new(49.6901, "50 mm, shrunk by 0.62 %", 0.9) { ShrunkFromMm = 50 }, null, 0.02) };
        Assert.Equal("49.69 mm (50 mm, shrunk by 0.62 %) 90 %", Findings.Meant(shrunk, LengthUnit.Millimetre));
        Assert.Equal("", Findings.Meant(Length(3, 0.02), LengthUnit.Millimetre));
        ReconciledSize head = Length(7.54, 0.02) with { Nominal = new(new(7.5, "M4 countersunk head (DIN 965: the older)", 0.93), null, 0.07) };
        Assert.Equal("7.5 mm, M4 countersunk head (DIN 965: the older) 93 %", Findings.Meant(head, LengthUnit.Millimetre));
    }

    [Fact]
    public void Budgets_are_told_line_by_line_and_their_shares_make_the_whole()
    {
        Reconciled reconciled = OpenedJob.Open(Path.Combine(LadderWorkTests.Repository(), "examples", "vent-knuckle")).Value!.ReconcileWithoutVolume().Value!;
        ReportPart[] parts = [.. Findings.Budgets(reconciled)];
        Assert.Equal(reconciled.Readings.Count(r => r.Budget is not null), parts.OfType<ReportPart.Table>().Count());
        Assert.Contains("r1 (outside diameter of socket.side): standard uncertainty 0.0", Assert.IsType<ReportPart.Line>(parts[1]).Text, StringComparison.Ordinal);
        Assert.All(parts.OfType<ReportPart.Table>(), table =>
        {
            Assert.Contains(table.Rows, row => row.Cells[0] == "repeatability");
            // Each share is rounded to a whole percent.
            Assert.Equal(100, table.Rows.Sum(row => int.Parse(row.Cells[2].TrimEnd('%', ' '), System.Globalization.CultureInfo.InvariantCulture)), 0.5 * table.Rows.Count);
        });
    }

    [Fact]
    public void A_size_that_is_narrowed_shows_by_how_much()
    {
        Assert.Equal("±0.033 → ±0.026", SizeText.Narrowed(Length(34, 0.0168), 0.0133, LengthUnit.Millimetre));
        Assert.Equal("±0.0013 → ±0.0010", SizeText.Narrowed(Length(34, 0.0168), 0.0133, LengthUnit.Inch));
    }

    [Fact]
    public void What_is_not_measured_or_bound_has_no_plus_minus()
    {
        Assert.Equal("not known", SizeText.PlusMinus(Length(5, double.PositiveInfinity, SizeStatus.Undecided)));
        Assert.Equal("exact", SizeText.PlusMinus(Length(5, 0, SizeStatus.Fixed)));
        Assert.Equal("30.00°", SizeText.Value(new("a", Quantity.Angle, 30, 0.1, [], SizeStatus.Decided), LengthUnit.Inch));
    }

    [Fact]
    public void Plain_text_keeps_columns_and_marks_what_to_look_at()
    {
        string text = PlainText.Of(new Report(
        [
            new ReportPart.Heading("Sizes"),
            new ReportPart.Table(["size", "value"], [new(Tone.Plain, "a", "1.00 mm"), new(Tone.LookHere, "longer", "2")]),
            new ReportPart.Line("Measure it.", Tone.LookHere),
            new ReportPart.Line("Beware.", Tone.Caution),
        ]));
        Assert.Equal("Sizes\n  size    value\n  ------  -------\n  a       1.00 mm\n! longer  2\n\n! Measure it.\n!! Beware.\n", text);
    }

    [Fact]
    public void Long_lines_are_broken_at_blanks()
    {
        string text = PlainText.Of(new Report([new ReportPart.Line(string.Join(' ', Enumerable.Repeat("word", 60)), Tone.LookHere)]));
        Assert.All(text.TrimEnd().Split('\n'), line => Assert.InRange(line.Length, 1, 100));
        Assert.Equal(60, text.Split("word").Length - 1);
        Assert.All(text.TrimEnd().Split('\n').Skip(1), line => Assert.StartsWith("  word", line, StringComparison.Ordinal));
    }
}
