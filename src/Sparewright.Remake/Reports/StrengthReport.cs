using System.Globalization;
using Sparewright.Measure.Quantities;
using Sparewright.Part.Record;
using Sparewright.Part.Shape;
using Sparewright.Remake.Bearing;
using Sparewright.Solid;
using Sparewright.Strength.Cases;
using Sparewright.Strength.Margins;
using Sparewright.Strength.Materials;
using Sparewright.Strength.Stresses;

namespace Sparewright.Remake.Reports;

/// <summary>Whether it will hold, in words. It says what was computed and on which assumptions, and leaves the judgement to people.</summary>
public static class StrengthReport
{
    /// <summary>What stands under every answer.</summary>
    public const string Assumptions = "Computed on the part as measured, before anything is drawn otherwise for the fits, as small movements of an elastic solid that is printed solid inside, with everything held as the job says. Not computed: wear, blows, faults of the print, what happens where a support touches. An estimate, not a proof: local codes and a qualified person come first, and so does a trial.";

    public static Report Of(StrengthFound found, LengthUnit unit = default) => new(
    [
        new ReportPart.Heading(found.Job.Job.PartName),
        .. JobCautions.Of(found.Job.Job).Select(c => new ReportPart.Line(c, Tone.Caution)),
        .. Found(found, unit).Parts,
    ]);

    /// <summary>What was found, without the part's name and the cautions that its job calls for.</summary>
    public static Report Found(StrengthFound found, LengthUnit unit = default) => new(
    [
        .. Cautions(found).Select(c => new ReportPart.Line(c, Tone.Caution)),
        new ReportPart.Line($"Printed in {found.Material.Name}, {Word(found.Up)} as the way up{(found.UpIsSaid ? "" : " (the job does not say; print: {way_up: …})")}. {SourceOfStrength(found)}"),
        .. found.Cases.SelectMany(c => Case(c, unit)),
        new ReportPart.Heading("Which way the layers should lie"),
        .. Ways(found),
        .. found.Cures is { } cures ? CureReport.Of(found, cures, unit) : [],
        .. found.Old is { } old ? Old(found, old, unit) : [],
        new ReportPart.Heading("What this rests on"),
        new ReportPart.Line(Assumptions),
        new ReportPart.Line(Computed(found, unit)),
        new ReportPart.Line(Surer(found)),
    ]);

    /// <summary>What would make the least margin's ± smaller, in a sentence: the less certain of strength and stress.</summary>
    public static string Surer(StrengthFound found)
    {
        CaseFound of = found.Governing;
        return of.Allowables.Against(of.Margin.Mode).Strength.Status != Status.Measured
            ? "What would make it surer: print a bar standing and one lying, from this printer and spool, pull them with a luggage scale until they break, and write them under test_bars."
            : of.Solved.StressPlusMinus > 2 * of.Allowables.SpreadOf(of.Margin.Mode)
                ? string.Create(CultureInfo.InvariantCulture, $"What would make it surer: a bigger round at {of.Element}, where the stress is known to ± {Percent(of.Solved.StressPlusMinus)} only.")
                : "What would make it surer: more test bars from this printer and spool, and then a trial of the print itself.";
    }

    /// <summary>How it would go, in words.</summary>
    public static string Words(FailureMode mode) => mode switch
    {
        FailureMode.TornInLayer => "torn along the layers",
        FailureMode.CrushedInLayer => "crushed along the layers",
        FailureMode.ShearedInLayer => "sheared within the layers",
        FailureMode.LayersPulledApart => "layers pulled apart",
        FailureMode.LayersSheared => "layers sheared off each other",
        FailureMode.LayersCrushed => "layers crushed together",
        _ => "gives way",
    };

