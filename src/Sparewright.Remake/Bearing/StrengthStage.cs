using System.Diagnostics;
using Sparewright.Measure.Numbers;
using Sparewright.Part;
using Sparewright.Part.Elements;
using Sparewright.Part.Record;
using Sparewright.Part.Shape;
using Sparewright.Solid;
using Sparewright.Strength.Cases;
using Sparewright.Strength.Loads;
using Sparewright.Strength.Margins;
using Sparewright.Strength.Materials;
using Sparewright.Strength.Solve;

namespace Sparewright.Remake.Bearing;

/// <summary>The stage that asks whether the part will hold: every load case on the finished solid, the ways up compared, and the old part under the same loads.</summary>
internal sealed class StrengthStage(OpenedJob opened, IReadOnlyDictionary<string, Dual> sizes, ExactSolid solid, Mesh mesh, bool shows, IProgress<StageProgress> progress, CancellationToken cancel)
{
    /// <summary>Cells for comparing ways up and finding the old part's weakest place: enough to tell one from another.</summary>
    private const int CellsToCompare = 25_000;

    /// <summary>The margin is shown on triangles with edges of so many cells.</summary>
    private const double ShownCells = 4;

    /// <summary>What an old part is taken to have been moulded of where nothing is said: the most common plastic of housings.</summary>
    private const string UsualMoulded = "ABS";

    private Job Job => opened.Job;

    public Result<StrengthFound> Run()
    {
        try
        {
            return Answered();
        }
        catch (NotConvergedException e)
        {
            return new Failure(false, [$"the solver did not get to an answer ({e.Message}); simplify the shape near thin walls and tips, and please report the job"]);
        }
    }

    private Result<StrengthFound> Answered()
    {
        var clock = Stopwatch.StartNew();
        if (Job.Loads.Count == 0) return Wrong(Place.None, "the job does not say what the part has to bear", "add its loads under loads: what pushes or pulls where, and what holds it meanwhile");
        if (Job.Print?.Material is not { } words) return Wrong(Place.None, "the job does not say what the part is printed in", "write it as print: {material: …}");
        MaterialTable table = MaterialTable.Published;
        if (table.Print(words, Job.TestBars) is not { } material)
            return Wrong(Place.None, $"nothing is known of the strength of “{words}”", $"write one of {string.Join(", ", table.PrintedNames)}");

        var part = new PartUnderLoad(mesh, solid.Faces, solid.VolumeMm3);
        var coarse = new PartUnderLoad(mesh, solid.Faces, solid.VolumeMm3, CellsToCompare);
        Result<Placed> onSolid = OnSolid(material.Habits, part.CellMm);
        if (onSolid.Value is not { } placed) return onSolid.Failure!;
        Direction up = Job.Print.WayUp ?? Direction.Up;
        int steps = placed.Cases.Count * (Job.MadeBy == MadeBy.Moulding ? 5 : 4), step = 0;

        MarginSurface? surface = shows ? MarginSurface.Of(mesh, solid.Faces, part.CellMm * ShownCells) : null;
        var cases = new List<CaseFound>();
        foreach (SolidLoadCase @case in placed.Cases)
        {
            progress.Report(new(Stage.Strength, (double)step++ / steps, $"solving the case “{@case.Load.Name}”"));
            Allowables allowables = AllowablesOf(material, @case.Load);
            CaseAnswer answer = part.Solve(@case, Vector(up), material.Stiffness, s => MaximumStress.Of(s, allowables.Strength), surface?.Points, null, cancel);
            if (answer.Solved is not { } solved) return Loose(@case.Load, answer);
            cases.Add(new(@case.Load, solved, NameOf(solved.Weakest.Point.Face), Margin.Of(solved.Weakest.Stress, allowables, solved.StressPlusMinus), allowables, MaximumStress.Of(solved.Weakest.Stress, Bare(material.Strengths)), surface is null ? null : MarginPicture.Of(surface, solved.Reserves)));
        }

        var ways = new List<WayUp>();
        foreach (Direction way in (Direction[])[up, .. new[] { Direction.Up, Direction.Right, Direction.Back }.Where(d => Math.Abs(Point3.Dot(Vector(d), Vector(up))) < 0.5)])
        {
            double least = double.PositiveInfinity;
            foreach (SolidLoadCase @case in placed.Cases)
            {
                progress.Report(new(Stage.Strength, (double)step++ / steps, $"comparing layers that lie with {way.ToString().ToLowerInvariant()} as the way up"));
                LayeredStrength strength = AllowablesOf(material, @case.Load).Strength;
                if (coarse.Solve(@case, Vector(way), material.Stiffness, s => MaximumStress.Of(s, strength), cancel: cancel).Solved is { } solved) least = Math.Min(least, solved.Weakest.Reserve.Factor);
            }

            ways.Add(new(way, least));
        }

        OldPart? old = Job.MadeBy == MadeBy.Moulding ? Old(table, coarse, ref step, steps) : null;
        return new StrengthFound(opened, material, up, Job.Print.WayUp is not null, cases, [.. ways.OrderByDescending(w => w.Margin)], old, clock.Elapsed.TotalSeconds);
    }

