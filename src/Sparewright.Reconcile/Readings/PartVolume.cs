using Sparewright.Measure.Numbers;
using Sparewright.Part.Elements;
using Sparewright.Part.Record;

namespace Sparewright.Reconcile.Readings;

/// <summary>
/// The volume of the whole part: exact at some sizes, along a straight line beside them. It is found on the exact solid, which whoever reconciles with it has built; where the sizes come out elsewhere it is to be found
/// again there.
/// </summary>
/// <param name="At">The free sizes at which it is exact, in the order of the job's size table.</param>
/// <param name="BySize">Its derivative by each, mm² or mm³ a degree.</param>
public sealed record PartVolume(IReadOnlyList<double> At, double Mm3, IReadOnlyList<double> BySize)
{
    /// <summary>Whether a job has readings that need it.</summary>
    public static bool IsNeededBy(Job job) => job.Readings.Any(r => IsOfVolume(r) && WhyNotUsed(r, job.MadeBy) is null);

    /// <summary>Whether a reading speaks of the volume of the part, or of a fragment.</summary>
    internal static bool IsOfVolume(Reading reading) => reading is WeightReading or FragmentWeightsReading or DisplacementReading;

    /// <summary>Why the shape says nothing of such a reading; null where it does, once its volume is known.</summary>
    internal static string? WhyNotUsed(Reading reading, MadeBy madeBy) => reading switch
    {
        WeightReading { Of: not WeightReading.Whole } or DisplacementReading { Of: not WeightReading.Whole } => "not used: the shape does not say where the part broke; weigh all fragments, together or each (`weights`)",
        WeightReading or FragmentWeightsReading when madeBy == MadeBy.Printing => "not used: a printed part may be hollow inside",
        _ => null,
    };

    /// <summary>On a shape of that job, mm³.</summary>
    internal Dual Of(Job job, PlacedShape shape)
    {
        Dual volume = Mm3;
        for (int k = 0; k < At.Count; k++) volume += BySize[k] * (shape.Sizes[job.Sizes.Free[k].Name] - At[k]);
        return volume;
    }
}
