using Sparewright.Measure;
using Sparewright.Part;
using Sparewright.Part.Record;
using Sparewright.Web.Intake;
using Sparewright.Web.Shape;
using Xunit;

namespace Sparewright.Web.Tests.Intake;

public class IntakeViewTests
{
    public static TheoryData<string> AllJobs => [.. Jobs.All.Keys];

    private static IntakeView View(string text) => new(text, JobFile.Read(text).Problems);

    [Theory]
    [MemberData(nameof(AllJobs))]
    public void Every_field_shows_what_is_written_and_writes_it_back(string name)
    {
        string text = Jobs.All[name];
        IntakeView view = View(text);
        Job job = JobFile.Read(text).Job!;
        Assert.Equal(job.PartName, view.Fields[0].Written);
        Assert.Equal(job.Instruments.Keys.Order(StringComparer.Ordinal), view.Instruments.Select(i => i.Name).Order(StringComparer.Ordinal));
        // Half of a ring says nothing; the two are written together, below.
        foreach (IntakeField field in view.Fields.Concat(view.Instruments.SelectMany(i => i.Fields)).Where(f => !f.Path.Contains("/ring/", StringComparison.Ordinal)))
        {
            Assert.Null(IntakeView.Fill(field, field.Written));
            string typed = field.Path.EndsWith("hottest", StringComparison.Ordinal) ? "41,5" : field.Choices is { } choices ? choices.Last(c => c.Length > 0 && c != field.Written) : field.Path.Contains("instruments", StringComparison.Ordinal) ? "0.05" : "# other: text";
            string changed = IntakeView.Fill(field, typed)!.Make(text).Text!;
            IntakeField after = View(changed).Fields.Concat(View(changed).Instruments.SelectMany(i => i.Fields)).First(f => f.Path == field.Path);
            Assert.Equal(typed == "41,5" ? "41.5 degC" : typed, after.Written);
            if (!field.Path.EndsWith("/kind", StringComparison.Ordinal)) Assert.Empty(JobFile.Read(changed).Problems);
            Assert.Equal(text.Count(c => c == '#'), changed.Count(c => c == '#') - (typed.StartsWith('#') ? 1 : 0) + (field.Written.StartsWith('#') ? 1 : 0));
            if (field.Written.Length == 0 && !field.Path.StartsWith("lives", StringComparison.Ordinal)) Assert.Equal("", View(IntakeView.Fill(after, " ")!.Make(changed).Text!).Fields.Concat(View(text).Instruments.SelectMany(i => i.Fields)).First(f => f.Path == field.Path).Written);
        }
    }

    [Fact]
    public void The_answer_about_harm_goes_both_ways_and_a_wrong_field_says_so()
    {
        string text = Jobs.Examples["vent-knuckle"];
        Assert.Equal("no", View(text).Harm.Could);
        string yes = IntakeView.Answer(new Harm { Could = "yes", Why = "guards", Typed = Injury.Acknowledgement }).Make(text).Text!;
        Assert.True(JobFile.Read(yes).Job!.CouldInjure.Could);
        Assert.Equal("guards", View(yes).Harm.Why);
        Assert.Equal(text, IntakeView.Answer(new Harm { Could = "no" }).Make(yes).Text);
        IntakeView wrong = View(text.Replace("made_by: moulding", "made_by: knitting", StringComparison.Ordinal));
        Assert.Contains("knitting", Assert.Single(wrong.Fields.Single(f => f.Problems.Count > 0).Problems).What, StringComparison.Ordinal);
        Assert.NotNull(View("\ta: 1").Unreadable);
    }

    [Fact]
    public void A_further_instrument_gets_a_free_name()
    {
        string text = Jobs.Examples["vent-knuckle"];
        string once = View(text).Add(InstrumentKind.Micrometer).Make(text).Text!;
        string twice = View(once).Add(InstrumentKind.Micrometer).Make(once).Text!;
        Assert.Equal(["caliper", "kitchen scale", "micrometer", "micrometer 2"], JobFile.Read(twice).Job!.Instruments.Keys);
    }

