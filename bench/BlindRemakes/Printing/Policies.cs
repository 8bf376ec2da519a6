using System.Globalization;

namespace Sparewright.BlindRemakes.Printing;

/// <summary>What was spent until everything fitted, or nobody went on.</summary>
/// <param name="Prints">Of the whole part, until everything fitted; one more than the most where it never did.</param>
internal readonly record struct Outcome(int Prints, Cost Cost);

/// <summary>Stated odds, and what came of it.</summary>
internal readonly record struct Stated(double Odds, bool Fits);

/// <summary>How people go about an errand with the tool, and without it.</summary>
internal static class Policies
{
    public const int MostPrints = 12;

    /// <summary>A volunteer does so many jobs on a spool, and one coupon serves them all.</summary>
    private const int JobsACoupon = 10;

    private static readonly DateOnly FirstDay = new(2026, 6, 1);

    /// <summary>Four holes each way, four pegs and two lengths, four slots, three steps and two distances of centres: what a capability coupon holds.</summary>
    private static readonly (Made Made, double DrawnMm)[] Coupon =
    [
        .. ((double[])[4, 8, 10, 15]).SelectMany(d => new[] { (Made.HoleUpright, d), (Made.HoleLying, d), (Made.Outside, d) }), (Made.Outside, 20), (Made.Outside, 80),
        .. ((double[])[2, 4, 8, 15]).Select(w => (Made.Slot, w)), .. ((double[])[4, 8, 20]).Select(h => (Made.Height, h)), (Made.CentreDistance, 20), (Made.CentreDistance, 70),
    ];

    /// <summary>What that coupon takes: a bar of 90 × 30 × 4 mm, of which the holes are missing, and what stands on it.</summary>
    private static readonly Cost OfCoupon = Cost.OfPrint(Cost.Grams(90 * 30 * 4 + 4000)) + new Cost(0, 2 * Coupon.Length / 60.0);

    /// <summary>Prints at the sizes for the fits without having tried anything.</summary>
    public static Outcome WithoutTrial(Errand errand, Said said, List<Stated> stated) => Print(errand, said, default, stated, first: true);

    /// <summary>One coupon first, measured.</summary>
    public static Outcome AfterCoupon(Errand errand, List<Stated> stated, Random random)
    {
        errand.Forget();
        errand.Note($"{{on: {Day(0)}, measured: [{errand.Measured(errand.Printer.Print(random), Coupon)}]}}");
        return Said.Of(errand.Job) is { } said ? Print(errand, said, (1.0 / JobsACoupon) * OfCoupon, stated, first: true) : Lost(errand);
    }

    /// <summary>Gauges first, for each fit for which the tool proposes some.</summary>
    public static Outcome AfterLadder(Errand errand, Said before, List<Stated> stated, Random random)
    {
        errand.Forget();
        Cost spent = default;
        foreach (var gauges in before.Gauges())
        {
            if (gauges.HoldsPattern)
            {
                // A plate with both holes and 3 mm around them, and what lies above it.
                double hole = gauges.DrawnMm[0], pitch = before.ForTheFits[errand.PitchSize!];
                errand.Note($"{{on: {Day(0)}, measured: [{errand.Measured(errand.Printer.Print(random), errand.Pattern(hole, pitch))}]}}");
                spent += Cost.OfPrint(Cost.Grams((pitch + hole + 6) * (hole + 6) * 7));
                continue;
            }

            IReadOnlyList<bool> goes = errand.Gauges(gauges.Counterpart, gauges.DrawnMm);
            string[] answers = [Answer("goes", true), Answer("too_tight", false)];
            errand.Note($"{{on: {Day(0)}, gauges: [{{for: {gauges.Counterpart}, {string.Join(", ", answers.Where(a => a.Length > 0))}}}]}}");
            // Each is the hole with 3 mm around it, one and a half diameters long, on its share of a bar.
            spent += Cost.OfPrint(Cost.Grams(gauges.DrawnMm.Sum(d => ((d + 6) * (d + 6) - 0.785 * d * d) * Math.Max(6, 1.5 * d) + (d + 10) * 8 * 3)));

            string Answer(string key, bool went) => gauges.DrawnMm.Where((_, k) => goes[k] == went).ToArray() is { Length: > 0 } sizes ? $"{key}: [{string.Join(", ", sizes.Select(Errand.Number))}]" : "";
        }

        return Said.Of(errand.Job) is { } said ? Print(errand, said, spent, stated, first: true) : Lost(errand);
    }

    /// <summary>No tool: the part as measured; what is too tight or too loose is changed by a tenth, and the whole printed again.</summary>
    public static Outcome ByTenths(Errand errand, Said said, List<Stated> stated)
    {
        var sizes = said.AsMeasured.ToDictionary(s => s.Key, s => s.Value);
        Cost spent = default;
        for (int print = 1; print <= MostPrints; print++)
        {
            Tried tried = errand.Try(sizes);
            if (print == 1) State(said.EachAsMeasured, said.AllAsMeasured, tried, stated);
            spent += Cost.OfPrint(errand.Grams);
            if (tried.AllFit) return new(print, spent);
            foreach (Meet meet in errand.Meets)
                sizes[meet.Size] += tried.Went[meet.Name] switch { Went.TooTight => meet.IsOver ? -0.1 : 0.1, Went.TooLoose => meet.IsOver ? 0.1 : -0.1, _ => 0 };
        }

        return new(MostPrints + 1, spent);
    }

    /// <summary>Prints, tries, measures what was printed, asks again, until all fit.</summary>
    private static Outcome Print(Errand errand, Said said, Cost spent, List<Stated> stated, bool first)
    {
        for (int print = 1; print <= MostPrints; print++)
        {
            Tried tried = errand.Try(said.ForTheFits);
            if (print == 1 && first) State(said.Each, said.All, tried, stated);
            spent += Cost.OfPrint(errand.Grams);
            if (tried.AllFit) return new(print, spent);
            errand.Note($"{{on: {Day(print)}, measured: [{errand.Measured(tried)}]}}");
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
