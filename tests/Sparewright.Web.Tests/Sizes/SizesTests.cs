using Sparewright.Measure.Quantities;
using Sparewright.Part;
using Sparewright.Part.Record;
using Sparewright.Part.Sizes;
using Sparewright.Reconcile;
using Sparewright.Reconcile.Findings;
using Sparewright.Web.Sizes;
using Xunit;
using Quantity = Sparewright.Part.Sizes.Quantity;

namespace Sparewright.Web.Tests.Sizes;

public class SizesTests
{
    private static (Job Job, Reconciled Reconciled) Open(string text)
    {
        Job job = JobFile.Read(text).Job!;
        return Reconciliation.TryReconcile(job, out Reconciled? reconciled, out _) ? (job, reconciled) : throw new InvalidOperationException("does not reconcile");
    }

    private static string After(string text, string size, SizeGiven given, string value, string plusMinus = "", LengthUnit unit = LengthUnit.Millimetre)
    {
        Size of = JobFile.Read(text).Job!.Sizes.All.First(s => s.Name == size);
        SizeDraft draft = SizeDraft.Of(of, Written.Read(text, out _)!.At("sizes", size)) with { Given = given, Value = value, PlusMinus = plusMinus };
        Assert.True(draft.TryMake(unit, out JobValue? made, out _));
        return draft.WriteOver(text, made).Text!;
    }

    [Theory]
    [InlineData("seat", SizeGiven.Fixed, "36", "", "seat:        {fixed: 36} ")]
    [InlineData("seat", SizeGiven.Fixed, "36,5", "", "seat:        {fixed: 36.5} ")]
    [InlineData("seat", SizeGiven.About, "1 7/16 in", "", "seat:        {about: 1 7/16 in} ")]
    [InlineData("seat", SizeGiven.Likely, "36", "0.3", "seat:        {likely: {value: 36, plus_minus: 0.3}} ")]
    [InlineData("seat", SizeGiven.EqualTo, "socket_len - 12", "", "seat:        {equals: socket_len - 12} ")]
    [InlineData("seat", SizeGiven.Nothing, "", "", "seat:        {} ")]
    public void What_is_said_of_a_size_is_changed_where_it_stands(string size, SizeGiven given, string value, string plusMinus, string line)
    {
        string text = Jobs.Examples["vent-knuckle"], changed = After(text, size, given, value, plusMinus);
        Assert.Contains(line, changed, StringComparison.Ordinal);
        Assert.Equal(text.Split('\n').Length, changed.Split('\n').Length);
        Assert.Single(text.Split('\n').Zip(changed.Split('\n')), p => p.First != p.Second);
        Assert.NotNull(JobFile.Read(changed).Job);
    }

    [Fact]
    public void An_angle_stays_an_angle()
    {
        string text = Jobs.Examples["line-reel-crank"];
        Assert.Contains("drum_turn:   {fixed: 40 deg}", After(text, "drum_turn", SizeGiven.Fixed, "40"), StringComparison.Ordinal);
        string free = After(text, "drum_turn", SizeGiven.Nothing, "");
        Assert.Equal(Quantity.Angle, JobFile.Read(free).Job!.Sizes.All.First(s => s.Name == "drum_turn").Quantity);
    }

    [Fact]
    public void In_inches_a_bare_number_is_inches() => Assert.Contains("{fixed: 1.5 in}", After(Jobs.Examples["vent-knuckle"], "seat", SizeGiven.Fixed, "1.5", unit: LengthUnit.Inch), StringComparison.Ordinal);

    [Theory]
    [InlineData("nowhere + 1")]
    [InlineData("seat + 1")]
    [InlineData("(")]
    public void An_expression_that_means_nothing_is_not_kept(string expression)
    {
        string text = Jobs.Examples["vent-knuckle"];
        var draft = new SizeDraft("seat", Quantity.Length, SizeGiven.EqualTo, expression, "");
        Assert.True(draft.TryMake(LengthUnit.Millimetre, out JobValue? made, out _));
        Assert.NotNull(draft.WriteOver(text, made).Problem);
    }

