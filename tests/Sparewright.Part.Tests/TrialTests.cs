using Sparewright.Part.Record;
using Xunit;

namespace Sparewright.Part.Tests;

/// <summary>What trial prints showed, as a job says it.</summary>
public class TrialTests
{
    private static readonly string Corpus = File.ReadAllText(Path.Combine(Repository.Root, "tests", "Sparewright.Part.Tests", "corpus", "trials.yaml")).ReplaceLineEndings("\n");

    [Fact]
    public void Gauges_measured_features_and_the_part_are_read()
    {
        JobReading reading = JobFile.Read(Corpus);
        Assert.Empty(reading.Problems);
        IReadOnlyList<Trial> all = reading.Job!.Trials;
        Assert.Equal([new(2026, 5, 30), new(2026, 5, 31), new DateOnly(2026, 6, 2)], all.Select(t => t.On));

        GaugeTrial gauge = all[0].Gauges[0];
        Assert.Equal(("stay", null), (gauge.Counterpart, gauge.Surface));
        Assert.Equal([12.2, 12.3], gauge.GoesMm);
        Assert.Equal([12.05], gauge.TooTightMm);
        Assert.Equal([12.6], gauge.TooLooseMm);
        Assert.Equal(PrintedSurface.HoleLying, all[0].Gauges[1].Surface);
        Assert.Equal((null, null, null), (all[0].Machine, all[0].Material, all[0].NozzleMm));

        Assert.Equal(("the other one", "PLA", 0.6, 0.3, "in a cold room"), (all[1].Machine, all[1].Material, all[1].NozzleMm, all[1].LayerMm, all[1].Note));
        Assert.Equal((PrintedSurface.HoleUpright, 8.0, "caliper"), (all[1].Measured[0].Surface, all[1].Measured[0].DrawnMm, all[1].Measured[0].With));
        Assert.Equal([7.81, 7.79], all[1].Measured[0].ReadsMm);
        Assert.Equal(15.0 / 32 * 25.4, all[1].Measured[1].DrawnMm, 1e-9);

        PartTrial part = all[2].Part!;
        Assert.Equal(12.35, part.DrawnMm["bore_d"]);
        Assert.Equal(["stay"], part.Fits);
        Assert.Equal("the rim split", part.Broke);
        Assert.Equal(28, all[2].Place.Line);
    }

    /// <summary>Each line puts one wrong trial into line 15; the message says where, what and what to do.</summary>
    [Theory]
    [InlineData("{gauges: [{for: stay, goes: 12}]}", "15:5: a trial needs `on`, and it is missing; add on: a day (the day of the print, as 2026-05-31)")]
    [InlineData("{on: 2026-02-30, part: {fits: stay}}", "15:10: there is no day `2026-02-30`; write it as 2026-05-31: year, month, day")]
    [InlineData("{on: yesterday, part: {fits: stay}}", "15:10: `yesterday` is not a day; write it as 2026-05-31: year, month, day")]
    [InlineData("{on: 2026-05-31}", "15:5: a trial needs one of `gauges`, `measured` and `part`; add `gauges`, `measured` or `part`")]
    [InlineData("{on: 2026-05-31, part: {fits: stya}}", "15:35: there is no counterpart `stya`; did you mean `stay`?")]
    [InlineData("{on: 2026-05-31, part: {fits: anything}}", "15:35: there is no counterpart `anything`; add it under counterparts")]
    [InlineData("{on: 2026-05-31, part: {fits: stay, too_tight: stay}}", "15:41: `stay` stands in two answers; keep one of them")]
    [InlineData("{on: 2026-05-31, part: {fits: stay, drawn: {bore: 12}}}", "15:49: nothing defines the size `bore`; add it under sizes: bore: {about: …}")]
    [InlineData("{on: 2026-05-31, gauges: [{for: stay}]}", "15:31: a row of gauges needs one of `goes`, `too_tight` and `too_loose`; add `goes`, `too_tight` or `too_loose`")]
    [InlineData("{on: 2026-05-31, gauges: [{for: stay, goes: 12.2, too_tight: [12.1, 12.2]}]}", "15:55: the gauge of 12.2 mm is said to be too tight and to go; try it once more, and keep one answer")]
    [InlineData("{on: 2026-05-31, gauges: [{for: stay, goes: 12.2, too_loose: 12.2}]}", "15:55: the gauge of 12.2 mm stands in two answers; keep one answer")]
    [InlineData("{on: 2026-05-31, measured: [{surface: hole, drawn: 8, reads: 7.8}]}", "15:43: `hole` is not a kind of surface; write `outside`, `hole upright`, `hole lying`, `slot`, `height`, `first layer` or `centre distance`")]
    [InlineData("{on: 2026-05-31, measured: [{surface: slot, drawn: 8, reads: 7.8, with: calliper}]}", "15:77: there is no instrument `calliper`; did you mean `caliper`?")]
    public void What_is_wrong_is_said_with_its_place_and_remedy(string trial, string message)
    {
        string text = Corpus[..(Corpus.IndexOf("trials:\n", StringComparison.Ordinal) + 8)] + $"  - {trial}\n";
        Assert.Equal($"job.yaml:{message}", Assert.Single(JobFile.Read(text).Problems).In("job.yaml"));
    }

