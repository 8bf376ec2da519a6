using System.Globalization;
using Sparewright.Handover.Picture;
using Sparewright.Measure;
using Sparewright.Measure.Quantities;
using Sparewright.Part.Record;
using Sparewright.Reconcile.Readings;
using Sparewright.Remake.Outputs;
using Sparewright.Solid;

namespace Sparewright.Remake.Live;

/// <summary>Dimensions to be drawn over the part in view.</summary>
public static class DimensionsInView
{
    /// <summary>One for each size of the job that has a place on the part.</summary>
    /// <param name="unit">In which they are told; inches with the unit behind them.</param>
    public static IReadOnlyList<Dimension> Sizes(PartInView part, LengthUnit unit = default) => MainSizes.Of(part.Job, part.Reconciled, part.Reconciled.Shape, part.Solid, new Dictionary<string, int>(), unit);

    /// <summary>Where the two jaws of a reading touch the part, with what they showed; null where no caliper can take it on the part in view.</summary>
    public static LinearDimension? Reading(PartInView part, CaliperReading reading, LengthUnit unit = default)
    {
        if (JawContact.Of(reading, part.Reconciled.Shape) is not { } contact) return null;
        (Point3 from, Point3 to, Point3 along) = JawPlaces.On(part, reading, contact);
        string value = reading.ReadsMm.Count == 0 ? reading.Id : unit == LengthUnit.Inch ? Shown.Inches(reading.ReadsMm.Average()) : reading.ReadsMm.Average().ToString("0.00", CultureInfo.InvariantCulture);
        bool isDiameter = reading.Second is null && reading.Across is null && reading.Way is ReadingWay.Outside or ReadingWay.Inside && contact.TurnsAbout is not null;
        return new LinearDimension(isDiameter ? "⌀" + value : value, null, from, to, along);
    }
}
