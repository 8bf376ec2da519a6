using CsCheck;
using Sparewright.Part.Record;
using Sparewright.Part.Shape;
using Xunit;

namespace Sparewright.Part.Tests;

public class LoadsTests
{
    private static readonly string Text = File.ReadAllText(Path.Combine(Repository.Root, "tests", "Sparewright.Part.Tests", "corpus", "loads.yaml"));

    private static Job Job => JobFile.Read(Text).Job!;

    [Fact]
    public void Everything_that_acts_is_read_as_it_is_written()
    {
        Assert.Empty(JobFile.Read(Text).Problems);
        var job = Job;
        Load hung = job.Loads[0];
        var pull = Assert.IsType<LoadAction.Force>(hung.Actions[0]);
        Assert.Equal((ForceWord.Pull, "eye.wall", null, 40.0, Direction.Up), (pull.Word, pull.At.Elements.Single().Text, pull.At.Counterpart, pull.Newtons, pull.Toward));
        Assert.Equal("cord", Assert.IsType<LoadAction.Force>(hung.Actions[1]).At.Counterpart);
        Assert.Equal(Direction.Down, Assert.IsType<LoadAction.OwnWeight>(hung.Actions[2]).Toward);
        Assert.Equal((HowOften.Always, HowLong.Months), (hung.Times, hung.Lasts));
        Assert.Equal([false, true], job.Loads[1].Actions.Cast<LoadAction.Moment>().Select(m => m.Bends));
        Assert.Equal(["neck.left", "neck.right"], Assert.IsType<LoadAction.Pressure>(job.Loads[2].Actions[0]).At.Select(e => e.Text));
        Assert.Equal(0.05, Assert.IsType<LoadAction.PressFit>(job.Loads[3].Actions[0]).Interference.At(job.Sizes.At([2.5])).Value, 12);
        Assert.Equal(ForceWord.Press, Assert.IsType<LoadAction.Force>(job.Loads[4].Actions[0]).Word);
        Assert.True(Assert.IsType<LoadAction.Movement>(job.Loads[5].Actions[0]).Snaps);
        Assert.Equal(ForceWord.Snap, Assert.IsType<LoadAction.Force>(job.Loads[6].Actions[0]).Word);
        Assert.Equal(["cord"], job.Loads[6].Holds.HeldBy);
        Assert.Equal(9, job.Loads[7].Holds.Washer!.At(job.Sizes.At([2.5])).Value);
        Assert.Equal(("PA6", "neck.left"), (job.MadeOf, job.BrokeAt[0].Text));
    }

    [Fact]
    public void What_is_not_said_of_a_load_is_now_and_then_for_seconds_and_for_years_where_it_is_always_there()
    {
        Assert.Equal((HowOften.NowAndThen, HowLong.Seconds), (Job.Loads[2].Times, Job.Loads[2].Lasts));
        Assert.Equal(HowLong.Years, JobFile.Read(Text.Replace("    lasts: months\n", "", StringComparison.Ordinal)).Job!.Loads[0].Lasts);
    }

    [Fact]
    public void Bars_have_an_area_and_forces_with_their_uncertainty()
    {
        TestBars standing = Job.TestBars[0], lying = Job.TestBars[1];
        Assert.Equal((BarLay.Standing, null, 40.0), (standing.Printed, standing.Material, standing.AreaMm2));
        Assert.Equal(0.1 * Math.Sqrt(10 * 10 + 4 * 4), standing.AreaPlusMinusMm2, 12);
        Assert.Equal([61 * 9.80665, 58.5 * 9.80665, 64 * 9.80665], standing.BrokeAtNewtons);
        Assert.Equal(9.80665, standing.PlusMinusNewtons);
        Assert.Equal(Math.PI * 9, lying.AreaMm2, 12);
        Assert.Equal(Math.PI * 3 * 0.05, lying.AreaPlusMinusMm2, 12);
        Assert.Equal([900.0], lying.BrokeAtNewtons);
    }

