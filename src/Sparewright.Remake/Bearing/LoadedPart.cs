using Sparewright.Fit.Tables;
using Sparewright.Measure.Numbers;
using Sparewright.Part;
using Sparewright.Part.Elements;
using Sparewright.Part.Record;
using Sparewright.Part.Shape;
using Sparewright.Solid;
using Sparewright.Strength.Cases;
using Sparewright.Strength.Formulas;
using Sparewright.Strength.Loads;
using Sparewright.Strength.Margins;
using Sparewright.Strength.Materials;

namespace Sparewright.Remake.Bearing;

/// <summary>A finished solid on which the job's loads are to be found.</summary>
/// <param name="sizes">At which the solid was built.</param>
internal sealed class LoadedPart(OpenedJob opened, IReadOnlyDictionary<string, Dual> sizes, ExactSolid solid, Mesh mesh)
{
    private readonly Dictionary<(double CellMm, double DensityGPerCm3), Result<PlacedLoads>> _placed = [];

    public IReadOnlyDictionary<string, Dual> Sizes => sizes;

    public ExactSolid Solid => solid;

    public Mesh Mesh => mesh;

    /// <summary>The part cut into so many cells.</summary>
    public PartUnderLoad InCells(int cells) => new(mesh, solid.Faces, solid.VolumeMm3, cells);

    /// <summary>Every load of the job on the solid, or what must be put right first. Found once for each size of cells and density, whoever asks.</summary>
    public Result<PlacedLoads> Loads(Habits habits, double cellMm)
    {
        var of = (cellMm, habits.DensityGPerCm3.Value);
        lock (_placed) return _placed.TryGetValue(of, out Result<PlacedLoads> known) ? known : _placed[of] = Place(habits, cellMm);
    }

    private Result<PlacedLoads> Place(Habits habits, double cellMm)
    {
        var finder = new LoadsOnSolid(opened.Job, sizes, solid.Faces, mesh, cellMm / 2, habits.DensityGPerCm3.Value);
        var found = new List<SolidLoadCase>();
        var problems = new List<Problem>();
        foreach (Load load in opened.Job.Loads)
        {
            var (@case, wrong) = finder.Of(load);
            problems.AddRange(wrong);
            if (@case is not null) found.Add(@case);
        }

        return problems.Count > 0 ? Failure.Of(opened.Path, problems) : new PlacedLoads(found);
    }

    /// <summary>The least margin of all loads as a print, and the face it is at; null where a load cannot be placed or the part gets away.</summary>
    /// <param name="before">The same loads on this part or one much like it, answered: what is pressed there is a good guess here.</param>
    public LeastMargin? Least(PartUnderLoad part, PrintMaterial material, Direction up, IReadOnlyList<CaseFound> before, CancellationToken cancel)
    {
        if (Loads(material.Habits, part.CellMm).Value is not { } placed) return null;
        LeastMargin? least = null;
        foreach (var (n, @case) in placed.Cases.Index())
        {
            Allowables allowables = AllowablesOf(material, @case.Load);
            LayeredStrength strength = allowables.Strength;
            if (part.Compared(@case, Point3.Of(up.Vector()), material.Stiffness, s => MaximumStress.Of(s, strength), before[n].Solved.Pressed, cancel) is not { } place) return null;
            if (least is null || place.Weakest.Reserve.Factor < least.Margin.Value) least = new(Margin.Of(place.Weakest.Stress, allowables, place.StressPlusMinus), place.StressPlusMinus, NameOf(place.Weakest.Point.Face));
        }

        return least;
    }

    /// <summary>The self-tapping screws that a load pulls out along their axes.</summary>
    public IEnumerable<PulledScrew> ScrewsPulledBy(Load load, PrintMaterial material)
    {
        foreach (LoadAction.Force force in load.Actions.OfType<LoadAction.Force>())
        {
            if (opened.Job.Counterparts.FirstOrDefault(c => c.Name == force.At.Counterpart) is not { Kind: CounterpartKind.Screw, How: Meeting.GoesInto, Size: OwnSize.OfThread { Thread: var thread } } screw) continue;
            if (Threads.SelfTapping.FirstOrDefault(t => t.Name == thread) is not { Name: not null } own) continue;
            if (solid.Faces.FirstOrDefault(f => f is { Kind: SurfaceKind.Cylinder, Bulges: false } && (f.Bears(screw.Where.Text) || f.Bears(screw.Where.Text + ".wall"))) is not { } wall) continue;
            double along = Math.Abs(Point3.Dot(wall.Direction, Point3.Of(force.Toward.Vector()))) * force.Newtons;
            if (along < 0.05 * force.Newtons) continue;
            Point3 box = wall.High - wall.Low;
            double outside = (own.Screw.LowMm + own.Screw.HighMm) / 2, engaged = Math.Abs(box.X * wall.Direction.X) + Math.Abs(box.Y * wall.Direction.Y) + Math.Abs(box.Z * wall.Direction.Z);
            // Half-way between the hole, where the thread begins, and its outside.
            var pull = new ScrewPullOut(outside / 2 + wall.RadiusMm, engaged);
            double plusMinus = LeastMargin.Both(ScrewPullOut.PlusMinus(2 * wall.RadiusMm, outside), 2 * material.Strengths.ShearAcross.Spread);
            yield return new(screw.Name, screw.Where.Text, along, pull.Newtons(AllowablesOf(material, load).Strength.ShearAcross), pull.Newtons(material.Strengths.ShearAcross.Value), plusMinus, engaged, ScrewPullOut.LeastEngagement * outside);
        }
    }

    /// <summary>The same job's part, built at other sizes.</summary>
    public LoadedPart Changed(IReadOnlyDictionary<string, Dual> to, ExactSolid built, Mesh over) => new(opened, to, built, over);

    /// <summary>How far a feature or element is from a point; infinite where it has no face.</summary>
    public double DistanceMm(string name, Point3 from)
    {
        int[] faces = [.. Enumerable.Range(0, solid.Faces.Count).Where(f => solid.Faces[f].Names.Any(n => n == name || n.StartsWith(name + ".", StringComparison.Ordinal) || n.StartsWith(name + "#", StringComparison.Ordinal)))];
        return Patch.Of(name, mesh, faces.Contains, 1)?.Samples.Min(s => (s.At - from).Length) ?? double.PositiveInfinity;
    }

    public Allowables AllowablesOf(PrintMaterial material, Load load) => Allowables.Of(material, load.Times, load.Lasts, opened.Job.Lives);

    /// <summary>The names of a face; of a copy's, not that of all copies.</summary>
    public string NameOf(int face) => solid.Faces[face].Names is { Count: > 0 } names
        ? string.Join(" and ", names.Where(n => !names.Any(m => m.StartsWith(n + "#", StringComparison.Ordinal)))) : "a face without a name";
}

/// <summary>The job's loads on a solid, in its order.</summary>
internal sealed record PlacedLoads(IReadOnlyList<SolidLoadCase> Cases);
