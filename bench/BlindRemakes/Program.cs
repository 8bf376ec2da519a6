using System.Diagnostics;
using System.Globalization;
using Sparewright.BlindRemakes;
using Sparewright.BlindRemakes.Printing;
using Sparewright.Part;
using Sparewright.Reconcile;
using Sparewright.Reconcile.Findings;

// dotnet run -c Release --project bench/BlindRemakes -- [jobs a family, default 200] [seed, default 1] [families at a time, default 1] [only these families, by a word of their names]
// dotnet run -c Release --project bench/BlindRemakes -- coverage FILE.svg [jobs a family, default 400] [seed, default 1]
// dotnet run -c Release --project bench/BlindRemakes -- prints [jobs of each family of parts on each of printers, default 20] [seed, default 1] [FILE.jsonl [only on these printers]]
// dotnet run -c Release --project bench/BlindRemakes -- prints told FILE.jsonl … [FILE.svg]
// Draws parts, hides them, measures them as people do, hands the jobs to the tool, and scores what it says. Markdown on standard output.
if (args is ["coverage", var picture, .. var rest])
{
    int each = rest.Length > 0 ? int.Parse(rest[0], CultureInfo.InvariantCulture) : 400, from = rest.Length > 1 ? int.Parse(rest[1], CultureInfo.InvariantCulture) : 1;
    Coverage[] found = [Coverage.Of("calipers that keep their limits", Caliper.WithinItsLimits, each, from), Coverage.Of("one with some to spare", Caliper.Usual, each, from), Coverage.Of("one that is off all along", Caliper.OffAllAlong, each, from)];
    File.WriteAllText(picture, CoveragePicture.Of(found));
    foreach (Coverage one in found) Console.WriteLine(one.Row());
    return 0;
}

if (args is ["prints", "told", .. var files])
{
    string? drawn = files.FirstOrDefault(f => f.EndsWith(".svg", StringComparison.Ordinal));
    PrintRun.Tell([.. files.Where(f => f != drawn).SelectMany(File.ReadLines).Select(ErrandRecord.Of)], drawn, Console.Out);
    return 0;
}

if (args is ["prints", .. var how])
{
    var errands = PrintRun.Errands(how.Length > 0 ? int.Parse(how[0], CultureInfo.InvariantCulture) : 20, how.Length > 1 ? int.Parse(how[1], CultureInfo.InvariantCulture) : 1, how.Length > 3 ? how[3] : null);
    if (how.Length > 2) File.WriteAllLines(how[2], errands.Select(e => e.Line()));
    else PrintRun.Tell([.. errands], null, Console.Out);
    return 0;
}

int jobs = args.Length > 0 ? int.Parse(args[0], CultureInfo.InvariantCulture) : 200;
int seed = args.Length > 1 ? int.Parse(args[1], CultureInfo.InvariantCulture) : 1;

Console.WriteLine($"""
    # Blind remakes, first half: readings to sizes

    {jobs} jobs of each family, seed {seed}; half of them hold one mistake on purpose. Those held out were never looked at while anything was chosen.

    | family | ± holds the truth in 95 of 100: in fact | nominals right, of sizes known to a sixth of their step | proposed above 90 % and wrong | rounding to 0.5: right | rounding to 0.1: right | log score of the proposals | of rounding to 0.5 | of rounding to 0.1 | not reconciled |
    | --- | --: | --: | --: | --: | --: | --: | --: | --: | --: |
    """);
