using System.Globalization;
using Sparewright.Fit.Coupons;
using Sparewright.Measure;
using Sparewright.Part;
using Sparewright.Part.Record;

namespace Sparewright.BlindRemakes.Printing;

/// <summary>How a counterpart did in a print.</summary>
internal enum Went { Well, TooTight, TooLoose }

/// <summary>The clearance that somebody wants, mm.</summary>
internal readonly record struct Wish(double LowMm, double HighMm);

/// <summary>
/// A part, what it meets, and a printer, all hidden: what a practitioner knows of them is the job's text. Clearances are wanted in numbers, so that what fits is decided here by subtraction.
/// </summary>
internal sealed class Errand
{
    /// <summary>By hand one feels when something goes to this, as a standard deviation in mm.</summary>
    private const double FeelMm = 0.01;

    /// <summary>How often a part lies on its side in the printer.</summary>
    private const double LyingShare = 0.2;

    /// <summary>How far a designer's pitch and the one of what it goes on really differ, mm.</summary>
    private const double PitchOffMm = 0.05;

    /// <summary>How often a rod or pin is to be pressed in where fits are usual ones.</summary>
    private const double PressShare = 0.1;

    private readonly Case _part;
    private readonly Meetings _meetings;
    private readonly PrinterFamily _printers;
    private readonly Dictionary<string, double> _own;
    private readonly double _ownPitch;
    private readonly string _text;
    private readonly List<string> _trials = [];
    private readonly Random _random;

    /// <param name="usual">Whether clearances are those that the usual words of a fit mean, or any, mostly narrower.</param>
    public Errand(Case part, PrinterFamily printers, bool usual, Random random)
    {
        (_part, _printers, _random, IsUsual) = (part, printers, random, usual);
        _meetings = Meetings.All.Single(m => m.Family == part.Family.Name);
        Printer = printers.Draw(random);
        IsLying = random.NextDouble() < LyingShare;
        Wishes = _meetings.Meets.ToDictionary(m => m.Name, m => m.Kind == "screw" ? new(0.1, 0.9) : Wished(usual, m.Kind is "rod" or "pin", printers.IsResin, random));
        _own = _meetings.Meets.ToDictionary(m => m.Name, m => Own(m, Wishes[m.Name], random));
        _ownPitch = _meetings.PitchSize is { } pitch ? part.Sizes[pitch] + PitchOffMm * Chance.Normal(random) : 0;
        _text = part.Job(random) + Counterparts() + $"print: {{machine: {printers.Machine}, {(printers.NozzleMm is { } nozzle ? $"nozzle: {Number(nozzle)}, " : "")}layer: {Number(printers.LayerMm)}, way_up: {(IsLying ? "front" : "up")}, material: PLA}}\n";
    }

    public HiddenPrinter Printer { get; }

    public Random Random => _random;

    public bool IsLying { get; }

    public bool IsUsual { get; }

    public bool IsHeldOut => _printers.IsHeldOut || _part.Family.IsHeldOut;

    public string PrinterFamily => _printers.Name;

    public string PartFamily => _part.Family.Name;

    public IReadOnlyDictionary<string, Wish> Wishes { get; }

    public IReadOnlyList<Meet> Meets => _meetings.Meets;

    /// <summary>Of the whole part: solid, at 1.2 g/cm³.</summary>
    public double Grams => Cost.Grams(VolumeMm3);

    public double VolumeMm3 => _meetings.Volume(_part.Sizes);

    /// <summary>The size that is the pitch of its holes; null where there is no pattern.</summary>
    public string? PitchSize => _meetings.PitchSize;

