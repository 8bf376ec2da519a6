using System.Text.Json;
using Sparewright.Measure.Quantities;
using Sparewright.Part.Shape;
using Sparewright.Remake.Bearing;
using Sparewright.Remake.Reports;
using Sparewright.Solid;
using Sparewright.Strength.Cases;
using Sparewright.Strength.Margins;
using Xunit;

namespace Sparewright.Remake.Tests;

/// <summary>A hook of which it was asked once whether it will hold.</summary>
public sealed class AskedHook : IAsyncLifetime
{
    private readonly string _folder = Directory.CreateTempSubdirectory("sparewright-strength-").FullName;

    internal StrengthFound Found { get; private set; } = null!;

    /// <summary>What was told while it was looked for.</summary>
    internal Told Told { get; } = new();

    internal const string Hook = """
        sparewright: 1
        part: Hook
        made_by: moulding
        broke: the post tore at the root
        broke_at: root.face
        could_injure: {why: it holds a lamp over a desk, acknowledged: "I know that this part could injure someone if it fails, and nobody has approved it"}
        lives: {sun: no, wet: no, hottest: 62 degC}
        shape:
          - {block: foot, long: 20, deep: 12, tall: 6, corner_at: [0, 0, 0]}
          - {block: post, long: 6, deep: 12, tall: 30, corner_at: [0, 0, 0]}
          - {fillet: root, meeting: [foot.top, post.right], radius: 3}
        loads:
          - {name: leaned on, push: {at: post.top, newtons: 10, toward: left}, held_fast: foot.bottom, times: once}
        print: {material: PLA, way_up: up}
        """;

    public async ValueTask InitializeAsync() => Found = (await RunAsync(progress: Told)).Value!;

    public ValueTask DisposeAsync()
    {
        Directory.Delete(_folder, true);
        return ValueTask.CompletedTask;
    }

    internal async Task<Result<StrengthFound>> RunAsync(string good = "", string bad = "", long? memoryBytes = null, IProgress<StageProgress>? progress = null)
    {
        Assert.Contains(good, Hook, StringComparison.Ordinal);
        string path = Path.Combine(_folder, "job.yaml"), text = good.Length == 0 ? Hook : Hook.Replace(good, bad, StringComparison.Ordinal);
        await File.WriteAllTextAsync(path, text, TestContext.Current.CancellationToken);
        OpenedJob job = OpenedJob.Open(path) is { Value: { } opened } ? opened : throw new InvalidOperationException(string.Join('\n', OpenedJob.Open(path).Failure!.Messages));
        return await new RemakePipeline(KernelProgram.Find().OrThrow(), [], TimeProvider.System) { MemoryBytes = memoryBytes ?? long.MaxValue }.StrengthAsync(job, shows: false, progress ?? new Progress<StageProgress>(), TestContext.Current.CancellationToken);
    }
}

internal sealed class Told : IProgress<StageProgress>
{
    public System.Collections.Concurrent.ConcurrentQueue<StageProgress> All { get; } = [];

    public void Report(StageProgress value) => All.Enqueue(value);
}

/// <summary>From a job's words to whether it will hold.</summary>
public sealed class StrengthTests(AskedHook hook) : IClassFixture<AskedHook>
{
    /// <summary>How many cells it takes and how much memory at most is told before anything is solved, and kept with what was found; then how long it takes.</summary>
    [Fact]
    public void What_solving_takes_is_told_before_it_begins()
    {
        StrengthFound found = hook.Found;
        string[] doing = [.. hook.Told.All.Where(p => p.Stage == Stage.Strength).Select(p => p.Doing)];
        Assert.Equal($"{StrengthReport.Cells(found.Needs)}, up to {StrengthReport.Memory(found.Needs.MostBytes)} of memory, 1 load", doing[0]);
        Assert.Contains(doing, d => d.Contains(" s to go", StringComparison.Ordinal));
        Assert.InRange(found.Needs.Cells, 200_000, found.Governing.Solved.Elements);
        // Some 60 bytes for each of three unknowns a cell or more.
        Assert.InRange(found.Needs.MostBytes, 180L * found.Needs.Cells, 2_000L * found.Needs.Cells);
        Assert.Contains($"up to {StrengthReport.Memory(found.Needs.MostBytes)} of memory", PlainText.Of(StrengthReport.Of(found)), StringComparison.Ordinal);
    }