    [Theory]
    [InlineData(SizeGiven.Fixed, "wide", "")]
    [InlineData(SizeGiven.Likely, "36", "")]
    [InlineData(SizeGiven.EqualTo, " ", "")]
    public void A_value_that_is_none_is_refused(SizeGiven given, string value, string plusMinus) =>
        Assert.False(new SizeDraft("seat", Quantity.Length, given, value, plusMinus).TryMake(LengthUnit.Millimetre, out _, out _));

    /// <summary>What a reading says of a size is found by bending the size until the reading agrees: here by hand for one that reads the size itself.</summary>
    [Fact]
    public void A_diameter_says_its_own_reading()
    {
        var (job, reconciled) = Open(Jobs.Examples["vent-knuckle"]);
        EvidenceMark mark = Evidence.Of(job, reconciled)["socket_od"].Marks.First(m => m.Id == "r1");
        ReconciledReading r1 = reconciled.Readings.First(r => r.Reading.Id == "r1");
        Assert.Equal(r1.Observed!.Value, mark.Says, 1e-9);
        Assert.Equal(r1.Measured!.Budget.ExpandedMm(0.95), mark.PlusMinus, 1e-9);
        Assert.True(mark.Decides);
    }

    /// <summary>The wall is half the difference of two diameters, so it says twice as roughly what one of them is: 2·(observed wall) + bore.</summary>
    [Fact]
    public void A_wall_says_its_diameter_through_the_bore()
    {
        var (job, reconciled) = Open(Jobs.Examples["vent-knuckle"]);
        EvidenceMark mark = Evidence.Of(job, reconciled)["socket_od"].Marks.First(m => m.Id == "r2");
        ReconciledReading r2 = reconciled.Readings.First(r => r.Reading.Id == "r2");
        double bore = reconciled.Sizes.First(s => s.Name == "bore_d").Estimate;
        Assert.Equal(2 * r2.Observed!.Value + bore, mark.Says, 1e-9);
        Assert.Equal(2 * r2.Measured!.Budget.ExpandedMm(0.95), mark.PlusMinus, 1e-9);
    }

    [Fact]
    public void The_reading_that_is_set_aside_shows_as_left_out()
    {
        var (job, reconciled) = Open(Jobs.Examples["vent-knuckle"]);
        EvidenceMark[] aside = [.. Evidence.Of(job, reconciled)["lug_reach"].Marks.Where(m => m.LeftOut)];
        Assert.Equal(["r15"], aside.Select(m => m.Id));
        Assert.Equal(24.4, aside[0].Says, 0.1);
    }

    [Theory]
    [InlineData("vent-knuckle")]
    [InlineData("line-reel-crank")]
    public void Every_decided_free_size_has_evidence_around_its_value(string example)
    {
        var (job, reconciled) = Open(Jobs.Examples[example]);
        foreach (var (name, evidence) in Evidence.Of(job, reconciled))
        {
            if (!double.IsFinite(evidence.PlusMinus)) continue;
            Assert.NotEmpty(evidence.Marks);
            Assert.Contains(evidence.Marks, m => m.Decides && Math.Abs(m.Says - evidence.Value) <= 2 * m.PlusMinus);
            Assert.True(evidence.Marks.Count <= 8, name);
        }
    }

    [Fact]
    public void The_table_tells_fixed_free_and_derived_apart()
    {
        var (job, reconciled) = Open(Jobs.Examples["line-reel-crank"]);
        SizeRow Row(string name) => SizeRow.Of(job.Sizes.All.First(s => s.Name == name), reconciled, LengthUnit.Inch);
        Assert.Equal(("0.3750 in", "exact", "= fixed by the job"), (Row("corner_r").Value, Row("corner_r").PlusMinus, Row("corner_r").Status));
        Assert.Equal("45.00°", Row("drum_turn").Value);
        Assert.Equal("follows from other sizes", Row("peg_in").Given);
        Assert.StartsWith("likely 0.5625 in ± 0.0118 in", Row("nut_af").Given, StringComparison.Ordinal);
        Assert.Contains("r1", Row("flange_d").DecidedBy);
    }
}
