using System.Text.Json;
using Sparewright.Measure.Quantities;
using Sparewright.Part;
using Sparewright.Reconcile.Findings;
using Sparewright.Remake.Fits;
using Sparewright.Remake.Reports;
using Xunit;

namespace Sparewright.Remake.Tests;

/// <summary>From a job's text to the sizes to draw and what is said of them.</summary>
public class FitWorkTests
{
    private static FoundFits Found(string text)
    {
        JobReading read = JobFile.Read(text);
        Assert.Empty(read.Problems.Select(p => p.In("job.yaml")));
        var opened = new OpenedJob("job.yaml", read.Job!, "", 0);
        Reconciled reconciled = opened.ReconcileWithoutVolume().Value!;
        return FitWork.Find(opened, reconciled, cancel: TestContext.Current.CancellationToken).Value!;
    }

    private static string Block(string clearance, string print, string more = "") => $$"""
        sparewright: 1
        part: block
        could_injure: no
        instruments:
          caliper: {kind: digital caliper, resolution: 0.01, mpe: 0.03, zero_error: 0.00, inside_jaw_flat: 0}
        sizes:
          bore_d: {about: 10}
        shape:
          - {block: body, long: 30, deep: 30, tall: 12, corner_at: [0, 0, 0]}
          - {hole: bore, from: body.top, at: [15, 15], diameter: bore_d, through: body}
        readings:
          - {inside: bore.wall, reads: [10.02, 10.03]}
        counterparts:
          - {rod: stay, reads: [9.95, 9.96, 9.95], goes_through: bore, changes: bore_d, clearance: {{clearance}}}
        wanted_odds: 0.9
        print: {way_up: up, material: PLA{{print}}}
        {{more}}
        """;

    /// <summary>Sixteen holes on two days that scatter by 0.05 mm, so that the bias is known and the next copy is not.</summary>
    private static readonly string ScatteringPrinter = "trials:\n" + string.Join('\n', ((string[])["2026-02-01", "2026-02-02"]).Select(day =>
        $"  - {{on: {day}, measured: [{string.Join(", ", ((double[])[-0.27, -0.14, -0.23, -0.16, -0.24, -0.18, -0.20, -0.17]).Select(off => FormattableString.Invariant($"{{surface: hole upright, drawn: 10, reads: {10 + off:0.00}}}")))}]}}"));

    [Fact]
    public void Sizes_change_no_further_than_the_wanted_odds_ask_where_the_job_says_so()
    {
        FoundFits best = Found(Block("[0.1, 0.9]", "")), least = Found(Block("[0.1, 0.9]", ", change_least: yes"));
        Assert.InRange(least.AllTogether, 0.9, best.AllTogether - 0.02);
        Assert.InRange(least.ForTheFitsByMm["bore_d"], 0.05, best.ForTheFitsByMm["bore_d"] - 0.05);
    }

    /// <summary>12 g and 40 min of one, 10.8 cm³ less the hole; heated up once for all.</summary>
    [Fact]
    public void Where_copies_differ_too_much_several_in_one_go_are_told_with_what_they_take()
    {
        FoundFits found = Found(Block("[0.10, 0.18]", "", ScatteringPrinter)) with { PartMm3 = 10_000 };
        Assert.InRange(found.AllTogether, 0.4, 0.7);
        Assert.NotNull(found.InOneGo);
        Assert.InRange(found.InOneGo.Odds, found.AllTogether + 0.15, 0.99);
        string words = FitWords.InOneGo(found);
        Assert.Matches(@"^Or print \d copies in one go, all drawn alike, try each and keep the one that fits: the odds are( only)? \d\d % that one of them fits\. They take about \d\d(\.\d)? g and \d+ min, one alone 12 g and 40 min\.", words);
        Assert.Contains("They take the plastic of", FitWords.InOneGo(found with { PartMm3 = null }), StringComparison.Ordinal);
        Assert.Contains("in one go, all drawn alike", PlainText.Of(RemadeReport.Of(found, LengthUnit.Millimetre)).ReplaceLineEndings(" "), StringComparison.Ordinal);

        using var json = JsonDocument.Parse(RemadeJson.Of(found));
        JsonElement copies = json.RootElement.GetProperty("copies");
        Assert.Equal(found.Copies.Count, copies.GetArrayLength());
        Assert.Equal(24, copies[0].GetProperty("grams").GetDouble(), 1e-9);
        Assert.Equal(70, copies[0].GetProperty("minutes").GetDouble(), 1e-9);
    }

    /// <summary>A coupon does more for a printer that nobody measured, and takes less plastic than whole parts.</summary>
    [Fact]
    public void Copies_are_not_told_where_another_cure_brings_as_much()
    {
        FoundFits found = Found(Block("[0.10, 0.35]", ""));
        Assert.NotEmpty(found.Copies);
        Assert.Contains(found.Cures, c => c.OddsAfter >= found.Copies[^1].Odds);
        Assert.Null(found.InOneGo);
        Assert.Equal("", FitWords.InOneGo(found));
    }

    /// <summary>0.01 mm is 0.0004 in: with three decimals a change of two steps could not be told from one.</summary>
    [Fact]
    public void Inches_are_told_to_the_digits_that_sizes_are_drawn_to()
    {
        FoundFits found = Found(Block("[0.1, 0.5]", ""));
        string text = PlainText.Of(RemadeReport.Of(found, LengthUnit.Inch));
        double drawn = (found.Fits.DrawnMm["bore_d"] + found.ForTheFitsByMm["bore_d"]) / 25.4;
        Assert.Contains(FormattableString.Invariant($"{drawn:0.0000} in"), text, StringComparison.Ordinal);
        Assert.Contains("0.0039 in to 0.0197 in", text, StringComparison.Ordinal);
    }
}
