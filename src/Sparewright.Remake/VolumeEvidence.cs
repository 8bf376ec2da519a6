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
public sealed class VolumeEvidence(KernelProgram kernel)
{
    /// <summary>How far a size is moved, mm or degrees: far beyond the rounding of the kernel's volumes; what the volume curves over it is far less than any scale and density leave open.</summary>
    private const double StepOf = 0.01;

    /// <summary>The volume was foretold well enough when it is off by less than this share.</summary>
    private const double Foretold = 1e-5;

    private const int MostRounds = 5;

    /// <summary>Reconciles a job with the volume of its solid. Where the solid cannot be built, what was found without it is given back, and its readings stay without a say.</summary>
    /// <param name="without">What the readings come to without it.</param>
    /// <param name="known">What was found of the volume before, if the job was the same then.</param>
    /// <returns>The result, and the volume with which it was found; null where there is none.</returns>
    /// <exception cref="OperationCanceledException">Cancelled.</exception>
    public async Task<(Reconciled Reconciled, PartVolume? Volume)> ReconcileAsync(Job job, Reconciled without, PartVolume? known, CancellationToken cancel)
    {
        if (!PartVolume.IsNeededBy(job)) return (without, null);
        if (known is not null && known.At.Count == job.Sizes.Free.Count && Reconciliation.TryReconcile(job, out Reconciled? again, out _, volume: known)) return (again, known);

        await using var worker = new KernelWorker(kernel);
        await using var second = new KernelWorker(kernel);
        if (await NearAsync([worker, second], job, without.Free, cancel).ConfigureAwait(false) is not { } volume) return (without, null);
        for (int round = 0; ; round++)
        {
            if (!Reconciliation.TryReconcile(job, out Reconciled? reconciled, out _, volume: volume)) return (without, null);
            double foretold = volume.Mm3 + volume.BySize.Select((slope, k) => slope * (reconciled.Free[k] - volume.At[k])).Sum();
            if (await AtAsync(worker, job, reconciled.Free, cancel).ConfigureAwait(false) is not { } exact) return (without, null);
            if (Math.Abs(exact - foretold) <= Foretold * exact || round == MostRounds) return (reconciled, volume);
            volume = volume with { At = reconciled.Free, Mm3 = exact };
        }
    }

    /// <summary>
    /// The volume at some sizes with its derivatives by differences of the exact solid to one side, or where that cannot be built to the other: a solid for each size. That the volume is right to the last digit is
    /// seen to afterwards, at the sizes found. Null where there is no solid at these sizes.
    /// </summary>
    /// <param name="workers">They share the solids among them.</param>
    public static async Task<PartVolume?> NearAsync(IReadOnlyList<KernelWorker> workers, Job job, IReadOnlyList<double> free, CancellationToken cancel)
    {
        if (await AtAsync(workers[0], job, free, cancel).ConfigureAwait(false) is not { } here) return null;
        async Task<double> SlopeAsync(int k)
        {
            Task<double?> Beside(double step) => AtAsync(workers[k % workers.Count], job, [.. free.Select((value, i) => i == k ? value + step : value)], cancel);
            if (await Beside(StepOf).ConfigureAwait(false) is { } above) return (above - here) / StepOf;
            return await Beside(-StepOf).ConfigureAwait(false) is { } below ? (here - below) / StepOf : 0;
        }

        return new PartVolume([.. free], here, await Task.WhenAll(Enumerable.Range(0, free.Count).Select(SlopeAsync)).ConfigureAwait(false));
    }

    private static async Task<double?> AtAsync(KernelWorker worker, Job job, IReadOnlyList<double> free, CancellationToken cancel)
    {
        Outcome<Recipe> recipe = Recipe.Of(ShapePlacer.Place(job.Shape, job.Sizes.At([.. free])));
        if (!recipe.IsGood) return null;
        Outcome<ExactSolid> solid = await worker.BuildAsync(recipe.Value, fullGuards: false, cancel: cancel).ConfigureAwait(false);
        return solid.IsGood ? solid.Value.VolumeMm3 : null;
    }
}