    /// <summary>Why the number of a case is to be taken with care; sentences.</summary>
    public static IReadOnlyList<string> Remarks(CaseFound of, LengthUnit unit = default)
    {
        var remarks = new List<string>();
        SolvedCase solved = of.Solved;
        if (solved.Weakest.SharpCorner is { } corner)
            remarks.Add($"Sharp inner corner at {Point(corner.At, unit)}: there the stress has no finite value, and it was read one wall line beside it. Give that corner a fillet.");
        if (solved.Resolution == Resolution.NotResolved)
            remarks.Add(solved.Handbook is { } book
                ? string.Create(CultureInfo.InvariantCulture, $"Not resolved: the hole or round at the weakest place is too small for the cells there. The handbook's factor counts instead: {book.Factor:0.0} times what the {LengthsShown.Rounded(book.WallMm, 1, unit)} {unit.Symbol()} of wall behind it bears evenly and {book.InBending:0.0} times what it bears in bending; {book.Of}.")
                : "Not resolved: the round at the weakest place is too small for the cells there, and no case of the handbook is like it. Take the margin as a guess; a bigger round would be seen, and would help.");
        else if (solved.StressPlusMinus > 0.25)
            remarks.Add(string.Create(CultureInfo.InvariantCulture, $"The stress at the weakest place still changes by {100 * solved.StressPlusMinus:0} % with the size of the cells; take the margin as a guess."));
        remarks.AddRange(of.ClosedGaps.Select(g =>
            $"The {LengthsShown.WithUnit(g.Mm, unit)} of air between {g.First} and {g.Second} at {Point(g.At, unit)} is too little for cells of {LengthsShown.WithUnit(solved.CellMm, unit)}: the two count as grown together there, and the part as stiffer and stronger than it is. Take the margin as a guess; a wider gap would be seen."));
        if (solved.PullingShare > 0)
            remarks.Add(solved.PullingShare < 0.05
                ? string.Create(CultureInfo.InvariantCulture, $"Supports that only push would still pull a little ({100 * solved.PullingShare:0.0} % of all forces).")
                : string.Create(CultureInfo.InvariantCulture, $"What lifts off was not settled: supports that only push would still have to pull ({100 * solved.PullingShare:0} % of all forces). Take the margin as a guess, and see whether the part is held as the job says."));
        remarks.AddRange(solved.Case.Remarks.Select(r => char.ToUpperInvariant(r[0]) + r[1..] + "."));
        return remarks;
    }

    /// <summary>What the surroundings ask of the material, and the loads of the job's own answers.</summary>
    public static IReadOnlyList<string> Cautions(StrengthFound found)
    {
        var cautions = new List<string>();
        Job job = found.Job.Job;
        if (!job.CouldInjure.Could && job.Loads.Any(l => l.Actions.Any(a => a is LoadAction.Pressure)))
            cautions.Add("What is under pressure can burst and throw pieces. The job says that its failure could injure nobody: see whether that is so.");
        if (KnockDowns.GoesSoft(found.Material.Habits, job.Lives))
            cautions.Add(string.Create(CultureInfo.InvariantCulture, $"{found.Material.Name} goes soft at about {found.Material.Habits.SoftensAtDegC.Value:0} °C, and the part gets as hot as {job.Lives!.HottestDegC:0} °C: take another material."));
        return cautions;
    }

    /// <summary>How many cells, and how big.</summary>
    internal static string Cells(SolvingNeeds needs, LengthUnit unit = default) => string.Create(CultureInfo.InvariantCulture, $"{needs.Cells:#,0} cells of {LengthsShown.WithUnit(needs.CellMm, unit)}");

    internal static string Memory(long bytes) => string.Create(CultureInfo.InvariantCulture, $"{bytes / 1e6:#,0} MB");

    private static string Computed(StrengthFound found, LengthUnit unit) => string.Create(CultureInfo.InvariantCulture,
        $"{Cells(found.Needs, unit)}, for which up to {Memory(found.Needs.MostBytes)} of memory was reckoned beforehand; about the weakest place {LengthsShown.Rounded(found.Governing.Solved.WindowCellMm, 3, unit)} {unit.Symbol()}. Second number {string.Join(", ", found.Cases.Select(c => $"{(found.Cases.Count > 1 ? $"“{c.Load.Name}” " : "")}{WithShare(c.Margin.TsaiWu, ShareOf(c.Margin))} (Tsai–Wu), its check {WithShare(c.Margin.Hoffman, ShareOf(c.Margin))} (Hoffman)"))}.");

    private static string SourceOfStrength(StrengthFound found)
    {
        bool measured = found.Material.Strengths is { TensionInLayer.Status: Status.Measured } or { TensionAcross.Status: Status.Measured };
        return measured ? "Test bars of your own say what it bears; what they do not say is from a table." : "Its strengths are from a table and stand for no particular printer or spool.";
    }

