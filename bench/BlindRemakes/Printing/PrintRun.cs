using System.Diagnostics;

namespace Sparewright.BlindRemakes.Printing;

/// <summary>The second half: from sizes to prints that fit.</summary>
internal static class PrintRun
{
    private const string AsMeasured = "drawn as measured", ByTenths = "no tool: by tenths", WithoutTrial = "without a trial", AfterCoupon = "after one coupon", AfterLadder = "after a ladder";

    /// <param name="jobs">Of each family of parts on each family of printers; half of them with usual fits, half with any.</param>
    /// <param name="picture">Where the reliability diagram goes; null for none.</param>
    public static void Go(int jobs, int seed, string? picture, TextWriter to)
    {
        var clock = Stopwatch.StartNew();
        var stated = ((string[])[AsMeasured, WithoutTrial, AfterCoupon, AfterLadder]).ToDictionary(p => p, _ => (Seen: new List<Stated>(), HeldOut: new List<Stated>()));
        var scores = new Dictionary<string, PrintScore>();
        var (all, heldOut) = (new PrintScore(), new PrintScore());
        int failed = 0, errands = 0;
        foreach (Family family in Families.All)
            foreach (var (number, printers) in PrinterFamilies.All.Index())
                for (int k = 0; k < jobs; k++)
                {
                    // A seed of its own for each, so that no errand hangs on what was asked of the one before.
                    var random = new Random(unchecked(((seed * 31 + k) * 31 + number) * 31 + Array.IndexOf([.. Families.All], family)));
                    Case part = new Practitioner(random.Next(), Caliper.Usual).Draw(family, withMistake: false);
                    var errand = new Errand(part, printers, usual: k % 2 == 0, random);
                    errands++;
                    if (Said.Of(errand.Job) is not { } said)
                    {
                        failed++;
                        continue;
                    }

                    List<Stated> Of(string policy) => errand.IsHeldOut ? stated[policy].HeldOut : stated[policy].Seen;
                    var score = new PrintScore();
                    score.Take(WithoutTrial, Policies.WithoutTrial(errand, said, Of(WithoutTrial)));
                    score.Take(AfterCoupon, Policies.AfterCoupon(errand, Of(AfterCoupon), random));
                    score.Take(AfterLadder, Policies.AfterLadder(errand, said, Of(AfterLadder), random));
                    score.Take(ByTenths, Policies.ByTenths(errand, said, Of(AsMeasured)));
                    if (!errand.IsUsual) continue;
                    if (!scores.TryGetValue(printers.Name, out PrintScore? own)) scores.Add(printers.Name, own = new());
                    own.Take(score);
                    (errand.IsHeldOut ? heldOut : all).Take(score);
                }

        to.WriteLine("| odds stated | cases | bins | stated, mean | in fact | farthest off | bins: stated→in fact |");
        to.WriteLine("| --- | --: | --: | --: | --: | --: | --- |");
        Reliability[] together = [.. stated.Select(s => Reliability.Of(s.Key, [.. s.Value.Seen, .. s.Value.HeldOut]))], kept = [.. stated.Select(s => Reliability.Of($"{s.Key} (held out)", s.Value.HeldOut))];
        foreach (Reliability one in together.Concat(kept)) to.WriteLine(one.Row());
        if (picture is not null) File.WriteAllText(picture, ReliabilityPicture.Of(together, kept));
        to.WriteLine();
        to.WriteLine("| usual fits | how | jobs | all fit on the first full print | by the second | full prints | g | h | g beside no tool | h beside no tool |");
        to.WriteLine("| --- | --- | --: | --: | --: | --: | --: | --: | --: | --: |");
        foreach (string row in all.Rows("all but held out", ByTenths).Concat(heldOut.Rows("held out", ByTenths)).Concat(scores.SelectMany(s => s.Value.Rows(s.Key, ByTenths)))) to.WriteLine(row);
        to.WriteLine();
        to.WriteLine($"{errands} errands, {failed} about which the tool could say nothing.");
        Console.Error.WriteLine($"{clock.Elapsed.TotalSeconds:0} s, {1000 * clock.Elapsed.TotalSeconds / errands:0} ms an errand");
    }
}