    /// <summary>The coupon as this printer makes it, measured by the plan that comes with it: each reading twice.</summary>
    public string MeasuredCoupon()
    {
        VirtualPrint print = Printer.Print(_random);
        var printed = new Dictionary<string, double>();
        double Printed(string element, Made made, double drawnMm) => printed.TryGetValue(element, out double mm) ? mm : printed[element] = print.Of(made, drawnMm);
        var reads = new Dictionary<int, double[]>();
        foreach (CouponFeature feature in Plan.Features)
        {
            string[] places = [.. new[] { feature.Readings[0].Reading.First.Text, feature.Readings[0].Reading.Second?.Text }.OfType<string>()];
            Made made = MadeOf(feature.Surface);
            double mm = Printed(feature.Name, made, feature.DrawnMm);
            foreach (CouponReading r in feature.Readings)
                reads[r.Number] = feature.Readings.Count == 1
                    ? _part.Caliper(r.Reading.Way == ReadingWay.Inside ? 'i' : 'o', mm, made is Made.HoleUpright or Made.HoleLying ? [mm] : [], 2)
                    : OverHoles(r, mm, [.. places.Select(p => Printed(p.Split('.')[0], Made.HoleUpright, double.Parse(p.Split('.')[0].Split('_')[1], CultureInfo.InvariantCulture)))]);
        }

        string[] rows = CouponTable.Of(Plan).TrimEnd('\n').Split('\n');
        string table = string.Join('\n', rows.Select((row, k) => k == 0 ? row : row[..^3] + "," + string.Join(',', reads[k].Select(Number))));
        if (!CouponTable.TryRead(Plan, table, out IReadOnlyList<MeasuredCoupon> measured, out Problem? problem)) throw new InvalidOperationException(problem.What);
        return string.Join(", ", measured.Select(m => $"{{surface: {m.Feature.Surface.Words()}, drawn: {Number(m.Feature.DrawnMm)}, reads: [{string.Join(", ", m.ReadsMm.Select(Number))}]}}"));

        double[] OverHoles(CouponReading r, double centresMm, double[] holes) => r.Reading.Way == ReadingWay.Inside
            ? _part.Caliper('i', centresMm + holes.Sum() / 2, holes, 2) : _part.Caliper('o', centresMm - holes.Sum() / 2, [], 2);
    }

    private static Coupon Plan { get; } = Coupon.For(null);

    private static Made MadeOf(PrintedSurface surface) => Enum.GetValues<Made>().Single(m => Words(m) == surface.Words());

    /// <summary>What can be measured of a gauge that holds the pattern.</summary>
    public IEnumerable<(Made Made, double DrawnMm)> Pattern(double holeMm, double pitchMm)
    {
        Made hole = IsLying ? Made.HoleLying : Made.HoleUpright;
        return [(hole, holeMm), (hole, holeMm), (Made.CentreDistance, pitchMm)];
    }

    /// <summary>The job as it stands, with all trials so far.</summary>
    public string Job => _trials.Count == 0 ? _text : _text + "trials:\n" + string.Join('\n', _trials) + "\n";

    /// <summary>Puts a trial print into the job.</summary>
    public void Note(string trial) => _trials.Add("  - " + trial);

    /// <summary>The same errand without its trials.</summary>
    public void Forget() => _trials.Clear();

    /// <summary>Prints the part at these sizes and tries everything on it, once edges on the bed are scraped.</summary>
    /// <param name="reliefMm">By how much the edge on the bed is bevelled for a counterpart: whether that would have done without scraping is counted.</param>
    public Tried Try(IReadOnlyDictionary<string, double> drawnMm, IReadOnlyDictionary<string, double> reliefMm) => Try(Printer.Print(_random), drawnMm, reliefMm);