    [Fact]
    public void What_a_trial_settled_stands_with_the_print_and_names_sizes_that_fits_change()
    {
        string With(string drawn) => Corpus.Replace("way_up: up", $"way_up: up, drawn: {drawn}", StringComparison.Ordinal).Replace("shape:", "  od: {about: 20}\nshape:", StringComparison.Ordinal);
        Assert.Equal(12.41, JobFile.Read(With("{bore_d: 12.41}")).Job!.Print!.DrawnMm["bore_d"]);
        Assert.Equal("job.yaml:14:92: the size `od` is none that a fit changes; take it out, or name it under `changes` of a counterpart", Assert.Single(JobFile.Read(With("{od: 20}")).Problems).In("job.yaml"));
    }

    [Fact]
    public void A_print_that_is_told_of_twice_is_known_again()
    {
        Trial Of(string measured) => JobFile.Read(Corpus + $"  - {{on: 2026-06-09, measured: [{measured}]}}\n").Job!.Trials[^1];
        const string One = "{surface: slot, drawn: 8, reads: 7.8}", Other = "{surface: slot, drawn: 4, reads: [3.8, 3.9]}";
        Assert.True(Of($"{One}, {Other}").IsOfTheSamePrintAs(Of($"{One}, {Other}")));
        Assert.False(Of($"{One}, {Other}").IsOfTheSamePrintAs(Of($"{Other}, {One}")));
        // One feature may well read the same as another one of its kind.
        Assert.False(Of(One).IsOfTheSamePrintAs(Of(One)));
    }

    [Fact]
    public void A_trial_is_written_behind_the_others_and_nothing_else_changes()
    {
        JobValue trial = new JobValue.Group([("on", "2026-06-03"), ("part", new JobValue.Group([("fits", new JobValue.List(["stay"]))]))]);
        JobEdit more = TrialRecord.Added(Corpus, trial);
        Assert.Equal(4, JobFile.Read(more.Text!).Job!.Trials.Count);
        Assert.StartsWith(Corpus.TrimEnd('\n'), more.Text, StringComparison.Ordinal);

        string without = Corpus[..Corpus.IndexOf("trials:\n", StringComparison.Ordinal)] + "spares: {parts_in_use: 1, fails_each_per_year: 0.1, years: 5, chance_of_running_out: 0.1}\n";
        JobEdit first = TrialRecord.Added(without, trial);
        Assert.Single(JobFile.Read(first.Text!).Job!.Trials);
        Assert.Contains("\ntrials:\n  - {on: 2026-06-03, part: {fits: [stay]}}\n", first.Text, StringComparison.Ordinal);
        Assert.True(first.Text!.IndexOf("trials:", StringComparison.Ordinal) < first.Text.IndexOf("spares:", StringComparison.Ordinal));
        Assert.True(first.Text.IndexOf("print:", StringComparison.Ordinal) < first.Text.IndexOf("trials:", StringComparison.Ordinal));
    }
}