    private sealed record Placed(IReadOnlyList<SolidLoadCase> Cases);

    private Result<Placed> OnSolid(Habits habits, double cellMm)
    {
        var finder = new LoadsOnSolid(Job, sizes, solid.Faces, mesh, cellMm / 2, habits.DensityGPerCm3.Value);
        var found = new List<SolidLoadCase>();
        var problems = new List<Problem>();
        foreach (Load load in Job.Loads)
        {
            var (@case, wrong) = finder.Of(load);
            problems.AddRange(wrong);
            if (@case is not null) found.Add(@case);
        }

        return problems.Count > 0 ? Failure.Of(opened.Path, problems) : new Placed(found);
    }

    private OldPart? Old(MaterialTable table, PartUnderLoad coarse, ref int step, int steps)
    {
        MouldedMaterial? said = Job.MadeOf is { } words ? table.Mould(words) : null;
        MouldedMaterial material = said ?? table.Mould(UsualMoulded)!;
        if (OnSolid(material.Habits, coarse.CellMm).Value is not { } placed) return null;
        var places = new List<OldPlace>();
        foreach (SolidLoadCase @case in placed.Cases)
        {
            progress.Report(new(Stage.Strength, (double)step++ / steps, $"the old part under “{@case.Load.Name}”"));
            if (coarse.Solve(@case, Vector(Direction.Up), material.Stiffness, s => MaximumStress.OfMoulded(s, material.StrengthMPa.Value), cancel: cancel).Solved is not { Weakest: { } weakest }) continue;
            places.Add(new(@case.Load.Name, NameOf(weakest.Point.Face), weakest.Point.At, weakest.Reserve, [.. WhereItBroke().Select(n => (n, DistanceMm(n, weakest.Point.At))).Where(n => double.IsFinite(n.Item2))], Job.BrokeAt.Count > 0));
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

    private double DistanceMm(string name, Point3 from)
    {
        int[] faces = [.. Enumerable.Range(0, solid.Faces.Count).Where(f => solid.Faces[f].Names.Any(n => n == name || n.StartsWith(name + ".", StringComparison.Ordinal) || n.StartsWith(name + "#", StringComparison.Ordinal)))];
        return Patch.Of(name, mesh, faces.Contains, 1)?.Samples.Min(s => (s.At - from).Length) ?? double.PositiveInfinity;
    }

    private Allowables AllowablesOf(PrintMaterial material, Load load) => Allowables.Of(material, load.Times, load.Lasts, Job.Lives);

    private static LayeredStrength Bare(DirectionalStrengths s) => new(s.TensionInLayer.Value, s.CompressionInLayer.Value, s.TensionAcross.Value, s.CompressionAcross.Value, s.ShearAcross.Value, s.ShearInLayer.Value);

    private string NameOf(int face) => solid.Faces[face].Names is { Count: > 0 } names
        ? string.Join(" and ", names.Where(n => !names.Any(m => m.StartsWith(n + "#", StringComparison.Ordinal)))) : "a face without a name";

    private Failure Loose(Load load, CaseAnswer answer) => answer.Loose.Count > 1
        ? Wrong(load.Place, "the part is in more than one piece", "check the shape: what the load goes through must hang together")
        : Wrong(load.Place, $"nothing holds the part against “{load.Name}”: it is {answer.Loose[0].InWords}", "say what holds it: screwed, rests_on (which only pushes), held_fast or held_by");

    private Failure Wrong(Place place, string what, string remedy) => Failure.Of(opened.Path, [new Problem(place, what, remedy)]);

    private static Point3 Vector(Direction direction) => Point3.Of(direction.Vector());
}