    private static IEnumerable<ReportPart> Case(CaseFound of, LengthUnit unit)
    {
        Margin margin = of.Margin;
        SolvedCase solved = of.Solved;
        AllowedStrength allowed = of.Allowables.Against(margin.Mode);
        yield return new ReportPart.Heading(of.Load.Name);
        yield return new ReportPart.Line(LoadWords.Of(of.Load));
        yield return new ReportPart.Line($"Margin {WithError(margin)}: {Meaning(margin)}", margin.HoldsWithItsError ? Tone.Good : Tone.LookHere);
        yield return new ReportPart.Line(string.Create(CultureInfo.InvariantCulture,
            $"It would go first at {of.Element}, {Point(solved.Weakest.Point.At, unit)} ± {Place(solved, unit)}: {Words(margin.Mode)}. {Short(allowed.MPa / margin.Value)} MPa ± {Percent(solved.StressPlusMinus)} acts there, {Short(allowed.MPa)} MPa ± {Percent(2 * allowed.Strength.Spread)} is allowed. At once, with nothing taken off its strength, it would go at {WithShare(of.ShortTerm.Factor, ShareOf(margin))} times this load. It gives way by {Movement(solved, unit)}, if the print is as stiff as the table says."));
        if (of.Next is { } next) yield return new ReportPart.Line($"Next weakest, judged as closely: {next.Element}, {Point(next.At, unit)} ± {Place(solved, unit)}, with a margin of {WithError(next.Margin)}: {Words(next.Margin.Mode)}.");
        yield return new ReportPart.Table([$"allowed, {Words(margin.Mode)}", "", "known"],
        [
            new(Tone.Plain, "strength", string.Create(CultureInfo.InvariantCulture, $"{allowed.Strength.Value:0.0} MPa ± {200 * allowed.Strength.Spread:0} %"), Word(allowed.Strength.Status)),
            .. allowed.Factors.Append(allowed.Safety with { Name = "safety" }).Select((f, k) => new ReportPart.Row(Tone.Plain, f.Name, string.Create(CultureInfo.InvariantCulture, $"{(k < allowed.Factors.Count ? "×" : "/")} {f.Factor:0.##}"), Word(f.Status))),
            new(Tone.Plain, "allowed", $"{Short(allowed.MPa)} MPa ± {Percent(2 * allowed.Strength.Spread)}", ""),
        ]);
        yield return new ReportPart.Line($"From: strength: {allowed.Strength.Source}; {string.Join("; ", allowed.Factors.Append(allowed.Safety with { Name = "safety" }).Select(f => $"{f.Name}: {f.Source}"))}.");
        foreach (ReportPart part in OpinionReport.Of(of, unit)) yield return part;
        foreach (string remark in Remarks(of, unit)) yield return new ReportPart.Line(remark, Tone.LookHere);
    }

    /// <summary>A margin with its ± to the same place; one that is far above 1 is not told to the digit.</summary>
    public static string WithError(Margin margin) => WithError(margin.Value, margin.PlusMinus);

    /// <summary>A number of times with its ± to the same place.</summary>
    public static string WithError(double value, double plusMinus)
    {
        if (value > Many) return Short(value);
        int digits = Digits(value);
        double rounded = Math.Max(Math.Round(plusMinus, digits), Math.Pow(10, -digits));
        return $"{Short(value)} ± {rounded.ToString("F" + digits.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture)}";
    }

    /// <summary>A value with its ± in absolute terms, both with as many digits as the ± asks for: its first one, and two where that is a 1.</summary>
    /// <param name="most">No more digits after the point than this.</param>
    /// <param name="sign">A plus before what is above 0.</param>
    internal static string Rounded(double value, double plusMinus, int most, bool sign = false)
    {
        int digits = Math.Clamp(plusMinus > 0 ? -(int)Math.Floor(Math.Log10(plusMinus / 1.95)) : most, 0, most);
        string format = "F" + digits.ToString(CultureInfo.InvariantCulture), before = value < 0 ? "−" : sign && value > 0 ? "+" : "";
        return $"{before}{Math.Abs(value).ToString(format, CultureInfo.InvariantCulture)} ± {Math.Max(plusMinus, Math.Pow(10, -digits)).ToString(format, CultureInfo.InvariantCulture)}";
    }

    /// <summary>The ± of a margin as a share of it; that of every number that follows from the same stress and strength.</summary>
    internal static double ShareOf(Margin margin) => double.IsFinite(margin.Value) ? margin.PlusMinus / margin.Value : 0;

    private static string WithShare(double value, double share) => WithError(value, value * share);

    /// <summary>A share as a whole per cent, told with two digits at most.</summary>
    private static string Percent(double share) => share >= 1 ? "100 % or more" : string.Create(CultureInfo.InvariantCulture, $"{Math.Clamp(100 * share, 1, 99):0} %");

    /// <summary>The weakest place is looked for at points so far apart.</summary>
    private static string Place(SolvedCase solved, LengthUnit unit) => $"{LengthsShown.Rounded(Math.Max(0.1, PartUnderLoad.PointsApartInWindow * solved.WindowCellMm), 1, unit)} {unit.Symbol()}";

