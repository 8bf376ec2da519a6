using Sparewright.Measure;
using Sparewright.Measure.Numbers;
using Sparewright.Part.Elements;
using Sparewright.Part.Record;
using Sparewright.Part.Shape;
using Sparewright.Reconcile.Findings;
using Sparewright.Reconcile.Readings;
using Xunit;

namespace Sparewright.Reconcile.Tests.Readings;

/// <summary>Where the jaws touch: on the surfaces, as far apart as the reading says, wherever they slide.</summary>
public class JawContactTests
{
    private const double Close = 1e-9;

    public static TheoryData<string> Examples { get; } = [.. Jobs.ExampleNames];

    [Theory]
    [MemberData(nameof(Examples))]
    public void Contact_points_of_every_reading_are_as_far_apart_as_it_says(string example)
    {
        Reconciled reconciled = Reconciled(example);
        CaliperReading[] readings = [.. reconciled.Readings.Select(r => r.Reading).OfType<CaliperReading>()];
        Assert.True(readings.Length > 20);
        foreach (CaliperReading reading in readings)
        {
            double value = CaliperGeometry.Of(reading, reconciled.Shape).Mm!.Value.Value;
            JawContact contact = JawContact.Of(reading, reconciled.Shape)!;
            Vector apart = contact.Second - contact.First;
            Assert.Equal(1, contact.Along.Length.Value, Close);
            Assert.Equal(value, Vector.Dot(apart, contact.Along).Value, Close);
            // Measured across, the two may touch beside each other; else the way from jaw to jaw is straight.
            if (reading.Across is null) Assert.Equal(value, apart.Length.Value, Close);
        }
    }

    [Theory]
    [MemberData(nameof(Examples))]
    public void Jaws_touch_the_surfaces_that_they_name_also_after_sliding(string example)
    {
        Reconciled reconciled = Reconciled(example);
        int touched = 0;
        foreach (CaliperReading reading in reconciled.Readings.Select(r => r.Reading).OfType<CaliperReading>().Where(r => r.Across is null))
        {
            JawContact contact = JawContact.Of(reading, reconciled.Shape)!;
            Vector slid = contact.Slides.Aggregate(Vector.Zero, (sum, slide) => sum + slide * 3.7);
            foreach (Vector by in new[] { Vector.Zero, slid })
            {
                touched += Touches(reading.First.Text, contact.First + by, reconciled.Shape);
                touched += Touches((reading.Second ?? reading.First).Text, contact.Second + by, reconciled.Shape);
            }
        }

        Assert.True(touched > 60, $"only {touched} contacts could be held against a plane or round face");
    }

    [Fact]
    public void Measured_across_a_jaw_touches_the_middle_of_the_flat_that_it_lies_on()
    {
        // A plate 20 × 54 with half discs of radius 10 at its ends, 34 apart: across right the jaws lie on its straight sides, across back on one point each.
        var job = Jobs.Of("{w: {about: 20}, pitch: {about: 34}}", """
              - plate: foot
                thickness: 5
                outline: {belt: [{disc: [0, -pitch/2], radius: w/2}, {disc: [0, pitch/2], radius: w/2}]}
            """, """
              - {outside: foot.rim, across: right, reads: 20.00}
              - {outside: foot.rim, across: back, reads: 54.00}
            """);
        PlacedShape shape = Jobs.Reconcile(job).Shape;
        JawContact[] contacts = [.. job.Readings.OfType<CaliperReading>().Select(r => JawContact.Of(r, shape)!)];
        Is(-10, 0, contacts[0].First);
        Is(10, 0, contacts[0].Second);
        Is(0, -27, contacts[1].First);
        Is(0, 27, contacts[1].Second);

        static void Is(double x, double y, Vector v)
        {
            Assert.Equal(x, v.X.Value, 1e-6);
            Assert.Equal(y, v.Y.Value, 1e-6);
        }
    }

    [Fact]
    public void Where_no_caliper_can_take_a_reading_there_is_no_contact()
    {
        var job = Jobs.Of("{d: {about: 10}}", """
              - boss: pin
                diameter: d
                height: 20
            """, "  - {outside: pin.side, reads: 10.00}");
        PlacedShape shape = Jobs.Reconcile(job).Shape;
        CaliperReading good = job.Readings.OfType<CaliperReading>().Single();
        Assert.NotNull(JawContact.Of(good, shape));
        Assert.Null(JawContact.Of(good with { Way = ReadingWay.Inside }, shape));
        Assert.Null(JawContact.Of(good with { First = new ElementName("pin.nothing", good.Place) }, shape));
    }

    private static int Touches(string name, Vector point, PlacedShape shape)
    {
        switch (shape.Elements[name])
        {
            case FlatElement flat:
                Assert.Equal(0, Vector.Dot(point - flat.Point, flat.Normal).Value, Close);
                return 1;
            case RoundElement round:
                Vector from = point - round.AxisPoint;
                Assert.Equal(round.Radius.Value, (from - round.AxisDirection * Vector.Dot(from, round.AxisDirection)).Length.Value, Close);
                return 1;
            default:
                return 0;
        }
    }

    private static Reconciled Reconciled(string example) => Jobs.Reconcile(Jobs.Example(example));
}
