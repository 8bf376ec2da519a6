using System.Globalization;
using Sparewright.BlindRemakes.Printing;

namespace Sparewright.BlindRemakes;

/// <summary>A mistake that was made on purpose.</summary>
/// <param name="Kind">As the tool's explanation begins: what a right explanation must say.</param>
internal sealed record Mistake(int Reading, string Kind, double OffMm, double Sigmas);

/// <summary>A part that nobody has seen, and what somebody read off it.</summary>
/// <param name="Sizes">The truth.</param>
/// <param name="Drawn">What the designer wrote down: the same, but for what shrank in a mould.</param>
/// <param name="Reads">What stands in the job, each reading once or more often, mm.</param>
/// <param name="Caliper">The same caliper, for whatever else it is put on: in which way, on what length, across or to the far walls of which holes, how often.</param>
internal sealed record Case(Family Family, bool IsMetric, IReadOnlyDictionary<string, double> Sizes, IReadOnlyDictionary<string, double> Drawn, double[][] Reads, Mistake? Mistake, Func<char, double, double[], int, double[]> Caliper)
{
    /// <summary>The same part, read by somebody who made no mistake.</summary>
    public Case Mended => Mistake is not { } made ? this : this with { Mistake = null, Reads = [.. Reads.Select((reads, k) => k == made.Reading ? [Math.Round(reads[0] - made.OffMm, 2)] : reads)] };

    /// <summary>Puts the caliper on the part once more.</summary>
    public double ReadOnce(Measurable m) => Caliper(m.Way, m.True(Sizes), m.Holes?.Invoke(Sizes) ?? [], 1)[0];

    /// <summary>The job as it is handed to the tool: the shape, starting values within a tenth of the truth, everything that can be measured in the order of the family.</summary>
    public string Job(Random about) => Job(Starts(about), Family.Naive.Select((m, k) => ($"m{k}", m.Text, Reads[k])));

    /// <summary>Starting values, one for each size.</summary>
    public double[] Starts(Random about) => [.. Family.Typical.Select(t => Math.Round(Sizes[t.Size] * (0.95 + 0.1 * about.NextDouble()), 1))];

    /// <summary>The same with readings that one names.</summary>
    public string Job(double[] starts, IEnumerable<(string Id, string Text, double[] Reads)> readings)
    {
        static string Number(double v) => v.ToString("0.####", CultureInfo.InvariantCulture);
        var lines = new List<string>
        {
            "sparewright: 1", $"part: {Family.Name}", Family.IsMoulded ? "made_by: moulding" : "made_by: unknown", "could_injure: no", "instruments:", "  caliper: {kind: digital caliper, resolution: 0.01, mpe: 0.03, zero_error: 0.00, inside_jaw_flat: 0.5}", "sizes:",
        };
        lines.AddRange(Family.Typical.Select((t, k) => $"  {t.Size}: {{about: {Number(starts[k])}}}"));
        lines.AddRange(["shape:", Family.Shape]);
        string[] entries = [.. readings.Select(r => $"  - {{id: {r.Id}, {r.Text}, reads: [{string.Join(", ", r.Reads.Select(Number))}]}}")];
        if (entries.Length > 0) lines.AddRange(["readings:", .. entries]);
        return string.Join('\n', lines) + "\n";
    }
}

/// <summary>How a caliper errs, mm.</summary>
/// <param name="Draw">For a way of measuring (o, i, d or s): by what it shifts as a whole, and half the width of what differs from place to place on its scale.</param>
/// <param name="Repeat">Standard deviation from one putting on to the next, in each way.</param>
internal sealed record Caliper(Func<char, Random, (double Shift, double Place)> Draw, Func<char, double> Repeat)
{
    /// <summary>What is stated of it: of its scale, and of what the faces that do not read outside may add.</summary>
    private const double Scale = 0.03, OtherFaces = 0.02;

    /// <summary>One that keeps its stated limits with some to spare, in a steady hand.</summary>
    public static Caliper Usual { get; } = new((way, random) => (Chance.Even(random) * (way == 'o' ? 0.02 : 0.03), 0), _ => 0.012);

