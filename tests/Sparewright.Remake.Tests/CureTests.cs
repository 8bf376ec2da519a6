using System.Text.Json;
using Sparewright.Part;
using Sparewright.Part.Record;
using Sparewright.Part.Sizes;
using Sparewright.Remake.Bearing;
using Sparewright.Remake.Reports;
using Xunit;

namespace Sparewright.Remake.Tests;

/// <summary>What would better a margin: only what may be changed, and as much as it truly does.</summary>
public sealed class CureTests(AskedHook hook) : IClassFixture<AskedHook>
{
    /// <summary>A bigger fillet helps as much as the job with that fillet says, on grids of different cells: within 15 %.</summary>
    [Fact]
    public async Task A_bigger_round_gains_what_the_job_with_that_round_gets()
    {
        StrengthFound found = hook.Found;
        Cure round = Assert.Single(found.Cures!, c => c.Kind == CureKind.BiggerRound);
        Assert.Equal(("root", 3.0, 4.5), (round.What, round.FromMm!.Value, round.ToMm!.Value));
        StrengthFound with = (await hook.RunAsync("radius: 3", "radius: 4.5")).Value!;
        Assert.InRange(round.Margin.Value / with.Governing.Margin.Value, 0.85, 1.15);
        // By hand: a fillet of radius r has r²(1 − π/4) more material than a sharp corner: 2.41 mm² over 12 mm of PLA at 1.24 g/cm³.
        Assert.Equal((4.5 * 4.5 - 9) * (1 - Math.PI / 4) * 12, round.AddedMm3, 0.01);
        Assert.Equal(round.AddedMm3 / 1000 * 1.24, round.Grams.Value, 1e-9);
        // The table's spread of densities is 1.5 %, and ± two of them.
        Assert.Equal(0.03 * round.Grams.Value, round.Grams.PlusMinus, 1e-9);
        // By hand: 29 mm³ in a bead of 0.09 mm² are 322 mm, at 100 and 40 mm/s.
        Assert.Equal((322 / 6000.0, 322 / 2400.0), (round.Minutes!.Value.Quick, round.Minutes.Value.Slow), (a, b) => Math.Abs(a.Item1 - b.Item1) < 1e-3 && Math.Abs(a.Item2 - b.Item2) < 1e-3);
    }

    [Fact]
    public void Another_way_up_is_a_cure_and_text_and_json_say_each()
    {
        StrengthFound found = hook.Found;
        Cure way = Assert.Single(found.Cures!, c => c.Kind == CureKind.WayUp);
        Assert.Equal(found.Ways[0].Up.ToString().ToLowerInvariant(), way.What);
        Assert.Equal(found.Ways[0].Margin / found.Ways.Single(w => w.Up == found.Up).Margin, way.Gain.Times, 1e-12);
        Assert.Equal((0, 0), way.Grams);
        Assert.Null(way.Minutes);

        string text = PlainText.Of(StrengthReport.Of(found));
        Assert.Contains("What would better it", text, StringComparison.Ordinal);
        using JsonDocument json = JsonDocument.Parse(RemadeJson.Of(found));
        JsonElement[] told = [.. json.RootElement.GetProperty("cures").EnumerateArray()];
        Assert.Equal(found.Cures!.Select(c => (c.What, c.Gain.Times)), told.Select(c => (c.GetProperty("what").GetString()!, c.GetProperty("gain").GetDouble())));
        foreach (Cure cure in found.Cures!) Assert.Contains(CureReport.Words(cure, found), text, StringComparison.Ordinal);
    }

    /// <summary>
    /// By the example's counterparts: rod, pin and screws decide bore_d, pin_d, screw_d and screw_pitch; foot_t, socket_len and lug_w move the bore's end or the pin's axis. What is left are the lug's thickness and the socket's outside.
    /// </summary>
    [Fact]
    public void Sizes_on_which_a_counterpart_rests_are_left_alone()
    {
        Job job = JobFile.ReadFile(Path.Combine(Root, "examples", "vent-knuckle", "job.yaml")).Job!;
        var sizes = job.Sizes.At([.. job.Sizes.Free.Select(s => ((Given.About)s.Given).Value)]);
        IReadOnlyList<Thickening> found = Thickenings.Of(job, sizes);
        Assert.Equal(["lug_root and lug_root_behind", "lug_t", "socket_od"], found.Select(t => t.What).Order());
        Thickening lug = found.Single(t => t.What == "lug_t");
        Assert.Equal((CureKind.ThickerWall, 6.0, 7.5), (lug.Kind, lug.FromMm, lug.ToMm));
        Assert.Equal(7.5, lug.At(7.5).Sizes["lug_t"].Value);
        Assert.Equal(20, lug.At(7.5).Sizes["lug_w"].Value);
    }

    [Fact]
    public void What_suffices_comes_before_what_does_not_and_the_lighter_before_the_heavier()
    {
        Cure[] shuffled = [Of("most", 0.9, 0.1), Of("heavy", 1.2, 5), Of("spool", 1.5, 0, CureKind.Material), Of("light", 1.1, 2), Of("least", 0.5, 0)];
        Assert.Equal(["light", "heavy", "spool", "most", "least"], Cure.BestFirst(shuffled).Select(c => c.What));

        static Cure Of(string what, double margin, double grams, CureKind kind = CureKind.ThickerWall) => new(kind, what, 1, 2, (margin / 0.4, 0.1), (margin, 0.1), 1000 * grams, (grams, 0.1), "somewhere");
    }

    private static string Root
    {
        get
        {
            DirectoryInfo here = new(AppContext.BaseDirectory);
            while (!File.Exists(Path.Combine(here.FullName, "Sparewright.slnx"))) here = here.Parent!;
            return here.FullName;
        }
    }
}