static string Called(Family family) => family.IsHeldOut ? $"{family.Name} (held out)" : family.Name;
int atOnce = args.Length > 2 ? int.Parse(args[2], CultureInfo.InvariantCulture) : 1;
Family[] asked = [.. Families.All.Where(f => args.Length < 4 || args[3..].Any(word => f.Name.Contains(word, StringComparison.Ordinal)))];
Score all = new(), heldOut = new();
PlanScore plans = new(), heldOutPlans = new();
var clock = Stopwatch.StartNew();
// Everything of a family follows from the seed, whatever else runs beside it.
(Family Family, Score Score, PlanScore Plans)[] scores = [.. asked.AsParallel().AsOrdered().WithDegreeOfParallelism(atOnce).WithMergeOptions(ParallelMergeOptions.NotBuffered).Select(f => (f, Scored(f), Planned(f)))];
foreach (var (family, score, plan) in scores)
{
    Console.WriteLine(score.Row(Called(family)));
    all.Take(score);
    plans.Take(plan);
    if (!family.IsHeldOut) continue;
    heldOut.Take(score);
    heldOutPlans.Take(plan);
}

Console.WriteLine(heldOut.Row("held out"));
Console.WriteLine(all.Row("all"));
Console.WriteLine("""

    | family | mistakes over 6σ found | by theory | of those checked to 0.7: found | named alone and rightly | explained rightly, of those found | alarms without a mistake |
    | --- | --: | --: | --: | --: | --: | --: |
    """);
foreach (var (family, score, _) in scores) Console.WriteLine(score.MistakesRow(Called(family)));
Console.WriteLine(heldOut.MistakesRow("held out"));
Console.WriteLine(all.MistakesRow("all"));
Console.WriteLine("""

    | mistake, in standard uncertainties of its reading | found | by theory | of those checked to 0.7: found | named alone and rightly |
    | --- | --: | --: | --: | --: |
    """);
foreach (string row in all.RowsBySize()) Console.WriteLine(row);
Console.WriteLine("""

    | family | said to be the same as another above 90 % and wrong | middles proposed, of those that are | said to be in the middle above 90 % and wrong | shrink told and right, of parts that shrank | shrink told of parts that did not |
    | --- | --: | --: | --: | --: | --: |
    """);
foreach (var (family, score, _) in scores) Console.WriteLine(score.MeantRow(Called(family)));
Console.WriteLine("""

    | family | readings when everything is measured | of the plan | that is | sizes decided and checked by the plan | its ± beside everything's | readings for the same ± | that is | and for every check | not reached |
    | --- | --: | --: | --: | --: | --: | --: | --: | --: | --: |
    """);
foreach (var (family, _, plan) in scores) Console.WriteLine(plan.Row(Called(family)));
Console.WriteLine(heldOutPlans.Row("held out"));
Console.WriteLine(plans.Row("all"));
Console.Error.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{clock.Elapsed.TotalSeconds:0.0} s"));
return 0;

Score Scored(Family family)
{
    var score = new Score();
    var practitioner = new Practitioner(seed, Caliper.Usual);
    var about = new Random(seed);
    for (int k = 0; k < jobs; k++)
    {
        Case drawn = practitioner.Draw(family, withMistake: k % 2 == 1);
        JobReading read = JobFile.Read(drawn.Job(about));
        if (read.Job is null) throw new InvalidOperationException($"{family.Name}: {read.Problems[0].In("job.yaml")}");
        bool isReconciled = Reconciliation.TryReconcile(read.Job, out Reconciled? reconciled, out var problems);
        if (!isReconciled) Console.Error.WriteLine($"{family.Name}, job {k}: {string.Join("; ", problems.Select(p => p.What))}");
        score.Take(drawn, reconciled, drawn.Mistake is null ? reconciled : Mended(drawn));
    }

    return score;
}

Reconciled? Mended(Case drawn) =>
    Reconciliation.TryReconcile(JobFile.Read(drawn.Mended.Job(new Random(seed))).Job!, out Reconciled? reconciled, out _) ? reconciled : null;

PlanScore Planned(Family family)
{
    var score = new PlanScore();
    var practitioner = new Practitioner(seed, Caliper.Usual);
    var about = new Random(seed);
    for (int k = 0; k < Math.Max(1, jobs / 10); k++) score.Take(practitioner.Draw(family, withMistake: false), about);
    return score;
}
