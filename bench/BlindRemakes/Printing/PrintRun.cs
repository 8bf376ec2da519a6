using System.Diagnostics;
using System.Globalization;

namespace Sparewright.BlindRemakes.Printing;

/// <summary>The second half: from sizes to prints that fit.</summary>
internal static class PrintRun
{
    private const string AsMeasured = "drawn as measured", ByTenths = "no tool: by tenths", WithoutTrial = "without a trial", AfterCoupon = "after one coupon", AfterLadder = "after a ladder",
        AsAdvised = "as advised, without a coupon", CouponAsAdvised = "as advised, after one coupon", WithCopies = "the same, and copies in one go under 70 %", AllKnown = "bound: printer and counterparts known exactly";

    /// <summary>Errands as they come, each on its own.</summary>
    /// <param name="jobs">Of each family of parts on each family of printers; half of them with usual fits, half with any.</param>
    /// <param name="onPrinters">Only on those that are called so; null for all.</param>
    public static IEnumerable<ErrandRecord> Errands(int jobs, int seed, string? onPrinters)
    {
        Family[] families = [.. Families.All, LatchBlock.Family];
        var clock = Stopwatch.StartNew();
        int errands = 0;
        foreach (var (place, family) in families.Index())
            foreach (var (number, printers) in PrinterFamilies.All.Index().Where(p => onPrinters is null || p.Item.Name == onPrinters))
                for (int k = 0; k < jobs; k++)
                {
                    // A seed of its own for each, so that no errand hangs on what was asked of the one before.
                    var random = new Random(unchecked(((seed * 31 + k) * 31 + number) * 31 + place));
                    Case part = new Practitioner(random.Next(), Caliper.Usual).Draw(family, withMistake: false);
                    errands++;
                    yield return Gone(new Errand(part, printers, usual: k % 2 == 0, random));
                }

        Console.Error.WriteLine($"{clock.Elapsed.TotalSeconds:0} s, {1000 * clock.Elapsed.TotalSeconds / errands:0} ms an errand");
    }

    private static ErrandRecord Gone(Errand errand)
    {
        var stated = new Dictionary<string, IReadOnlyList<Stated>>();
        var outcomes = new Dictionary<string, Outcome>();
        var bevels = new List<Bevels>();
        if (Said.Of(errand.Job) is { } said)
        {
            void Go(string policy, Func<List<Stated>, Outcome> go, string? states = null)
            {
                var odds = new List<Stated>();
                outcomes.Add(policy, go(odds));
                if (states is not null) stated.Add(states, odds);
            }

            Go(WithoutTrial, odds => Policies.WithoutTrial(errand, said, odds, bevels), WithoutTrial);
            string coupon = errand.MeasuredCoupon();
            Go(AfterCoupon, odds => Policies.AfterCoupon(errand, coupon, advised: false, 0, odds, bevels), AfterCoupon);
            Go(CouponAsAdvised, odds => Policies.AfterCoupon(errand, coupon, advised: true, 0, odds, []));
            Go(WithCopies, odds => Policies.AfterCoupon(errand, coupon, advised: true, 0.7, odds, []));
            Go(AfterLadder, odds => Policies.AfterLadder(errand, said, advised: false, odds, []), AfterLadder);
            Go(AsAdvised, odds => Policies.AfterLadder(errand, said, advised: true, odds, []));
            Go(AllKnown, _ => Policies.AllKnown(errand, said));
            Go(ByTenths, odds => Policies.ByTenths(errand, said, odds), AsMeasured);
        }

        return new(errand.PartFamily, errand.PrinterFamily, errand.IsUsual, errand.IsHeldOut, Cost.OfPrint(errand.Grams), stated, outcomes, bevels);
    }

    /// <summary>What came of errands, as Markdown.</summary>
    /// <param name="picture">Where the reliability diagram goes; null for none.</param>
    public static void Tell(IReadOnlyList<ErrandRecord> errands, string? picture, TextWriter to)
    {
        ErrandRecord[] said = [.. errands.Where(e => e.Outcomes.Count > 0)];
        to.WriteLine("| odds stated | cases | bins | stated, mean | in fact | farthest off | bins: stated→in fact |");
        to.WriteLine("| --- | --: | --: | --: | --: | --: | --- |");
        IReadOnlyList<Stated> Of(string policy, Func<ErrandRecord, bool> of) => [.. said.Where(of).SelectMany(e => e.Stated[policy])];
        string[] policies = [AsMeasured, WithoutTrial, AfterCoupon, AfterLadder];
        Reliability[] together = [.. policies.Select(p => Reliability.Of(p, Of(p, _ => true)))], kept = [.. policies.Select(p => Reliability.Of($"{p} (held out)", Of(p, e => e.IsHeldOut)))];
        foreach (Reliability one in together.Concat(kept)) to.WriteLine(one.Row());
        if (picture is not null) File.WriteAllText(picture, ReliabilityPicture.Of(together, kept));
        to.WriteLine();
        to.WriteLine("| fits, errands | how | jobs | all fit on the first full print | by the second | full prints | g | h | g beside no tool | h beside no tool | of which a print that fits at once | g spent besides the part that is kept, beside no tool | h likewise |");
        to.WriteLine("| --- | --- | --: | --: | --: | --: | --: | --: | --: | --: | --: | --: | --: |");
        void Rows(string name, Func<ErrandRecord, bool> of)
        {
            foreach (string row in PrintScore.Rows(name, [.. said.Where(of)], ByTenths)) to.WriteLine(row);
        }

        foreach (bool usual in (bool[])[true, false])
        {
            string fits = usual ? "usual" : "any, mostly narrower";
            Rows($"{fits}, all but held out", e => e.IsUsual == usual && !e.IsHeldOut);
            Rows($"{fits}, held out", e => e.IsUsual == usual && e.IsHeldOut);
        }

        foreach (string printers in said.Select(e => e.Printers).Distinct()) Rows($"usual, {printers}", e => e.IsUsual && e.Printers == printers);
        foreach (string parts in said.Select(e => e.Parts).Distinct()) Rows($"usual, {parts}", e => e.IsUsual && e.Parts == parts);
        Rows("all", _ => true);
        to.WriteLine();
        to.WriteLine("| printers, all but held out | surface of 9 mm | come out larger by, mean, mm | differ by, mm |");
        to.WriteLine("| --- | --- | --: | --: |");
        foreach (bool resin in (bool[])[false, true])
            foreach (Made made in (Made[])[Made.Outside, Made.HoleUpright, Made.HoleLying, Made.Slot, Made.Height])
            {
                var (mean, differ) = PrinterFamilies.Population(resin, made, 9);
                to.WriteLine(string.Create(CultureInfo.InvariantCulture, $"| {(resin ? "resin" : "molten plastic")} | {Errand.Words(made)} | {mean:+0.00;−0.00} | {differ:0.00} |"));
            }

        to.WriteLine();
        Bevels[] bevels = [.. said.SelectMany(e => e.Bevels)];
        to.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{errands.Count} errands, {errands.Count - said.Length} about which the tool could say nothing. Of {bevels.Sum(b => b.OnBed)} fits that begin on the bed the bevel cleared the flare of the first print in {100.0 * bevels.Sum(b => b.Cleared) / Math.Max(1, bevels.Sum(b => b.OnBed)):0.0} %. A part takes {said.Average(e => e.Part.GramsSpent):0.0} g on average, {said.Min(e => e.Part.GramsSpent):0.0} to {said.Max(e => e.Part.GramsSpent):0.0}."));
    }
}