    /// <summary>How far the part gives way, with the ± that its cells leave.</summary>
    public static string Movement(SolvedCase solved, LengthUnit unit = default) => solved.DisplacementMm < 0.01 ? $"less than {LengthsShown.WithUnit(0.01, unit)}"
        : $"up to {LengthsShown.Display(solved.DisplacementMm, unit)} ± {LengthsShown.WithUnit(Math.Max(0.01, solved.DisplacementPlusMinusMm), unit)}";

    private static string Meaning(Margin margin) => margin.Value < 1
        ? $"asked for {Short(1 / margin.Value)} times what it is allowed to bear."
        : margin.HoldsWithItsError ? "within what it is allowed to bear, its ± included."
        : "within what it is allowed to bear, but not by more than its ±.";

    private static IEnumerable<ReportPart> Ways(StrengthFound found)
    {
        yield return new ReportPart.Table(["way up", "least margin"], [.. found.Ways.Select(w => new ReportPart.Row(Tone.Plain, Word(w.Up) + (w.Up == found.Up ? " (now)" : ""), WithError(w.Least.Margin)))]);
        WayUp best = found.Ways[0], now = found.Ways.First(w => w.Up == found.Up);
        var gain = best.Least.Over(now.Least, sameMaterial: true);
        bool isBest = best.Up == found.Up || gain.Times < CureWork.LeastGain;
        yield return new ReportPart.Line(isBest ? "No other way up is clearly stronger."
            : $"With {Word(best.Up)} as the way up the margin would be {WithError(gain.Times, gain.PlusMinus)} times as much.", isBest ? Tone.Good : Tone.LookHere);
    }

    private static string Guess(StrengthFound found, OldPart old) => !old.Guessed ? ""
        : found.Job.Job.MadeOf is { } words ? $" (a guess: nothing is known of “{words}”; made_of: {string.Join(", ", MaterialTable.Published.MouldedNames)} are known)"
        : " (a guess: the job does not say, made_of: …)";

    private static IEnumerable<ReportPart> Old(StrengthFound found, OldPart old, LengthUnit unit)
    {
        yield return new ReportPart.Heading("The old part under the same loads");
        yield return new ReportPart.Line($"Taken as moulded in {old.Material.Name}{Guess(found, old)}, alike in all directions.");
        foreach (OldPlace place in old.Places)
            yield return new ReportPart.Line($"{place.Case}: weakest at {place.Element}, {Point(place.At, unit)}; it would have gone at {WithShare(place.Reserve.Factor, place.PlusMinus)} times the load.");
        if (found.Job.Job.Broke is { } broke) yield return new ReportPart.Line($"The job says: {broke.TrimEnd('.')}.");
        // The load under which it would have gone first is the one that a break is held against.
        if (old.Places.MinBy(p => p.Reserve.Factor) is not { } first) yield break;
        string distances = string.Join(", ", first.Named.Select(n => $"{n.Name} {LengthsShown.Rounded(n.Mm, 1, unit)} ± {LengthsShown.Rounded(Math.Max(0.1, first.PlaceMm), 1, unit)} {unit.Symbol()} away"));
        yield return first.Agrees switch
        {
            true => new ReportPart.Line($"The weakest place under “{first.Case}” agrees with where it broke ({distances}).", Tone.Good),
            false => new ReportPart.Line($"The weakest place under “{first.Case}” does not agree with where it broke ({distances}): something else broke it, or it was held otherwise than the job says.", Tone.LookHere),
            null when distances.Length > 0 => new ReportPart.Line($"From the weakest place under “{first.Case}”, what these words name is {distances}. To have that judged write broke_at: [elements]."),
            null => new ReportPart.Line("To have the weakest place held against the break write broke_at: [elements]."),
        };
    }

    private static string Word(Status status) => status switch { Status.Read => "read", Status.Memory => "from memory", Status.Measured => "measured", _ => "assumed" };

    private static string Word(Direction direction) => direction.ToString().ToLowerInvariant();

    private static string Point(Point3 p, LengthUnit unit) => $"({string.Join(", ", new[] { p.X, p.Y, p.Z }.Select(mm => LengthsShown.Rounded(mm, 1, unit)))})";

    /// <summary>Above this nobody needs to know how many times.</summary>
    private const double Many = 100;

    /// <summary>A number of times with the two digits that count.</summary>
    public static string Short(double x)
    {
        if (x > Many) return "over 100";
        if (x == 0) return "0";
        int digits = Digits(x);
        return Math.Round(x, digits).ToString("F" + digits.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
    }

    private static int Digits(double x) => Math.Clamp(1 - (int)Math.Floor(Math.Log10(Math.Abs(x))), 0, 6);
}
