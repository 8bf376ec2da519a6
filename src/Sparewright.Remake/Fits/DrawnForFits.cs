using Sparewright.Fit.Capability;
using Sparewright.Fit.Counterparts;
using Sparewright.Fit.Drawn;
using Sparewright.Part.Elements;
using Sparewright.Part.Shape;
using Sparewright.Reconcile.Findings;
using Sparewright.Solid;

namespace Sparewright.Remake.Fits;

/// <summary>What of a job is drawn otherwise than it was measured, so that everything fits that the part meets.</summary>
/// <param name="Fits">Where its counterparts meet the part.</param>
/// <param name="Drawn">The sizes that the fits decide.</param>
/// <param name="Others">Those that no fit decides, where this printer was measured.</param>
/// <param name="Trials">What the job's own trials showed.</param>
public record DrawnForFits(OpenedJob Job, Reconciled Reconciled, ProcessCapability Process, JobFits Fits, DrawnSizes Drawn, OtherSizes Others, JobTrials Trials)
{
    /// <summary>By how much the sizes that the fits decide change, mm.</summary>
    public IReadOnlyDictionary<string, double> ForTheFitsByMm { get; } = Drawn.Changes.ToDictionary(c => c.Size, c => c.ByMm, StringComparer.Ordinal);

    /// <summary>By how much every size changes that is drawn otherwise, mm.</summary>
    public IReadOnlyDictionary<string, double> ByMm { get; } = Drawn.Changes.Concat(Others.Changes).ToDictionary(c => c.Size, c => c.ByMm, StringComparer.Ordinal);

    /// <summary>The part at the sizes to draw, nothing bevelled for the printer.</summary>
    public PlacedShape Sharp() => JobFits.ShapeChanged(Job.Job, Reconciled, ByMm);

    /// <summary>Its volume, mm³; null where it cannot be built.</summary>
    /// <exception cref="OperationCanceledException">Stopped.</exception>
    public async Task<double?> VolumeMm3Async(KernelProgram kernel, CancellationToken cancel)
    {
        Outcome<Recipe> recipe = Recipe.Of(Sharp());
        if (!recipe.IsGood) return null;
        await using var worker = new KernelWorker(kernel);
        Outcome<ExactSolid> part = await worker.BuildAsync(recipe.Value, fullGuards: false, cancel: cancel).ConfigureAwait(false);
        return part.IsGood ? part.Value.VolumeMm3 : null;
    }

    /// <summary>The edges on the bed to bevel.</summary>
    /// <param name="sharp">What <see cref="Sharp"/> gave.</param>
    public IReadOnlyList<RelievedEdge> ReliefOf(PlacedShape sharp) => BedRelief.Of(sharp, Job.Job.Print?.WayUp ?? Direction.Up, Fits);
}