    /// <summary>Any that keep their limits: what differs from place to place is as likely to take one part of them as another, and the shift is anything within the rest; the hand is as steady as the reference supposes.</summary>
    public static Caliper WithinItsLimits { get; } = new((way, random) =>
    {
        double place = random.NextDouble() * Scale;
        return (Chance.Even(random) * (Scale - place) + Faces(way, random), place);
    }, Hand);

    /// <summary>One that uses up its limits by being off all along, by anything within them: nothing worse keeps them.</summary>
    public static Caliper OffAllAlong { get; } = new((way, random) => (Chance.Even(random) * Scale + Faces(way, random), 0), Hand);

    private static double Faces(char way, Random random) => way == 'o' ? 0 : Chance.Even(random) * OtherFaces;

    private static double Hand(char way) => way switch { 'o' => 0.01, 'd' => 0.03, _ => 0.02 };
}

/// <summary>
/// Draws parts and measures them as people do. Each way of measuring has its own zero shift and each reading its own small error, the display rounds, inside jaws have flats;
/// half of the jobs hold one mistake. Everything follows from the seed.
/// </summary>
internal sealed class Practitioner(int seed, Caliper caliper)
{
    private const double FlatMm = 0.5;

    /// <summary>How often the designer thought in mm; the other parts are in inches.</summary>
    private const double MetricShare = 0.8;

    /// <summary>How often a feature that could sit in the middle does, a bore is for a tube or rod, and a moulding shrank so that one can tell.</summary>
    private const double MiddleShare = 0.6, TubeShare = 0.6, ShrunkShare = 0.5;

    /// <summary>By which share mouldings shrink (usual for ABS to PP, from memory).</summary>
    private const double LeastShrink = 0.004, MostShrink = 0.018;

    /// <summary>Outside diameters of tubes and rods in trade, mm (EN 1057, ISO 4200 and ISO 2338, from memory); a bore for one is drawn at its size.</summary>
    private static readonly double[] Tubes = [6, 8, 10, 12, 13.5, 14, 15, 16, 17.2, 18, 20, 21.3, 22, 25];

    private readonly Random _random = new(seed);

    public Case Draw(Family family, bool withMistake)
    {
        bool metric = _random.NextDouble() < MetricShare;
        var drawn = family.Typical.ToDictionary(t => t.Size, t => Designed(t.About, metric));
        foreach (string tube in metric ? family.Tubes : [])
            if (_random.NextDouble() < TubeShare) drawn[tube] = Tubes.MinBy(d => Math.Abs(d - family.Typical.First(t => t.Size == tube).About * (0.75 + 0.5 * _random.NextDouble())));
        foreach (var (size, middle) in family.Middles)
            if (_random.NextDouble() < MiddleShare) drawn[size] = middle(drawn);
        double shrink = family.IsMoulded && _random.NextDouble() < ShrunkShare ? LeastShrink + (MostShrink - LeastShrink) * _random.NextDouble() : 0;
        var sizes = drawn.ToDictionary(d => d.Key, d => d.Value * (1 - shrink));
        // What would leave no wall or stick out is drawn again.
        if (!MakesSense(family, sizes)) return Draw(family, withMistake);

        var errs = "oids".ToDictionary(w => w, w => caliper.Draw(w, _random));
        // What is as long is read at one place of the scale, and errs by the same there.
        var places = new Dictionary<(char, double), double>();
        double[][] reads = [.. family.Naive.Select(m => Read(m.Way, m.True(sizes), m.Holes?.Invoke(sizes) ?? [], errs[m.Way], 1 + _random.Next(3), _random, places))];
        var later = new Random(_random.Next());
        double[] Later(char way, double mm, double[] holes, int times) => Read(way, mm, holes, errs[way], times, later, places);
        if (!withMistake) return new(family, metric, sizes, drawn, reads, null, Later);
        int at = _random.Next(reads.Length);
        var (kind, wrong) = Wrong(reads[at][0]);
        double off = wrong - reads[at][0];
        reads[at] = [wrong];
        return new(family, metric, sizes, drawn, reads, new Mistake(at, kind, off, Math.Abs(off) / 0.02), Later);
    }