    /// <summary>The same in a print under way: several copies of the part share its day.</summary>
    public Tried Try(VirtualPrint print, IReadOnlyDictionary<string, double> drawnMm, IReadOnlyDictionary<string, double> reliefMm)
    {
        var found = new Dictionary<string, Went>();
        var printed = new List<(Made Made, double DrawnMm, double PrintedMm)>();
        foreach (Meet meet in _meetings.Meets)
        {
            Made made = IsLying ? meet.Lying : meet.Upright;
            double[] surfaces = [.. Enumerable.Range(0, meet.Holes).Select(_ => print.Of(made, drawnMm[meet.Size]))];
            printed.AddRange(surfaces.Select(s => (made, drawnMm[meet.Size], s)));
            double[] clearances = [.. surfaces.Select(s => meet.IsOver ? _own[meet.Name] - s : s - _own[meet.Name])];
            bool lined = true;
            if (meet.Holes == 2)
            {
                double pitch = print.Of(Made.CentreDistance, drawnMm[_meetings.PitchSize!]);
                printed.Add((Made.CentreDistance, drawnMm[_meetings.PitchSize!], pitch));
                // Each may be off its screw by half its clearance.
                lined = clearances.All(c => c >= 0) && Math.Abs(pitch - _ownPitch) <= clearances.Sum() / 2;
                found[meet.Name + " in line"] = lined ? Went.Well : Went.TooTight;
            }

            Wish wish = Wishes[meet.Name];
            found[meet.Name] = !lined || clearances.Any(c => c < wish.LowMm) ? Went.TooTight : clearances.Any(c => c > wish.HighMm) ? Went.TooLoose : Went.Well;
        }

        int onBed = 0, cleared = 0;
        foreach (Meet meet in IsLying ? [] : _meetings.Meets.Where(m => m.OnBed))
        {
            onBed++;
            if (reliefMm.GetValueOrDefault(meet.Name) >= print.FlareMm) cleared++;
        }

        return new(found, printed, onBed, cleared);
    }

    /// <summary>Sizes as somebody would draw them who knows the printer and what the part meets exactly, of these others: each fit in the middle of its window, in whole layers where it comes in such.</summary>
    public IReadOnlyDictionary<string, double> Known(IReadOnlyDictionary<string, double> othersMm)
    {
        var sizes = othersMm.ToDictionary();
        double Drawn(Made made, double wantedMm)
        {
            double drawn = wantedMm;
            for (int k = 0; k < 5 && made is not (Made.Height or Made.HoleLying); k++) drawn += wantedMm - Printer.InTheMean(made, drawn);
            return made is Made.Height or Made.HoleLying
                ? Enumerable.Range((int)(wantedMm / Printer.LayerMm) - 10, 21).Select(n => n * Printer.LayerMm).MinBy(mm => Math.Abs(Printer.InTheMean(made, mm) - wantedMm))
                : drawn;
        }

        foreach (Meet meet in _meetings.Meets)
        {
            double middle = (Wishes[meet.Name].LowMm + Wishes[meet.Name].HighMm) / 2;
            sizes[meet.Size] = Drawn(IsLying ? meet.Lying : meet.Upright, _own[meet.Name] + (meet.IsOver ? -middle : middle));
        }

        if (_meetings.PitchSize is { } pitch) sizes[pitch] = Drawn(Made.CentreDistance, _ownPitch);
        return sizes;
    }

    /// <summary>Prints gauges of one fit in one go and tries the counterpart on each.</summary>
    /// <returns>Of each whether it goes.</returns>
    public IReadOnlyList<bool> Gauges(string counterpart, IReadOnlyList<double> sizesMm)
    {
        Meet meet = _meetings.Meets.Single(m => m.Name == counterpart);
        VirtualPrint print = Printer.Print(_random);
        return
        [
            .. sizesMm.Select(size => print.Of(IsLying ? meet.Lying : meet.Upright, size)).Select(s => meet.IsOver ? _own[meet.Name] - s : s - _own[meet.Name])
                .Select(clearance => clearance + FeelMm * Chance.Normal(_random) > 0),
        ];
    }

    /// <summary>Prints these features in one go and reads each twice.</summary>
    public string Measured(VirtualPrint print, IEnumerable<(Made Made, double DrawnMm)> features) =>
        string.Join(", ", features.Select(f => Read(f.Made, f.DrawnMm, print.Of(f.Made, f.DrawnMm))));

    public string Measured(Tried tried) => string.Join(", ", tried.Printed.Select(p => Read(p.Made, p.DrawnMm, p.PrintedMm)));

    private string Read(Made made, double drawnMm, double printedMm)
    {
        bool round = made is Made.HoleUpright or Made.HoleLying, inside = round || made == Made.Slot;
        double[] reads = _part.Caliper(inside ? 'i' : 'o', printedMm, round ? [printedMm] : [], 2);
        return $"{{surface: {Words(made)}, drawn: {Number(drawnMm)}, reads: [{string.Join(", ", reads.Select(Number))}]}}";
    }

