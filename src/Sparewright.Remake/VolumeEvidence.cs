using Sparewright.Part.Elements;
using Sparewright.Part.Record;
using Sparewright.Reconcile;
using Sparewright.Reconcile.Findings;
using Sparewright.Reconcile.Readings;
using Sparewright.Solid;

namespace Sparewright.Remake;

/// <summary>
/// What a weight and the water that a part displaces say of its sizes. They speak of the volume of the whole, which only the exact solid has: it is built at the sizes that the other readings give and a little to either
/// side of each, and the readings are reconciled again with it, until the solid at the sizes found has the volume that was foretold.
/// </summary>
/// <param name="workers">They share the solids among them.</param>
public sealed class VolumeEvidence(IReadOnlyList<KernelWorker> workers)
{
    /// <summary>How far a size is moved, mm or degrees: far beyond the rounding of the kernel's volumes; what the volume curves over it is far less than any scale and density leave open.</summary>
    private const double StepOf = 0.01;

    /// <summary>The volume was foretold well enough when it is off by less than this share.</summary>
    private const double Foretold = 1e-5;

    private const int MostRounds = 5;

    /// <summary>Reconciles a job with the volume of its solid. Where the solid cannot be built, what was found without it is given back, and its readings stay without a say.</summary>
    /// <param name="without">What the readings come to without it.</param>
    /// <param name="near">What was found of the volume of this shape before, at whatever sizes; null where nothing was.</param>
    /// <returns>The result, and the volume with which it was found; null where there is none.</returns>
    /// <exception cref="OperationCanceledException">Cancelled.</exception>
    public async Task<(Reconciled Reconciled, PartVolume? Volume)> ReconcileAsync(Job job, Reconciled without, PartVolume? near, CancellationToken cancel)
    {
        if (!PartVolume.IsNeededBy(job)) return (without, null);
        if ((near ?? await NearAsync(job, without.Free, cancel).ConfigureAwait(false)) is not { } volume) return (without, null);
        for (int round = 0; ; round++)
        {
            if (!Reconciliation.TryReconcile(job, out Reconciled? reconciled, out _, volume: volume)) return (without, null);
            if (await AtAsync(workers[0], job, reconciled.Free, cancel).ConfigureAwait(false) is not { } exact) return (without, null);
            if (IsForetold(volume, reconciled.Free, exact) || round == MostRounds) return (reconciled, volume);
            volume = volume with { At = reconciled.Free, Mm3 = exact };
        }
    }

    /// <summary>Whether the exact volume of the solid at some sizes is what was foretold for them.</summary>
    public static bool IsForetold(PartVolume volume, IReadOnlyList<double> free, double exactMm3)
    {
        double foretold = volume.Mm3 + volume.BySize.Select((slope, k) => slope * (free[k] - volume.At[k])).Sum();
        return Math.Abs(exactMm3 - foretold) <= Foretold * exactMm3;
    }

    /// <summary>Reconciles a job with workers of its own.</summary>
    /// <inheritdoc cref="ReconcileAsync(Job, Reconciled, PartVolume?, CancellationToken)"/>
    public static async Task<(Reconciled Reconciled, PartVolume? Volume)> ReconcileAsync(KernelProgram kernel, Job job, Reconciled without, CancellationToken cancel)
    {
        if (!PartVolume.IsNeededBy(job)) return (without, null);
        await using var worker = new KernelWorker(kernel);
        await using var second = new KernelWorker(kernel);
        return await new VolumeEvidence([worker, second]).ReconcileAsync(job, without, null, cancel).ConfigureAwait(false);
    }

    /// <summary>The same for the same shape, and only then, so that what was found of its volume holds for both: how it is built at these sizes, and with each of them moved by another step. Null where it cannot be.</summary>
    public static string? ShapeOf(Job job, IReadOnlyList<double> free)
    {
        if (free.Count != job.Sizes.Free.Count) return null;
        Outcome<Recipe> At(Func<int, double> step) => Recipe.Of(ShapePlacer.Place(job.Shape, job.Sizes.At([.. free.Select((value, k) => value + step(k))])));
        Outcome<Recipe> here = At(_ => 0), beside = At(k => StepOf * (1 + k / 7.0));
        return here.IsGood && beside.IsGood ? string.Join(' ', [.. job.Sizes.Free.Select(s => s.Name), here.Value.Hash, beside.Value.Hash]) : null;
    }

    /// <summary>
    /// The volume at some sizes with its derivatives by differences of the exact solid to one side, or where that cannot be built to the other: a solid for each size. That the volume is right to the last digit is
    /// seen to afterwards, at the sizes found. Null where there is no solid at these sizes.
    /// </summary>
    public async Task<PartVolume?> NearAsync(Job job, IReadOnlyList<double> free, CancellationToken cancel)
    {
        Task<double?> building = AtAsync(workers[0], job, free, cancel);
        async Task<double> SlopeAsync(int k)
        {
            KernelWorker worker = workers[(k + 1) % workers.Count];
            Task<double?> Beside(double step) => AtAsync(worker, job, [.. free.Select((value, i) => i == k ? value + step : value)], cancel);
            // Further workers have a first solid to build as well, and begin at once; beyond that nothing is tried beside sizes at which there is no solid.
            bool isFirst = k + 1 < workers.Count;
            if (!isFirst && await building.ConfigureAwait(false) is null) return 0;
            double? above = await Beside(StepOf).ConfigureAwait(false);
            if (await building.ConfigureAwait(false) is not { } here) return 0;
            if (above is { } more) return (more - here) / StepOf;
            return await Beside(-StepOf).ConfigureAwait(false) is { } less ? (here - less) / StepOf : 0;
        }

        double[] slopes = await Task.WhenAll(Enumerable.Range(0, free.Count).Select(SlopeAsync)).ConfigureAwait(false);
        return await building.ConfigureAwait(false) is { } mm3 ? new PartVolume([.. free], mm3, slopes) : null;
    }

    private static async Task<double?> AtAsync(KernelWorker worker, Job job, IReadOnlyList<double> free, CancellationToken cancel)
    {
        Outcome<Recipe> recipe = Recipe.Of(ShapePlacer.Place(job.Shape, job.Sizes.At([.. free])));
        if (!recipe.IsGood) return null;
        Outcome<ExactSolid> solid = await worker.BuildAsync(recipe.Value, fullGuards: false, cancel: cancel).ConfigureAwait(false);
        return solid.IsGood ? solid.Value.VolumeMm3 : null;
    }
}
