using System.Globalization;
using Sparewright.Remake.Ladders;

namespace Sparewright.BlindRemakes.Printing;

/// <summary>What was spent until everything fitted, or nobody went on.</summary>
/// <param name="Prints">Of the whole part, until everything fitted; one more than the most where it never did.</param>
internal sealed record Outcome(int Prints, Cost Cost);

/// <summary>Stated odds, and what came of it.</summary>
internal sealed record Stated(double Odds, bool Fits);

/// <summary>How many fits that begin on the bed were printed first, and of how many the bevel cleared the flare.</summary>
internal sealed record Bevels(int OnBed, int Cleared);

/// <summary>How people go about an errand with the tool, and without it.</summary>
internal static class Policies
{
    public const int MostPrints = 12;

    /// <summary>A volunteer does so many jobs on a spool, and one coupon serves them all.</summary>
    private const int JobsACoupon = 10;

    private static readonly Dictionary<string, double> NoRelief = [];

    private static readonly DateOnly FirstDay = new(2026, 6, 1);

    /// <summary>What the tool's coupon takes to print, by the volume of its solid, and to measure: a minute a reading.</summary>
    private static readonly Cost OfCoupon = Cost.OfPrint(Cost.Grams(9175)) + new Cost(0, 28 / 60.0);

    /// <summary>Prints at the sizes for the fits without having tried anything.</summary>
    public static Outcome WithoutTrial(Errand errand, Said said, List<Stated> stated, List<Bevels> bevels) => Print(errand, said, Cost.Nothing, stated, bevels);

    /// <summary>One coupon first, measured.</summary>
    /// <param name="advised">Whether gauges are printed where the tool says that they pay.</param>
    /// <param name="copiesUnder">Where all fit with less than this, several copies are printed in one go, as many as the tool says; 0 for never.</param>
    public static Outcome AfterCoupon(Errand errand, string coupon, bool advised, double copiesUnder, List<Stated> stated, List<Bevels> bevels)
    {
        errand.Forget();
        errand.Note($"{{on: {Day(0)}, measured: [{coupon}]}}");
        Cost spent = (1.0 / JobsACoupon) * OfCoupon;
        if (Said.Of(errand.Job) is not { } said) return Lost(errand);
        if (!advised || said.Gauges(errand.VolumeMm3) is not { Count: > 0 } gauges) return Print(errand, said, spent, stated, bevels, copiesUnder);
        spent += Tried(errand, said, gauges);
        return Said.Of(errand.Job) is { } after ? Print(errand, after, spent, stated, bevels, copiesUnder) : Lost(errand);
    }

    /// <summary>Gauges first, for each fit for which the tool proposes some, whether they pay or not; or only where they do.</summary>
    public static Outcome AfterLadder(Errand errand, Said before, bool advised, List<Stated> stated, List<Bevels> bevels)
    {
        errand.Forget();
        IReadOnlyList<GaugeSteps> gauges = before.Gauges(advised ? errand.VolumeMm3 : null);
        if (gauges.Count == 0) return Print(errand, before, Cost.Nothing, stated, bevels);
        Cost spent = Tried(errand, before, gauges);
        return Said.Of(errand.Job) is { } said ? Print(errand, said, spent, stated, bevels) : Lost(errand);
    }

    /// <summary>Prints the gauges, tries them and enters the answers.</summary>
    private static Cost Tried(Errand errand, Said before, IReadOnlyList<GaugeSteps> all)
    {
        Cost spent = Cost.Nothing;
        foreach (GaugeSteps gauges in all)
        {
            // Each is the hole with 2 mm around it, as long as it is wide and 5 mm or more, on its share of a bar of 4 × 2 mm; trying takes a minute each.
            double Block(double d) => Math.Max(5, d);
            if (gauges.HoldsPattern)
            {
                double hole = gauges.DrawnMm[0], pitch = before.ForTheFits[errand.PitchSize!];
                errand.Note($"{{on: {Day(0)}, measured: [{errand.Measured(errand.Printer.Print(errand.Random), errand.Pattern(hole, pitch))}]}}");
                spent += Cost.OfPrint(Cost.Grams((pitch + hole + 4) * (hole + 4) * Block(hole) + (pitch + hole + 7) * 4 * 2)) + new Cost(0, 5 / 60.0);
                continue;
            }

            IReadOnlyList<bool> goes = errand.Gauges(gauges.Counterpart, gauges.DrawnMm);
            string[] answers = [Answer("goes", true), Answer("too_tight", false)];
            errand.Note($"{{on: {Day(0)}, gauges: [{{for: {gauges.Counterpart}, {string.Join(", ", answers.Where(a => a.Length > 0))}}}]}}");
            spent += Cost.OfPrint(Cost.Grams(gauges.DrawnMm.Sum(d => ((d + 4) * (d + 4) - 0.785 * d * d) * Block(d) + (d + 7) * 4 * 2))) + new Cost(0, gauges.DrawnMm.Count / 60.0);

            string Answer(string key, bool went) => gauges.DrawnMm.Where((_, k) => goes[k] == went).ToArray() is { Length: > 0 } sizes ? $"{key}: [{string.Join(", ", sizes.Select(Errand.Number))}]" : "";
        }

        return spent;
    }