    [Theory]
    [InlineData("    own_weight: down\n", "    own_weight: 3\n", "3\n    held_fast", "`3` is not a direction; write `right`, `left`, `back`, `front`, `up` or `down`")]
    [InlineData("{by: cord, newtons: 5, toward: right}", "{by: cort, newtons: 5, toward: right}", "cort", "there is no counterpart `cort`; did you mean `cord`?")]
    [InlineData("{by: cord, newtons: 5, toward: right}", "{by: cord, at: eye.wall, newtons: 5, toward: right}", "by: cord, at: eye.wall", "a pull has `at` and `by`, of which only one may be there; keep one of `at` and `by`")]
    [InlineData("{by: cord, newtons: 5, toward: right}", "{newtons: 5, toward: right}", "{newtons: 5", "a pull needs one of `at` and `by`; add `at` or `by`")]
    [InlineData("lasts: months", "lasts: hours", "lasts: hours", "what is always there stays longer than that; write months or years, or another word for `times`")]
    [InlineData("held_by: cord", "held_by: rope", "rope}", "there is no counterpart `rope`; add it under counterparts, or name an element with `at`")]
    [InlineData("screwed: eye, washer: 9", "held_fast: neck.bottom, washer: 9", "washer: 9", "a washer needs a screw; add `screwed` with the holes, or remove `washer`")]
    [InlineData("at: neck.top, newton_metres: 0.4", "at: neck.bottom, newton_metres: 0.4", "neck.bottom, newton_metres: 0.4", "`neck.bottom` is held fast, so nothing that acts on it does anything; name another element, or take it out of `held_fast`")]
    [InlineData("{by: cord, interference: gap/50}, held_fast: neck.bottom", "{by: cord, interference: gap/50}, held_by: cord", "{by: cord, interference", "`cord` both acts on the part and holds it; take it out of `held_by`, or name what else acts")]
    [InlineData("interference: gap/50", "interference: gap/50, toward: up", "toward: up}, held_fast", "a press has `toward` without `newtons`; write `newtons` and `toward` together")]
    [InlineData("how_far: gap", "how_far: gap, newtons: 3", "how_far: gap, newtons", "a snap has `newtons` and `how_far`, of which only one may be there; keep one of `newtons` and `how_far`")]
    [InlineData("bar: 0.5", "bar: -1", "-1}", "`-1` is out of range; write a number greater than 0")]
    [InlineData("gap/50", "gap*gap", "gap*gap", "this comes out as an area, and a length is wanted here; give the bare numbers in it their unit, as 10 mm, so that the units come out right")]
    [InlineData("kilograms: [61, 58.5, 64]", "kilograms: [61, 58.5, 64], newtons: 3", "newtons: 3, plus", "test bars has `kilograms` and `newtons`, of which only one may be there; keep one of `kilograms` and `newtons`")]
    public void What_cannot_be_meant_is_said_where_it_stands(string good, string bad, string at, string message)
    {
        Assert.Contains(good, Text, StringComparison.Ordinal);
        string changed = Text.Replace(good, bad, StringComparison.Ordinal);
        string before = changed[..changed.IndexOf(at, StringComparison.Ordinal)];
        var place = new Place(before.Count(c => c == '\n') + 1, before.Length - before.LastIndexOf('\n'));
        Problem problem = Assert.Single(JobFile.Read(changed).Problems);
        Assert.Equal((message, place), ($"{problem.What}; {problem.Remedy}", problem.Place));
    }

    [Fact]
    public void A_load_names_what_it_acts_on_so_renaming_a_feature_renames_it_there()
    {
        Assert.Equal(["broke_at/1", "counterparts/0/goes_through", "loads/0/pull/0/at", "loads/7/screwed"], NamesInUse.OfFeature(Text, "eye").Select(u => u.Path).Order(StringComparer.Ordinal));
        Assert.NotNull(JobFile.Read(NamesInUse.Renamed(Text, "shape/1/hole", "cord_hole").Text!).Job);
    }

    /// <summary>Every number that can stand under a load's keys is either taken as it stands or refused at its place.</summary>
    [Fact]
    public void Any_number_is_taken_as_it_stands_or_refused_at_its_place() => Gen.Select(Gen.Double[-1e9, 1e9], Gen.Int[0, 3]).Sample((number, which) =>
    {
        string written = number.ToString("0.######", System.Globalization.CultureInfo.InvariantCulture), key = ((string[])["newtons: 40", "newton_metres: 0.4", "bar: 0.5", "newtons: 4,"])[which];
        string name = key.Split(':')[0];
        JobReading reading = JobFile.Read(Text.Replace(key, $"{name}: {written}{(which == 3 ? "," : "")}", StringComparison.Ordinal));
        Assert.Equal(double.Parse(written, System.Globalization.CultureInfo.InvariantCulture) > 0, reading.Job is not null);
        if (reading.Job is null) Assert.Equal("write a number greater than 0", Assert.Single(reading.Problems).Remedy);
        else Assert.Contains(double.Parse(written, System.Globalization.CultureInfo.InvariantCulture), reading.Job.Loads.SelectMany(l => l.Actions).Select(a => a switch { LoadAction.Force f => f.Newtons, LoadAction.Moment m => m.NewtonMetres, LoadAction.Pressure p => p.Bar, _ => 0 }));
    });
}