    public static string Words(Made made) => made switch
    {
        Made.HoleUpright => "hole upright",
        Made.HoleLying => "hole lying",
        Made.CentreDistance => "centre distance",
        Made.FirstLayer => "first layer",
        _ => made.ToString().ToLowerInvariant(),
    };

    /// <summary>What a word means to most, or anything, mostly narrower; resin is asked for less.</summary>
    private static Wish Wished(bool usual, bool pressed, bool resin, Random random)
    {
        double less = resin ? 0.6 : 1;
        if (usual)
        {
            Wish[] words = [new(0, 0.3), new(0.15, 0.5), new(0.3, 0.8)];
            Wish word = pressed && random.NextDouble() < PressShare ? new(-0.1, 0) : words[random.Next(words.Length)];
            return new(Math.Round(less * word.LowMm, 2), Math.Round(less * word.HighMm, 2));
        }

        double low = Math.Round(less * 0.4 * random.NextDouble(), 2);
        return new(low, Math.Round(low + less * (0.06 + 0.3 * random.NextDouble()), 2));
    }

    /// <summary>What it meets was once made to go with the old part.</summary>
    private double Own(Meet meet, Wish wish, Random random)
    {
        double play = wish.LowMm + (wish.HighMm - wish.LowMm) * (meet.Kind == "screw" ? 0.3 + 0.2 * random.NextDouble() : random.NextDouble());
        return _part.Sizes[meet.Size] + (meet.IsOver ? play : -play);
    }

    private string Counterparts()
    {
        var lines = new List<string> { "counterparts:" };
        foreach (Meet meet in _meetings.Meets)
        {
            double[] reads = _part.Caliper(meet.IsOver ? 'i' : 'o', _own[meet.Name], meet is { IsOver: true, IsRound: true } ? [_own[meet.Name]] : [], 2);
            lines.Add($"  - {{{meet.Kind}: {meet.Name}, reads: [{string.Join(", ", reads.Select(Number))}], {meet.Where}, changes: {meet.Size}, clearance: [{Number(Wishes[meet.Name].LowMm)}, {Number(Wishes[meet.Name].HighMm)}]}}");
            if (meet.Holes < 2) continue;
            double own = _own[meet.Name];
            double[] web = _part.Caliper('o', _ownPitch - own, [], 2), span = _part.Caliper('i', _ownPitch + own, [own, own], 2);
            lines.Add($"  - {{holes: {meet.Name} in line, web_reads: [{string.Join(", ", web.Select(Number))}], span_reads: [{string.Join(", ", span.Select(Number))}], meet: {meet.Where.Split(' ')[1]}, changes: {_meetings.PitchSize}}}");
        }

        return string.Join('\n', lines) + "\n";
    }

    public static string Number(double v) => v.ToString("0.####", CultureInfo.InvariantCulture);
}

/// <summary>What came of a print of the part.</summary>
/// <param name="Went">By the names of the job's counterparts.</param>
/// <param name="Printed">What somebody could measure of it.</param>
/// <param name="OnBed">How many of its fits begin on the bed, and of how many of them the bevel clears the flare.</param>
internal sealed record Tried(IReadOnlyDictionary<string, Went> Went, IReadOnlyList<(Made Made, double DrawnMm, double PrintedMm)> Printed, int OnBed, int Cleared)
{
    public bool AllFit => Went.Values.All(w => w == Printing.Went.Well);
}

/// <summary>What printing takes: a gram of plastic 2.5 minutes (a bead of 0.45 × 0.2 mm at 60 mm/s), each print 10 more for heating up and handling. Common practice, no source.</summary>
internal sealed record Cost(double GramsSpent, double Hours)
{
    public static Cost Nothing { get; } = new(0, 0);

    public static double Grams(double mm3) => 1.2e-3 * mm3;

    public static Cost OfPrint(double grams) => new(grams, (10 + 2.5 * grams) / 60);

    public static Cost operator +(Cost a, Cost b) => new(a.GramsSpent + b.GramsSpent, a.Hours + b.Hours);

    public static Cost operator *(double share, Cost a) => new(share * a.GramsSpent, share * a.Hours);
}
