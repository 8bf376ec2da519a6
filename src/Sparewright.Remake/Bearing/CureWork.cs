using System.Globalization;
using Sparewright.Part.Elements;
using Sparewright.Solid;
using Sparewright.Strength.Margins;
using Sparewright.Strength.Materials;
using Sparewright.Strength.Solve;

namespace Sparewright.Remake.Bearing;

/// <summary>
/// What would better the least margin, each computed: the part built again at the changed size and put under every load on a grid of the same cells.
/// Where the rounds and walls are many, those nearest to the weakest place are tried.
/// </summary>
internal sealed class CureWork(KernelProgram kernel, LoadedPart part, IProgress<StageProgress> progress, CancellationToken cancel)
{
    /// <summary>So many rounds and so many walls are built again at most.</summary>
    private const int MostOfEach = 3;

    /// <summary>A gain below this may be the grid's doing.</summary>
    internal const double LeastGain = 1.1;

    public async Task<StrengthFound> AddToAsync(StrengthFound found)
    {
        List<Thickening> shapes = NearestFirst(found);
        string? material = BestMaterial(found);
        int steps = shapes.Count + (material is null ? 0 : 1), step = -1;
        var cures = new List<Cure>();

        WayUp now = found.Ways.First(w => w.Up == found.Up), best = found.Ways[0];
        Consider(CureKind.WayUp, best.Up.ToString().ToLowerInvariant(), null, null, best.Least, part.Solid, found.Material);
        var tried = new Tried?[shapes.Count];
        LeastMargin? inOther = null;
        PrintMaterial? other = material is null ? null : MaterialTable.Published.Print(material, found.Job.Job.TestBars)!;
        // Building is the kernel's work, which has one thread, and so is much of what a coarse grid takes: as many at a time as there are processors.
        await SideBySide.DoAsync(steps, async n =>
        {
            if (n < shapes.Count)
            {
                tried[n] = await TryAsync(shapes[n]).ConfigureAwait(false);
                return;
            }

            Report($"in {material} instead of {found.Material.Name}");
            inOther = Least(part, other!);
        }, cancel).ConfigureAwait(false);

        if (inOther is not null) Consider(CureKind.Material, material!, null, null, inOther, part.Solid, other!);
        foreach (var (shape, result) in shapes.Zip(tried))
            if (result is { } at) Consider(shape.Kind, shape.What, shape.FromMm, at.Mm, at.Least, at.Solid, found.Material);
        return found with { Cures = Cure.BestFirst(cures) };

        void Consider(CureKind kind, string what, double? fromMm, double? toMm, LeastMargin least, ExactSolid solid, PrintMaterial of)
        {
            var gain = least.Over(now.Least, sameMaterial: kind != CureKind.Material);
            Margin governing = found.Governing.Margin;
            double margin = governing.Value * gain.Times;
            if (gain.Times >= LeastGain) cures.Add(new(kind, what, fromMm, toMm, gain, (margin, margin * LeastMargin.Both(governing.PlusMinus / governing.Value, gain.PlusMinus / gain.Times)), solid.VolumeMm3 - part.Solid.VolumeMm3, Grams(solid, of, found.Material), least.Element));
        }

        async Task<Tried?> TryAsync(Thickening shape)
        {
            Report($"{shape.What} of {Mm(shape.ToMm)} instead of {Mm(shape.FromMm)} mm");
            await using var worker = new KernelWorker(kernel);
            // What cannot be built may be possible half-way.
            foreach (double mm in (double[])[shape.ToMm, Math.Round((shape.FromMm + shape.ToMm) / 2, 2)])
                if (await BuildAsync(worker, shape.At(mm)).ConfigureAwait(false) is { } changed)
                    return Least(changed, found.Material) is { } least ? new(mm, least, changed.Solid) : null;
            return null;
        }

        LeastMargin? Least(LoadedPart changed, PrintMaterial of)
        {
            try
            {
                // Cells as big as before, so that the two are told alike.
                return changed.Least(changed.InCells((int)Math.Round(StrengthStage.CellsToCompare * changed.Solid.VolumeMm3 / part.Solid.VolumeMm3)), of, found.Up, found.Cases, cancel);
            }
            catch (NotConvergedException)
            {
                return null;
            }
        }

        void Report(string doing) => progress.Report(new(Stage.Strength, StrengthStage.CuresFrom + (1 - StrengthStage.CuresFrom) * Interlocked.Increment(ref step) / steps, $"trying cures: {doing}"));
    }

    /// <summary>A shape at the length that could be built, put under every load.</summary>
    private sealed record Tried(double Mm, LeastMargin Least, ExactSolid Solid);

    private async Task<LoadedPart?> BuildAsync(KernelWorker worker, PlacedShape shape)
    {
        Outcome<Recipe> recipe = Recipe.Of(shape);
        if (!recipe.IsGood) return null;
        Outcome<ExactSolid> built = await worker.BuildAsync(recipe.Value, cancel: cancel).ConfigureAwait(false);
        if (!built.IsGood) return null;
        Outcome<Mesh> mesh = await built.Value.MeshAsync(SolidWork.ChordMm, SolidWork.TurnDegrees, cancel: cancel).ConfigureAwait(false);
        return mesh.IsGood ? part.Changed(shape.Sizes, built.Value, mesh.Value) : null;
    }

    private List<Thickening> NearestFirst(StrengthFound found)
    {
        Point3 weakest = found.Governing.Solved.Weakest.Point.At;
        return [.. Thickenings.Of(found.Job.Job, part.Sizes).GroupBy(t => t.Kind).SelectMany(kind => kind.OrderBy(t => t.Features.Min(f => part.DistanceMm(f, weakest))).Take(MostOfEach))];
    }

    /// <summary>The material that would bear most of the stress at the weakest place and stays firm where the part lives; null where none is better.</summary>
    private string? BestMaterial(StrengthFound found)
    {
        CaseFound of = found.Governing;
        return MaterialTable.Published.PrintedNames.Where(n => n != found.Material.Name).Select(n => MaterialTable.Published.Print(n, found.Job.Job.TestBars)!)
            .Where(m => !KnockDowns.GoesSoft(m.Habits, found.Job.Job.Lives))
            .Select(m => (m.Name, Margin: MaximumStress.Of(of.Solved.Weakest.Stress, part.AllowablesOf(m, of.Load).Strength).Factor))
            .Where(m => m.Margin > of.Margin.Value * LeastGain).OrderByDescending(m => m.Margin).Select(m => m.Name).FirstOrDefault();
    }

    /// <summary>How much more a solid weighs in a material than the part as it is, and the ± of that: the volumes are exact, the densities have theirs, and one density's is the same in both.</summary>
    private (double, double) Grams(ExactSolid solid, PrintMaterial of, PrintMaterial now)
    {
        Sourced then = of.Habits.DensityGPerCm3, before = now.Habits.DensityGPerCm3;
        double thenG = solid.VolumeMm3 / 1000 * then.Value, beforeG = part.Solid.VolumeMm3 / 1000 * before.Value, more = thenG - beforeG;
        return (more, of.Name == now.Name ? Math.Abs(more) * 2 * then.Spread : LeastMargin.Both(thenG * 2 * then.Spread, beforeG * 2 * before.Spread));
    }

    private static string Mm(double mm) => mm.ToString("0.##", CultureInfo.InvariantCulture);
}
