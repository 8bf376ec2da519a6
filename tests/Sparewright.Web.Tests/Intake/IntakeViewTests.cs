using Sparewright.Measure;
using Sparewright.Part;
using Sparewright.Part.Record;
using Sparewright.Web.Intake;
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
        foreach (IntakeField field in view.Fields.Concat(view.Instruments.SelectMany(i => i.Fields)))
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
        Assert.NotNull(IntakeView.Rename(rule, "1/64 rule")!.Make(text).Problem);
    }
}
