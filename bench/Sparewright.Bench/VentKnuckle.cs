using Sparewright.Part.Elements;
using Sparewright.Part.Record;
using Sparewright.Reconcile.Findings;
using Sparewright.Remake;
using Sparewright.Solid;

namespace Sparewright.Bench;

/// <summary>The example at its reconciled sizes.</summary>
internal sealed class VentKnuckle
{
    public VentKnuckle()
    {
        Result<OpenedJob> opened = OpenedJob.Open(Repository.VentKnuckle);
        OpenedJob job = opened.Value ?? throw new InvalidOperationException(string.Join('\n', opened.Failure!.Messages));
        Reconciled reconciled = job.ReconcileWithoutVolume().Value ?? throw new InvalidOperationException("the readings of the example cannot be reconciled");
        (Job, Free) = (job.Job, [.. reconciled.Free]);
    }

    public Job Job { get; }

    /// <summary>The reconciled values of the free sizes.</summary>
    public double[] Free { get; }

    public PlacedShape At(double[] free) => ShapePlacer.Place(Job.Shape, Job.Sizes.At(free));

    public Recipe RecipeAt(double[] free) => Recipe.Of(At(free)).OrThrow();
}
