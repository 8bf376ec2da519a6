using System.Diagnostics;
using System.Globalization;
using Sparewright.Part;
using Sparewright.Part.Elements;
using Sparewright.Part.Record;
using Sparewright.Part.Shape;
using Sparewright.Remake.Reports;
using Sparewright.Solid;
using Sparewright.Strength.Cases;
using Sparewright.Strength.Loads;
using Sparewright.Strength.Margins;
using Sparewright.Strength.Materials;
using Sparewright.Strength.Solve;

namespace Sparewright.Remake.Bearing;

/// <summary>The stage that asks whether the part will hold: every load case on the finished solid, the ways up compared, and the old part under the same loads.</summary>
/// <param name="memoryBytes">What the machine has; a part that could need more is refused before anything is solved.</param>
internal sealed class StrengthStage(OpenedJob opened, LoadedPart part, bool shows, long memoryBytes, IProgress<StageProgress> progress, CancellationToken cancel)
{
    /// <summary>Cells for comparing ways up and cures and finding the old part's weakest place: enough to tell one from another.</summary>
    internal const int CellsToCompare = 25_000;

    /// <summary>Where in the stage's progress the cures begin.</summary>
    internal const double CuresFrom = 0.6;

    /// <summary>The margin is shown on triangles with edges of so many cells.</summary>
    private const double ShownCells = 4;

    /// <summary>What an old part is taken to have been moulded of where nothing is said: the most common plastic of housings.</summary>
    private const string UsualMoulded = "ABS";

    private readonly Stopwatch _clock = Stopwatch.StartNew();
    private int _step, _steps;
    private string _doing = "";

    private Job Job => opened.Job;

    public async Task<Result<StrengthFound>> RunAsync()
    {
        try
        {
            return await AnsweredAsync().ConfigureAwait(false);
        }
        catch (NotConvergedException e)
        {
            return new Failure(false, [$"the solver did not get to an answer ({e.Message}); simplify the shape near thin walls and tips, and please report the job"]);
        }
    }

    private async Task<Result<StrengthFound>> AnsweredAsync()
    {
        if (Job.Loads.Count == 0) return Wrong(Place.None, "the job does not say what the part has to bear", "add its loads under loads: what pushes or pulls where, and what holds it meanwhile");
        if (Job.Print?.Material is not { } words) return Wrong(Place.None, "the job does not say what the part is printed in", "write it as print: {material: …}");
        MaterialTable table = MaterialTable.Published;
        if (table.Print(words, Job.TestBars) is not { } material)
            return Wrong(Job.Print.MaterialPlace, $"nothing is known of the strength of “{words}”", $"write one of {string.Join(", ", table.PrintedNames)}");

        PartUnderLoad fine = part.InCells(PartUnderLoad.UsualCells), coarse = part.InCells(CellsToCompare);
        Result<PlacedLoads> loads = part.Loads(material.Habits, fine.CellMm);
        if (loads.Value is not { } placed) return loads.Failure!;
        Direction up = Job.Print.WayUp ?? Direction.Up;
        SolvingNeeds needs = fine.Needs(Vector(up), cancel);
        if (needs.MostBytes > memoryBytes)
            return Wrong(Place.None, $"to solve this part takes up to {StrengthReport.Memory(needs.MostBytes)} of memory ({StrengthReport.Cells(needs)}), and this machine has {StrengthReport.Memory(memoryBytes)}", "compute it where there is more memory, or give this machine or container more");
        progress.Report(new(Stage.Strength, 0, $"{StrengthReport.Cells(needs)}, up to {StrengthReport.Memory(needs.MostBytes)} of memory, {placed.Cases.Count} {(placed.Cases.Count == 1 ? "load" : "loads")}"));
        _steps = placed.Cases.Count * (Job.MadeBy == MadeBy.Moulding ? 2 : 1) + 3;

        MarginSurface? surface = shows ? MarginSurface.Of(part.Mesh, part.Solid.Faces, fine.CellMm * ShownCells) : null;
        var cases = new List<CaseFound>();
        foreach (SolidLoadCase @case in placed.Cases)
        {
            Report($"solving the case “{@case.Load.Name}” on {StrengthReport.Cells(needs)}, up to {StrengthReport.Memory(needs.MostBytes)} of memory");
            Allowables allowables = part.AllowablesOf(material, @case.Load);
            LayeredStrength strength = allowables.Strength;
            CaseAnswer answer = fine.Solve(@case, Vector(up), material.Stiffness, s => MaximumStress.Of(s, strength), surface?.Points, compares: true, new WithinStep(this), cancel);
            if (answer.Solved is not { } solved) return Loose(@case.Load, answer);
            cases.Add(new(@case.Load, solved, part.NameOf(solved.Weakest.Point.Face), Margin.Of(solved.Weakest.Stress, allowables, solved.StressPlusMinus), allowables, MaximumStress.Of(solved.Weakest.Stress, Bare(material.Strengths)), surface is null ? null : MarginPicture.Of(surface, solved.Reserves))
            { StrainOnce = material.StrainOnce, ClosedGaps = [.. solved.Closed.Select(g => new ClosedGap(part.NameOf(g.First), part.NameOf(g.Second), g.At, g.Mm))], Screws = [.. part.ScrewsPulledBy(@case.Load, material)], Next = solved.Next is { } next ? new(part.NameOf(next.Weakest.Point.Face), next.Weakest.Point.At, Margin.Of(next.Weakest.Stress, allowables, next.StressPlusMinus)) : null });
        }

        Direction[] directions = [up, .. new[] { Direction.Up, Direction.Right, Direction.Back }.Where(d => Math.Abs(Point3.Dot(Vector(d), Vector(up))) < 0.5)];
        var ways = new WayUp?[directions.Length];
        OldPart? old = null;
        // On coarse grids much of the work is one thread's: so several are solved side by side.
        await SideBySide.DoAsync(directions.Length + (Job.MadeBy == MadeBy.Moulding ? 1 : 0), n =>
        {
            if (n == directions.Length)
            {
                old = Old(table, coarse, cases);
                return default;
            }

            Report($"comparing layers that lie with {directions[n].ToString().ToLowerInvariant()} as the way up");
            if (part.Least(coarse, material, directions[n], cases, cancel) is { } least) ways[n] = new(directions[n], least);
            return default;
        }, cancel).ConfigureAwait(false);
        return new StrengthFound(opened, material, up, Job.Print.WayUp is not null, cases, [.. ways.OfType<WayUp>().OrderByDescending(w => w.Margin)], old, _clock.Elapsed.TotalSeconds) { Needs = needs };
    }