    [Fact]
    public void A_renamed_instrument_is_renamed_in_the_readings_that_name_it_and_nowhere_else()
    {
        string text = Jobs.Examples["line-reel-crank"].Replace("part: Line reel crank", "part: steel rule", StringComparison.Ordinal);
        string changed = IntakeView.Rename(View(text).Instruments.Single(i => i.Name == "steel rule"), "  bench   rule ")!.Make(text).Text!;
        Assert.Equal(text.Replace("  steel rule: {", "  bench rule: {", StringComparison.Ordinal).Replace("with: steel rule", "with: bench rule", StringComparison.Ordinal), changed);
        Assert.Equal("bench rule", Assert.Single(JobFile.Read(changed).Job!.Readings.OfType<CaliperReading>(), r => r.With is not null).With);
        // A name that needs quotes gets them.
        Assert.Empty(JobFile.Read(IntakeView.Rename(View(text).Instruments[0], "no: 5, [old]")!.Make(text).Text!).Problems);
    }

    [Fact]
    public void An_instrument_is_not_given_the_name_of_another()
    {
        string text = Jobs.Examples["line-reel-crank"];
        IntakeInstrument rule = View(text).Instruments.Single(i => i.Name == "steel rule");
        Assert.Null(IntakeView.Rename(rule, " steel rule"));
        Assert.Null(IntakeView.Rename(rule, " "));
        Assert.Contains("already", IntakeView.Rename(rule, "caliper")!.Make(text).Problem!.What, StringComparison.Ordinal);
    }

    [Fact]
    public void A_name_may_hold_a_stroke_and_what_stands_under_it_is_found_and_changed()
    {
        string text = Jobs.Examples["line-reel-crank"];
        string changed = IntakeView.Rename(View(text).Instruments.Single(i => i.Name == "steel rule"), "1/64 rule ~ old")!.Make(text).Text!;
        Assert.Equal("1/64 rule ~ old", Assert.Single(JobFile.Read(changed).Job!.Readings.OfType<CaliperReading>(), r => r.With is not null).With);
        IntakeInstrument rule = View(changed).Instruments.Single(i => i.Name == "1/64 rule ~ old");
        Assert.Equal("ruler", rule.Fields[0].Written);
        string finer = IntakeView.Fill(rule.Fields[1], "0.25")!.Make(changed).Text!;
        Assert.Equal(0.25, JobFile.Read(finer).Job!.Instruments[rule.Name].Resolution);
        Assert.DoesNotContain("1/64", TextChange.Remove(rule.Path, "").Make(finer).Text!.Split("readings:")[0], StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(InstrumentKind.Protractor, "Resolution, °", "Shows when closed (zero error), °")]
    [InlineData(InstrumentKind.MeasuringCylinder, "Resolution, ml", "Shows with nothing in it, ml")]
    [InlineData(InstrumentKind.Scale, "Resolution, g", "Shows with nothing on it, g")]
    [InlineData(InstrumentKind.Micrometer, "Resolution, mm", "Shows when closed (zero error), mm")]
    public void Figures_stand_in_the_unit_that_the_instrument_shows(InstrumentKind kind, string resolution, string zero)
    {
        string text = Jobs.Examples["vent-knuckle"];
        text = View(text).Add(kind).Make(text).Text!;
        IntakeInstrument added = View(text).Instruments.Single(i => i.Name == kind.Name());
        Assert.Equal([resolution, zero], added.Fields.Select(f => f.Label).Where(l => l == resolution || l == zero));
        Assert.Empty(JobFile.Read(IntakeView.Fill(added.Fields[1], "0.5")!.Make(text).Text!).Problems);
    }

    [Fact]
    public void A_ring_of_known_size_is_said_with_what_the_jaws_showed_in_it_and_taken_back()
    {
        string text = Jobs.Examples["vent-knuckle"];
        IntakeField Field(string of, string ending) => View(of).Instruments.Single(i => i.Name == "caliper").Fields.Single(f => f.Path.EndsWith(ending, StringComparison.Ordinal));
        string half = IntakeView.Fill(Field(text, "ring/size"), "12")!.Make(text).Text!;
        Assert.NotEmpty(JobFile.Read(half).Problems);
        string whole = IntakeView.Fill(Field(half, "ring/reads"), "11.96; 11.97")!.Make(half).Text!;
        Assert.Equal([11.96, 11.97], JobFile.Read(whole).Job!.Instruments["caliper"].Ring!.ReadsMm);
        Assert.Equal("11.96; 11.97", Field(whole, "ring/reads").Written);
        Assert.Null(IntakeView.Fill(Field(whole, "ring/reads"), "11.96; 11.97"));
        Assert.Null(JobFile.Read(IntakeView.Fill(Field(whole, "ring/size"), " ")!.Make(whole).Text!).Job!.Instruments["caliper"].Ring);
    }
}