    /// <param name="holes">Diameters of round holes: one that is read across itself, or those on whose far walls the jaws stand.</param>
    private double[] Read(char way, double mm, double[] holes, (double Shift, double Place) errs, int times, Random random, Dictionary<(char, double), double> places)
    {
        double value = mm;
        if (way == 'i' && holes.Length > 0)
        {
            // Across a hole jaws with flats read the chord; on far walls each stops short by half of what it would lose there.
            value = holes.Length == 1 && Math.Abs(value - holes[0]) < 1e-9 ? Math.Sqrt(holes[0] * holes[0] - FlatMm * FlatMm) : value - holes.Sum(x => (x - Math.Sqrt(x * x - FlatMm * FlatMm)) / 2);
        }

        // Repeats are taken at one place of the scale.
        if (errs.Place > 0)
        {
            if (!places.TryGetValue((way, Math.Round(mm, 6)), out double there)) places[(way, Math.Round(mm, 6))] = there = Chance.Even(random);
            value += there * errs.Place;
        }

        return [.. Enumerable.Range(0, times).Select(_ => Math.Round(value + errs.Shift + caliper.Repeat(way) * Chance.Normal(random), 2))];
    }

    /// <summary>A designer's choice near a value.</summary>
    private double Designed(double about, bool metric)
    {
        double wanted = about * (0.75 + 0.5 * _random.NextDouble()), p = _random.NextDouble();
        double step = metric ? (p < 0.6 ? 1 : p < 0.85 ? 0.5 : 0.1) : 25.4 / (p < 0.5 ? 16 : p < 0.8 ? 32 : 64);
        return Math.Max(step, Math.Round(wanted / step) * step);
    }

    private static bool MakesSense(Family family, Dictionary<string, double> s) => family.Naive.All(m => m.True(s) > 1) && family.MakesSense(s) && family.Name switch
    {
        "bush with a collar" => s["collar_d"] > s["od"] + 2,
        "knob with a D-bore" => s["flat"] < s["bore"] / 2 - 0.3 && s["deep"] < s["stem_h"] + s["knob_h"] - 1 && s["knob_d"] > s["stem_d"] + 2,
        "lever with two eyes" => s["hub_h"] > s["t"] + 1 && s["reach"] > (s["hub"] + s["eye"]) / 2,
        "angle bracket" => s["leg"] > s["t"] + 8 && s["hole_x"] > s["t"] + s["hole"] / 2 + 1,
        _ => true,
    };

    /// <summary>A slip of eye or hand, and how one would call it.</summary>
    private (string Kind, double Wrong) Wrong(double right)
    {
        string digits = right.ToString("F2", CultureInfo.InvariantCulture);
        switch (_random.Next(6))
        {
            case 0:
                int[] places = [.. Enumerable.Range(0, digits.Length).Where(k => char.IsAsciiDigit(digits[k]))];
                int p = _random.Next(places.Length - 1);
                char[] swapped = digits.ToCharArray();
                (swapped[places[p]], swapped[places[p + 1]]) = (swapped[places[p + 1]], swapped[places[p]]);
                return swapped[places[p]] == swapped[places[p + 1]] || Parse(swapped) < 0.2 ? Wrong(right) : ("two digits swapped", Parse(swapped));
            case 1:
                int k = _random.Next(digits.Length);
                if (!char.IsAsciiDigit(digits[k])) return Wrong(right);
                char[] typed = digits.ToCharArray();
                typed[k] = (char)('0' + _random.Next(10));
                return typed[k] == digits[k] || Parse(typed) < 0.2 ? Wrong(right) : ("one digit", Parse(typed));
            case 2: return ("inches", Math.Round(right / 25.4, 2));
            case 3:
                double step = _random.Next(3) switch { 0 => 0.5, 1 => 1, _ => 10 };
                double off = right + (_random.Next(2) == 0 ? step : -step);
                return off < 0.2 ? Wrong(right) : ("off by", Math.Round(off, 2));
            case 4: return ("decimal point", Math.Round(right * 10, 2));
            // Anything: squeezed, tilted, read at another spot.
            default: return ("other", Math.Round(right + (_random.Next(2) == 0 ? 1 : -1) * (0.08 + 0.7 * _random.NextDouble()), 2));
        }
    }

    private static double Parse(char[] digits) => double.Parse(digits, CultureInfo.InvariantCulture);
}