    [Fact]
    public void A_gap_that_the_cells_closed_is_named_with_what_follows()
    {
        CaseFound leaned = hook.Found.Cases[0];
        Assert.DoesNotContain(StrengthReport.Remarks(leaned), r => r.Contains("of air", StringComparison.Ordinal));
        string told = Assert.Single(StrengthReport.Remarks(leaned with { ClosedGaps = [new("one.back", "other.front", new(1, 2, 3), 0.12)] }), r => r.Contains("of air", StringComparison.Ordinal));
        Assert.StartsWith("The 0.12 mm of air between one.back and other.front at (1.0, 2.0, 3.0) is too little for cells of ", told, StringComparison.Ordinal);
        Assert.Contains("Take the margin as a guess", told, StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_the_machine_has_no_memory_for_is_refused_with_a_remedy_before_it_is_solved()
    {
        var told = new Told();
        Failure failure = (await hook.RunAsync(memoryBytes: 50_000_000, progress: told)).Failure!;
        string message = Assert.Single(failure.Messages);
        Assert.Contains("and this machine has 50 MB", message, StringComparison.Ordinal);
        Assert.Contains("compute it where there is more memory", message, StringComparison.Ordinal);
        Assert.DoesNotContain(told.All, p => p.Doing.Contains("solving", StringComparison.Ordinal));
    }

    /// <summary>
    /// By hand: a bending moment of 10 N × 24 mm or less on 12 × 6 mm is 3.3 MPa at the root, times the fillet's factor of up to 2; allowed across the layers is 22.8 × 0.5 × 0.5 / 3 = 1.9 MPa. Lying, 43.7 instead of 22.8.
    /// </summary>
    [Fact]
    public void The_root_of_a_post_is_found_with_its_margin_its_way_to_go_and_the_better_way_up()
    {
        StrengthFound found = hook.Found;

        CaseFound leaned = Assert.Single(found.Cases);
        Assert.Equal("root.face", leaned.Element);
        Assert.Equal(FailureMode.LayersPulledApart, leaned.Margin.Mode);
        double allowed = 22.8 * 0.5 * 0.5 / 3, bending = 10 * 24 / (12 * 6.0 * 6 / 6);
        Assert.InRange(leaned.Margin.Value, allowed / (2 * bending), allowed / bending);
        Assert.Equal(leaned.ShortTerm.Factor, leaned.Margin.Value / (0.5 * 0.5 / 3), 1e-6);
        Assert.True(leaned.Margin.PlusMinus > 0.2 * leaned.Margin.Value && found.NeedsAttention);

        Assert.Equal(3, found.Ways.Count);
        Assert.NotEqual(Direction.Up, found.Ways[0].Up);
        Assert.InRange(found.Ways[0].Margin / found.Ways.Single(w => w.Up == Direction.Up).Margin, 1.4, 2.5);

        OldPlace old = Assert.Single(found.Old!.Places);
        Assert.True(found.Old.Guessed && old.Agrees == true);
    }

    [Fact]
    public void The_report_and_the_json_say_the_same_and_never_call_it_safe()
    {
        StrengthFound found = hook.Found;
        string text = PlainText.Of(StrengthReport.Of(found));
        Assert.StartsWith("Hook\n!! CAUTION, could injure: it holds a lamp over a desk.", text, StringComparison.Ordinal);
        Assert.Contains("!! PLA goes soft at about 60 °C, and the part gets as hot as 62 °C: take another", text, StringComparison.Ordinal);
        Assert.Contains("layers pulled apart", text, StringComparison.Ordinal);
        Assert.Contains($"Margin {StrengthReport.WithError(found.Cases[0].Margin)}: asked for", text, StringComparison.Ordinal);
        Assert.All(text.Split('\n'), line => Assert.True(line.Length <= 130, line));
        Assert.Contains("agrees with where it broke", text, StringComparison.Ordinal);
        Assert.DoesNotContain("safe ", text, StringComparison.OrdinalIgnoreCase);

        using JsonDocument json = JsonDocument.Parse(RemadeJson.Of(found));
        JsonElement of = json.RootElement.GetProperty("cases")[0], weakest = of.GetProperty("weakest");
        Assert.Equal("leaned on", of.GetProperty("name").GetString());
        Assert.Equal(found.Cases[0].Margin.Value, of.GetProperty("margin").GetDouble());
        Assert.Equal(found.Cases[0].Margin.PlusMinus, of.GetProperty("marginError").GetDouble());
        Assert.Equal(("root.face", "layers pulled apart", 3), (weakest.GetProperty("element").GetString(), weakest.GetProperty("mode").GetString(), weakest.GetProperty("at").GetArrayLength()));
        Assert.True(weakest.GetProperty("maxPrincipalMPa").GetDouble() > 0 && of.GetProperty("displacementMm").GetDouble() > 0 && of.GetProperty("elements").GetInt32() > 10_000 && of.GetProperty("seconds").GetDouble() > 0);
        Assert.Equal(found.Ways[0].Up.ToString().ToLowerInvariant(), json.RootElement.GetProperty("bestWayUp").GetProperty("up").GetString());
        Assert.True(json.RootElement.GetProperty("oldPart").GetProperty("cases")[0].GetProperty("agreesWithTheBreak").GetBoolean());
    }

    [Fact]
    public void In_inches_lengths_are_in_inches_and_stresses_stay_in_MPa()
    {
        SolvedCase solved = hook.Found.Cases[0].Solved;
        ReportPart[] parts = [.. StrengthReport.Found(hook.Found, LengthUnit.Inch).Parts];
        // The bead for which minutes are told is the printer's, whatever lengths are shown in.
        string[] told = [.. parts.OfType<ReportPart.Line>().Select(l => l.Text).Where(t => !t.Contains("bead of", StringComparison.Ordinal)), .. parts.OfType<ReportPart.Table>().SelectMany(t => t.Rows).SelectMany(r => r.Cells)];
        Assert.All(told, t => Assert.DoesNotMatch(@"\d mm", t));
        Assert.Contains(told, t => t.Contains($"It gives way by up to {solved.DisplacementMm / 25.4:0.0000} ± ", StringComparison.Ordinal) && t.Contains(" MPa ", StringComparison.Ordinal));
        Assert.Contains(told, t => t.Contains($" cells of {hook.Found.Needs.CellMm / 25.4:0.0000} in, ", StringComparison.Ordinal));
        Assert.Matches(@"It would go first at root\.face, \(-?\d\.\d{3}, -?\d\.\d{3}, -?\d\.\d{3}\) ± 0\.\d{3} in: ", string.Join('\n', told));
    }

    /// <summary>Ways up, cures and the next weakest place are numbers that people act on: each with its ±, in the report and for other programs.</summary>
    [Fact]
    public void What_is_compared_has_its_plus_minus()
    {
        StrengthFound found = hook.Found;
        ReportPart[] parts = [.. StrengthReport.Found(found).Parts];
        ReportPart.Table ways = parts.OfType<ReportPart.Table>().Single(t => t.Columns[0] == "way up"), cures = parts.OfType<ReportPart.Table>().Single(t => t.Columns[0] == "change");
        Assert.All(ways.Rows, row => Assert.Matches(@"^\d+(\.\d+)? ± \d", row.Cells[1]));
        Assert.All(cures.Rows, row => Assert.Matches(@"^× \d+(\.\d+)? ± \d", row.Cells[1]));
        Assert.All(cures.Rows, row => Assert.Matches(@"^\d+(\.\d+)? ± \d", row.Cells[2]));
        // Two grids that differ in cell size say how far off each may be; a comparison is less sure than either.
        Assert.All(found.Ways, way => Assert.InRange(way.Least.StressPlusMinus, 1e-4, 0.5));
        Assert.All(found.Cures!, cure => Assert.True(cure.Gain.PlusMinus >= cure.Gain.Times * found.Ways.Single(w => w.Up == found.Up).Least.StressPlusMinus));

        string text = PlainText.Of(StrengthReport.Of(found)).ReplaceLineEndings(" ");
        NextPlace next = Assert.IsType<NextPlace>(found.Cases[0].Next);
        Assert.True(next.Margin.Value >= found.Cases[0].Margin.Value);
        Assert.Contains($"Next weakest, judged as closely: {next.Element}, ", text, StringComparison.Ordinal);
        Assert.Contains("What would make it surer: print a bar standing and one lying", text, StringComparison.Ordinal);
        using JsonDocument json = JsonDocument.Parse(RemadeJson.Of(found));
        Assert.Equal(next.Margin.PlusMinus, json.RootElement.GetProperty("cases")[0].GetProperty("next").GetProperty("marginError").GetDouble());
        Assert.True(json.RootElement.GetProperty("cases")[0].GetProperty("displacementErrorMm").GetDouble() > 0);
        Assert.All(json.RootElement.GetProperty("bestWayUp").GetProperty("ways").EnumerateArray(), way => Assert.True(way.GetProperty("marginError").GetDouble() > 0));
        Assert.All(json.RootElement.GetProperty("cures").EnumerateArray(), cure => Assert.True(cure.GetProperty("gainError").GetDouble() > 0 && cure.GetProperty("marginError").GetDouble() > 0));
        Assert.Equal(StrengthReport.Surer(found), json.RootElement.GetProperty("surer").GetString());
    }

    [Fact]
    public async Task A_bar_of_ones_own_raises_what_is_allowed_across_the_layers_until_another_way_to_go_comes_first()
    {
        CaseFound table = hook.Found.Cases[0];
        CaseFound own = (await hook.RunAsync("print: {material: PLA, way_up: up}", "print: {material: PLA, way_up: up}\ntest_bars:\n  - {printed: standing, section: [10, 4], newtons: [1216, 1216, 1216], plus_minus: 5}")).Value!.Cases[0];
        // 1216 N on 40 mm² are 30.4 MPa instead of 22.8; divided by 1.5 instead of 3. Along the layers the table still says 43.7 divided by 3.
        Assert.Equal(30.4 * 0.5 * 0.5 / 1.5, own.Allowables.Strength.TensionAcross, 1e-9);
        Assert.Equal(43.7 * 0.5 * 0.5 / 3, own.Allowables.Strength.TensionInLayer, 1e-9);
        Assert.InRange(own.Margin.Value / table.Margin.Value, 1.5, 43.7 / 22.8);
        Assert.NotEqual(FailureMode.LayersPulledApart, own.Margin.Mode);
    }

    [Theory]
    [InlineData("pressure: {at: lid.top, bar: 2}", true)]
    [InlineData("push: {at: lid.top, newtons: 20, toward: down}", false)]
    public async Task What_is_under_pressure_gets_its_caution_though_it_is_said_to_injure_nobody(string load, bool cautioned)
    {
        string lid = $"sparewright: 1\npart: Lid\ncould_injure: no\nshape:\n  - {{block: lid, long: 12, deep: 12, tall: 3, corner_at: [0, 0, 0]}}\nloads:\n  - {{name: a load, {load}, held_fast: lid.bottom}}\nprint: {{material: PLA, way_up: up}}\n";
        StrengthFound found = (await hook.RunAsync(AskedHook.Hook, lid)).Value!;
        Assert.Equal(cautioned, StrengthReport.Cautions(found).Any(c => c.Contains("can burst", StringComparison.Ordinal)));
    }

    /// <summary>By hand: a hole of 3 mm and a thread of 3.44 mm outside (ST3.5, ISO 1478): π · 3.22 · 10 mm · 22.8/√3 MPa · 0.4 / 3 (now and then; a table's strength).</summary>
    [Fact]
    public async Task A_screw_that_is_pulled_out_is_held_against_its_thread()
    {
        const string Boss = """
            sparewright: 1
            part: Boss
            could_injure: no
            sizes: {core_d: {about: 3}}
            shape:
              - {block: base, long: 30, deep: 30, tall: 4, corner_at: [-15, -15, 0]}
              - {boss: post, stands_on: base.top, diameter: 9, height: 12}
              - {hole: core, from: post.top, diameter: core_d, depth: 10}
            counterparts:
              - {screw: lid, thread: ST3.5, goes_into: core, changes: core_d}
            loads:
              - {name: lid pulled, pull: {by: lid, newtons: 60, toward: up}, held_fast: base.bottom}
            print: {material: PLA, way_up: up}
            """;
        StrengthFound found = (await hook.RunAsync(AskedHook.Hook, Boss)).Value!;
        PulledScrew screw = Assert.Single(found.Cases[0].Screws);
        Assert.Equal(60, screw.AskedN, 1e-9);
        Assert.Equal(Math.PI * 3.22 * 10 * 22.8 * 0.5774 * 0.4 / 3, screw.AllowedN, 0.01 * screw.AllowedN);
        // It shears somewhere between 3 and 3.44 mm; the table's strengths spread by 10 %, of which two count.
        Assert.Equal(Math.Sqrt(0.44 / 6.44 * (0.44 / 6.44) + 0.2 * 0.2), screw.PlusMinus, 0.005);
        Assert.Contains("Screw lid is pulled out of core with 60 N. By the formula its thread is allowed 178 ± 38 N", PlainText.Of(StrengthReport.Of(found)).ReplaceLineEndings(" "), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("  - {name: leaned on, push: {at: post.top, newtons: 10, toward: left}, held_fast: foot.bottom, times: once}\n", "  []\n", "the job does not say what the part has to bear")]
    [InlineData("material: PLA", "material: brass", "job.yaml:14:19: nothing is known of the strength of “brass”; write one of PLA, PETG, ABS, ASA, PA, PC, PP, resin")]
    [InlineData("print: {material: PLA, way_up: up}", "print: {way_up: up}", "the job does not say what the part is printed in; write it as print: {material: …}")]
    [InlineData("held_fast: foot.bottom", "rests_on: foot.bottom", "what holds the part against “leaned on” is not enough: it is free to shift along x")]
    [InlineData(", held_fast: foot.bottom", "", "nothing holds the part against “leaned on”: it is free to move every way; say what holds it")]
    [InlineData("at: post.top", "at: post.nose", "`post.nose` has no face on the finished solid")]
    public async Task What_cannot_be_answered_is_the_jobs_to_mend_and_says_where(string good, string bad, string message)
    {
        Result<StrengthFound> result = await hook.RunAsync(good, bad);
        Assert.Null(result.Value);
        Assert.True(result.Failure!.JobIsWrong);
        Assert.Contains(message, Assert.Single(result.Failure.Messages), StringComparison.Ordinal);
    }
}
