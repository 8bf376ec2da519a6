using Sparewright.Solid;
using Sparewright.Strength.Loads;
using Xunit;

namespace Sparewright.Strength.Tests.Loads;

public class NearestPressedTests
{
    /// <summary>Against asking every known place in turn, also for points beyond them all.</summary>
    [Fact]
    public void The_nearest_known_place_says_whether_a_point_is_pressed()
    {
        var random = new Random(7);
        Point3 Any(double reach) => new(reach * random.NextDouble(), 3 * reach * random.NextDouble(), 0.2 * reach * random.NextDouble());
        PressedPlace[] places = [.. Enumerable.Range(0, 400).Select(n => new PressedPlace(0, Any(10), n % 3 == 0))];
        var nearest = new NearestPressed(places);
        int pressed = 0;
        for (int n = 0; n < 1000; n++)
        {
            Point3 at = Any(14) - new Point3(2, 6, 0.4);
            bool expected = places.MinBy(p => (p.At - at).Length).Presses;
            Assert.Equal(expected, nearest.Presses(at));
            if (expected) pressed++;
        }

        Assert.InRange(pressed, 200, 500);
    }
}