    /// <summary>No tool: the part as measured; what is too tight or too loose is changed by a tenth, and the whole printed again.</summary>
    public static Outcome ByTenths(Errand errand, Said said, List<Stated> stated)
    {
        var sizes = said.AsMeasured.ToDictionary(s => s.Key, s => s.Value);
        Cost spent = Cost.Nothing;
        for (int print = 1; print <= MostPrints; print++)
        {
            Tried tried = errand.Try(sizes, NoRelief);
            if (print == 1) State(said.EachAsMeasured, said.AllAsMeasured, tried, stated);
            spent += Cost.OfPrint(errand.Grams);
            if (tried.AllFit) return new(print, spent);
            foreach (Meet meet in errand.Meets)
                sizes[meet.Size] += tried.Went[meet.Name] switch { Went.TooTight => meet.IsOver ? -0.1 : 0.1, Went.TooLoose => meet.IsOver ? 0.1 : -0.1, _ => 0 };
        }

        return new(MostPrints + 1, spent);
    }

    /// <summary>Nobody does better: the printer and what the part meets are known exactly, and only what differs from print to print is left.</summary>
    public static Outcome AllKnown(Errand errand, Said said)
    {
        IReadOnlyDictionary<string, double> sizes = errand.Known(said.AsMeasured);
        Cost spent = Cost.Nothing;
        for (int print = 1; print <= MostPrints; print++)
        {
            spent += Cost.OfPrint(errand.Grams);
            if (errand.Try(sizes, NoRelief).AllFit) return new(print, spent);
        }

        return new(MostPrints + 1, spent);
    }

    /// <summary>Prints, tries, measures what was printed, asks again, until all fit.</summary>
    private static Outcome Print(Errand errand, Said said, Cost spent, List<Stated> stated, List<Bevels> bevels, double copiesUnder = 0)
    {
        for (int print = 1; print <= MostPrints; print++)
        {
            VirtualPrint go = errand.Printer.Print(errand.Random);
            Tried[] copies = [.. Enumerable.Range(0, said.Copies(copiesUnder)).Select(_ => errand.Try(go, said.ForTheFits, said.ReliefMm))];
            Tried tried = copies.FirstOrDefault(c => c.AllFit) ?? copies[0];
            if (print == 1)
            {
                State(said.Each, said.All, tried, stated);
                bevels.Add(new(tried.OnBed, tried.Cleared));
            }

            spent += Cost.OfPrint(copies.Length * errand.Grams);
            if (tried.AllFit) return new(print, spent);
            errand.Note($"{{on: {Day(print)}, measured: [{string.Join(", ", copies.Select(errand.Measured))}]}}");
            if (Said.Of(errand.Job) is not { } next) return Lost(errand);
            said = next;
        }

        return new(MostPrints + 1, spent);
    }

    private static void State(IEnumerable<(string Name, double Odds)> each, double all, Tried tried, List<Stated> stated)
    {
        var named = each.ToArray();
        stated.AddRange(named.Select(e => new Stated(e.Odds, tried.Went[e.Name] == Went.Well)));

        if (named.Length > 1) stated.Add(new(all, tried.AllFit));
    }

    private static Outcome Lost(Errand errand) => new(MostPrints + 1, MostPrints * Cost.OfPrint(errand.Grams));

    private static string Day(int print) => FirstDay.AddDays(print).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
}
