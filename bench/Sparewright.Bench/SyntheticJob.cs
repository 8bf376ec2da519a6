using Sparewright.Measure;
using Sparewright.Part;
using Sparewright.Part.Record;
using Sparewright.Part.Shape;
using Sparewright.Part.Sizes;

namespace Sparewright.Bench;

/// <summary>
/// A slab with bosses on it, each with four sizes to be found (diameter, height, its place from the left and from the front), and readings of them and
/// between them, as noisy as a caliper's.
/// </summary>
/// <param name="True">The true value of each size, in their order.</param>
/// <param name="Wrong">The last reading, where the last one or ones are off by a millimetre.</param>
internal sealed record SyntheticJob(Job Job, double[] True, string? Wrong)
{
    private const int SizesEach = 4;
    private const double SlabMm = 6, NoiseMm = 0.008, WrongByMm = 1;

    public static SyntheticJob Of(int readings, int sizes, int wrong = 0)
    {
        var random = new Random(1);
        Boss[] bosses = [.. Enumerable.Range(0, sizes / SizesEach).Select(Boss.Number)];
        double[] truth = [.. bosses.SelectMany(b => new[] { b.Diameter, b.Height, b.X, b.Y })];
        string[] names = [.. bosses.SelectMany(b => new[] { b.Name + "_d", b.Name + "_h", b.Name + "_x", b.Name + "_y" })];
        Size[] table = [.. names.Select((name, k) => new Size(name, Quantity.Length, new Given.About(Math.Round(truth[k] + random.NextDouble() - 0.5, 1)), Place.None))];
        Feature[] shape =
        [
            new Block("slab", 340.0, 340.0, SlabMm, new SpacePoint(0.0, 0.0, 0.0), null, Place.None),
            .. bosses.Select(b => new Sparewright.Part.Shape.Boss(b.Name, Size(b, "d"), null, Size(b, "h"), Element("slab.top"), new FacePoint(Size(b, "x"), Size(b, "y")), Place.None)),
        ];
        Reading[] ledger = [.. Enumerable.Range(0, readings).Select(k => Read(k, bosses, random, k >= readings - wrong))];
        var caliper = new Instrument("caliper", InstrumentKind.DigitalCaliper, 0.01, 0.03, 0, 0.4);
        return new(new Job("Slab", null, MadeBy.Unknown, null, null, [], null, new Injury(false, null, null, Place.None), new Dictionary<string, Instrument> { [caliper.Name] = caliper },
            new SizeTable(table), shape, ledger, [], null, [], null, [], null), truth, wrong > 0 ? ledger[^1].Id : null);
    }

    private sealed record Boss(string Name, double Diameter, double Height, double X, double Y)
    {
        public static Boss Number(int k) => new($"b{k}", 8 + k % 5, 12 + k % 7, 20 + 32 * (k % 10), 20 + 32 * (k / 10));
    }

    private static SizeExpression.Name Size(Boss boss, string of) => new($"{boss.Name}_{of}");

    private static ElementName Element(string name) => new(name, Place.None);

    /// <summary>The bosses take turns; at each turn a boss is read in another way or to another neighbour, and then all over again.</summary>
    private static CaliperReading Read(int number, Boss[] bosses, Random random, bool isWrong)
    {
        Boss boss = bosses[number % bosses.Length];
        string side = boss.Name + ".side", top = boss.Name + ".top";
        int turn = number / bosses.Length % (5 + bosses.Length - 1);
        return turn switch
        {
            0 => Shown(ReadingWay.Outside, side, null, boss.Diameter),
            1 => Shown(ReadingWay.Outside, "slab.left", side, boss.X + boss.Diameter / 2),
            2 => Shown(ReadingWay.Outside, "slab.front", side, boss.Y + boss.Diameter / 2),
            3 => Shown(ReadingWay.Step, top, "slab.top", boss.Height),
            4 => Shown(ReadingWay.Outside, "slab.bottom", top, SlabMm + boss.Height),
            _ => ToNeighbour(bosses[(number + turn - 4) % bosses.Length]),
        };

        CaliperReading ToNeighbour(Boss other) => Shown(ReadingWay.Outside, side, other.Name + ".side",
            Math.Sqrt(Math.Pow(boss.X - other.X, 2) + Math.Pow(boss.Y - other.Y, 2)) + (boss.Diameter + other.Diameter) / 2);

        CaliperReading Shown(ReadingWay way, string first, string? second, double mm) =>
            new($"r{number + 1}", way, Element(first), second is null ? null : Element(second), null, [Display(mm), Display(mm)], false, false, null, null, null, Place.None);

        double Display(double mm) => Math.Round(mm + (isWrong ? WrongByMm : 0) + NoiseMm * Normal(), 2);

        double Normal() => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
    }
}