    private void Report(string doing) => Report(Interlocked.Increment(ref _step) - 1, doing);

    /// <summary>With the time that is left until the loads are answered, as soon as a tenth of it has gone.</summary>
    private void Report(double step, string doing)
    {
        double share = step / _steps, left = _clock.Elapsed.TotalSeconds * (1 - share) / Math.Max(share, 1e-3);
        _doing = doing;
        progress.Report(new(Stage.Strength, CuresFrom * share, share < 0.1 || left < 1.5 ? doing : string.Create(CultureInfo.InvariantCulture, $"{doing}, about {left:0} s to go")));
    }

    /// <summary>How far a case has come, within its step.</summary>
    private sealed class WithinStep(StrengthStage stage) : IProgress<double>
    {
        public void Report(double value) => stage.Report(stage._step - 1 + value, stage._doing);
    }

    private OldPart? Old(MaterialTable table, PartUnderLoad coarse, List<CaseFound> print)
    {
        MouldedMaterial? said = Job.MadeOf is { } words ? table.Mould(words) : null;
        MouldedMaterial material = said ?? table.Mould(UsualMoulded)!;
        if (part.Loads(material.Habits, coarse.CellMm).Value is not { } placed) return null;
        var places = new List<OldPlace>();
        foreach (var (n, @case) in placed.Cases.Index())
        {
            Report($"the old part under “{@case.Load.Name}”");
            if (coarse.Compared(@case, Vector(Direction.Up), material.Stiffness, s => MaximumStress.OfMoulded(s, material.StrengthMPa.Value), print[n].Solved.Pressed, cancel) is not { Weakest: var weakest } place) continue;
            places.Add(new(@case.Load.Name, part.NameOf(weakest.Point.Face), weakest.Point.At, weakest.Reserve, LeastMargin.Both(place.StressPlusMinus, 2 * material.StrengthMPa.Spread), place.CellMm * PartUnderLoad.PointsApartInWindow, [.. WhereItBroke().Select(n => (n, part.DistanceMm(n, weakest.Point.At))).Where(n => double.IsFinite(n.Item2))], Job.BrokeAt.Count > 0));
        }

        return new(material, said is null, places);
    }

    /// <summary>The elements that the job names, or else the features whose names stand in its words on the break.</summary>
    private IEnumerable<string> WhereItBroke()
    {
        if (Job.BrokeAt.Count > 0) return Job.BrokeAt.Select(e => e.Text);
        string broke = $" {string.Join(' ', (Job.Broke ?? "").Split([' ', '\n', '.', ',', ';', ':', '(', ')'], StringSplitOptions.RemoveEmptyEntries))} ";
        return Job.Shape.Select(f => f switch { Row r => r.Of.Name, Ring r => r.Of.Name, _ => f.Name }).Where(name => broke.Contains($" {name.Replace('_', ' ')} ", StringComparison.OrdinalIgnoreCase));
    }

    private static LayeredStrength Bare(DirectionalStrengths s) => new(s.TensionInLayer.Value, s.CompressionInLayer.Value, s.TensionAcross.Value, s.CompressionAcross.Value, s.ShearAcross.Value, s.ShearInLayer.Value);

    private Failure Loose(Load load, CaseAnswer answer)
    {
        const string Remedy = "say what holds it: screwed, rests_on (which only pushes), held_fast or held_by";
        if (answer.Loose.Count > 1) return Wrong(load.Place, "the part is in more than one piece", "check the shape: what the load goes through must hang together");
        return load.Holds.None ? Wrong(load.Place, $"nothing holds the part against “{load.Name}”: it is free to move every way", Remedy)
            : Wrong(load.Place, $"what holds the part against “{load.Name}” is not enough: it is {answer.Loose[0].InWords}", Remedy);
    }

    private Failure Wrong(Place place, string what, string remedy) => Failure.Of(opened.Path, [new Problem(place, what, remedy)]);

    private static Point3 Vector(Direction direction) => Point3.Of(direction.Vector());
}
