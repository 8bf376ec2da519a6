using Sparewright.Measure.Numbers;
using Sparewright.Part.Elements;
using Sparewright.Part.Record;

namespace Sparewright.Reconcile.Readings;

/// <summary>The shape at the sizes last asked for: all readings of one step of the adjustment share one placing of it.</summary>
internal sealed class ShapeInHand(Job job)
{
    private double[] _free = [];
    private PlacedShape? _shape;

    /// <param name="free">The values of the free sizes, in their order.</param>
    public PlacedShape At(ReadOnlySpan<double> free)
    {
        if (_shape is not null && free.SequenceEqual(_free)) return _shape;
        _free = free.ToArray();
        return _shape = ShapePlacer.Place(job.Shape, job.Sizes.At(free));
    }

    /// <inheritdoc cref="At(ReadOnlySpan{double})"/>
    public PlacedShape At(ReadOnlySpan<Dual> free)
    {
        Span<double> values = free.Length <= 128 ? stackalloc double[free.Length] : new double[free.Length];
        for (int k = 0; k < free.Length; k++) values[k] = free[k].Value;
        return At(values);
    }
}
