using System.CommandLine;
using System.Globalization;
using System.Text;
using Sparewright.Cli.Showing;
using Sparewright.Handover.Files;
using Sparewright.Measure.Quantities;
using Sparewright.Part;
using Sparewright.Part.Record;
using Sparewright.Reconcile.Findings;
using Sparewright.Remake;
using Sparewright.Remake.Reports;
using Sparewright.Remake.Trials;

namespace Sparewright.Cli.Verbs;

/// <summary><c>trial JOB …</c>: what a trial print showed, written into the job, and what is learnt from it.</summary>
internal static class TrialVerb
{
    /// <summary>What the command says, as typed; lists are separated by commas.</summary>
    private sealed record Said(string? For, IReadOnlyList<string> Goes, IReadOnlyList<string> TooTight, IReadOnlyList<string> TooLoose, string? Measured, IReadOnlyList<string> Drawn, IReadOnlyList<string> Reads, string? With,
        bool Part, IReadOnlyList<string> Fits, string? Broke, string? On, string? Machine, string? Material, string? Nozzle, string? Layer, string? Note)
    {
        public bool Nothing => For is null && Measured is null && !Part && Goes.Count + TooTight.Count + TooLoose.Count + Drawn.Count + Reads.Count + Fits.Count == 0
            && (With ?? Broke ?? On ?? Machine ?? Material ?? Nozzle ?? Layer ?? Note) is null;
    }

    public static Command Grammar(Surroundings around)
    {
        var job = Common.Job();
        var counterpart = Text("--for", "the counterpart that was tried in gauges", "NAME");
        var goes = Several("--goes", "the drawn sizes of the gauges in which it goes", "MM,…");
        var tight = Several("--too-tight", "those in which it does not; with --part, the counterparts that are too tight", "MM,…");
        var loose = Several("--too-loose", "those in which it goes, but too loosely; with --part, the counterparts that are too loose", "MM,…");
        var measured = Text("--measured", $"a printed feature was measured: {string.Join(", ", PrintedSurfaces.All.Select(s => s.Words()))}", "KIND");
        var drawn = Several("--drawn", "how it was drawn; with --part, sizes as SIZE=MM", "MM");
        var reads = Several("--reads", "what the instrument showed, repeats and all", "MM,…");
        var with = Text("--with", "the instrument, where the job has several", "NAME");
        var part = new Option<bool>("--part") { Description = "the part itself was printed and tried" };
        var fits = Several("--fits", "with --part: the counterparts that fit as wanted", "NAME,…");
        var broke = Text("--broke", "with --part: what broke, and how", "TEXT");
        var on = Text("--on", "the day of the print; today unless said", "2026-05-31");
        var machine = Text("--machine", "the machine, where it is not that of the job's print", "TEXT");
        var material = Text("--material", "the material, where it is not that of the job's print", "TEXT");
        var nozzle = Text("--nozzle", "the nozzle's diameter, where it is not that of the job's print", "MM");
        var layer = Text("--layer", "the layer height, where it is not that of the job's print", "MM");
        var note = Text("--note", "whatever else is worth knowing in ten years", "TEXT");
        var json = Common.Json();
        var inches = Common.Inches();
        var verb = new Command("trial", "Writes what a trial print showed into the job, and says what is learnt from it; without any of it, what the trials so far taught.")
        { job, counterpart, goes, tight, loose, measured, drawn, reads, with, part, fits, broke, on, machine, material, nozzle, layer, note, json, inches };
        verb.SetAction(p => Run(around, p.GetRequiredValue(job), new Said(p.GetValue(counterpart), List(p.GetValue(goes)), List(p.GetValue(tight)), List(p.GetValue(loose)), p.GetValue(measured), List(p.GetValue(drawn)),
            List(p.GetValue(reads)), p.GetValue(with), p.GetValue(part), List(p.GetValue(fits)), p.GetValue(broke), p.GetValue(on), p.GetValue(machine), p.GetValue(material), p.GetValue(nozzle), p.GetValue(layer), p.GetValue(note)),
            p.GetValue(json), p.GetValue(inches)));
        return verb;
    }

    private static Option<string?> Text(string name, string description, string shown) => new(name) { Description = description, HelpName = shown };

    private static Option<string[]> Several(string name, string description, string shown) => new(name) { Description = description, HelpName = shown };

    private static string[] List(string[]? given) => [.. (given ?? []).SelectMany(g => g.Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries))];

    private static int Run(Surroundings around, string path, Said said, bool json, bool inches)
    {
        Result<OpenedJob> opened = OpenedJob.Open(path);
        if (opened.Value is not { } job) return Answer.With(around, json, opened.Failure!);
        int before = said.Nothing ? 0 : job.Job.Trials.Count;
        if (said.Nothing) return Show(around, job, before, null, json, inches);
        if (Wrong(said) is var (what, remedy)) return Answer.With(around, json, new Failure(true, [$"trial: {what}; {remedy}"]));
        try
        {
            string text = Encoding.UTF8.GetString(File.ReadAllBytes(job.Path));
            JobEdit edit = TrialRecord.Added(text, Entry(said, DateOnly.FromDateTime(around.Clock.GetLocalNow().DateTime)));
            if (edit.Text is null) return Answer.With(around, json, Failure.Of(job.Path, [edit.Problem!]));
            JobReading reading = JobFile.Read(edit.Text);
            if (reading.Job is not { } changed) return Answer.With(around, json, Failure.Of(job.Path, reading.Problems));
            return Show(around, job with { Job = changed }, before, edit.Text, json, inches);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return Answer.With(around, json, Failure.Of(e));
        }
    }

    /// <summary>Learns, and only when something can be learnt writes the text: what nothing comes of is refused while it can still be put right.</summary>
    private static int Show(Surroundings around, OpenedJob job, int before, string? text, bool json, bool inches)
    {
        Result<Reconciled> reconciling = job.Reconcile();
        if (reconciling.Value is not { } reconciled) return Answer.With(around, json, reconciling.Failure!);
        Result<FoundTrials> finding = TrialWork.Find(job, reconciled, before);
        if (finding.Value is not { } found) return Answer.With(around, json, finding.Failure!);
        if (text is not null)
        {
            var useless = found.Now.Trials.Unused.Where(u => u.Remedy is not null && u.Place.Line >= job.Job.Trials[^1].Place.Line && job.Job.Trials[^1].Part is null).ToArray();
            if (useless.Length > 0) return Answer.With(around, json, new Failure(true, [.. useless.Select(u => $"trial: {u.What}: {u.Why}; {u.Remedy}")]));
            AtomicFile.Write(job.Path, text);
        }

        return Answer.With(around, json, () => RemadeJson.Of(found, text is not null), () => text is null ? RemadeReport.Of(found, inches)
            : new Report([new ReportPart.Line($"The trial of {job.Job.Trials[^1].On.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture)} is written into {job.Path}."), .. RemadeReport.Of(found, inches).Parts]), found.NeedsAttention);
    }

    /// <summary>What does not go together in the command, and what to do.</summary>
    private static (string What, string Remedy)? Wrong(Said said)
    {
        int ways = (said.For is null ? 0 : 1) + (said.Measured is null ? 0 : 1) + (said.Part ? 1 : 0);
        if (ways != 1) return (ways == 0 ? "it does not say what was tried" : "it says two things at once", "give one of --for, --measured and --part");
        if (said.For is null && said.Goes.Count > 0) return ("--goes belongs to --for", "say with --for which counterpart goes");
        if (said.Measured is null && said.Reads.Count > 0) return ("--reads belongs to --measured", "say with --measured what kind of surface was read");
        if (said.Measured is null && said.With is not null) return ("--with belongs to --measured", "leave it out");
        if (!said.Part && said.Fits.Count > 0) return ("--fits belongs to --part", "for gauges say --goes");
        if (!said.Part && said.Broke is not null) return ("--broke belongs to --part", "add --part, or write it as --note");
        if (said.For is not null && said.Drawn.Count > 0) return ("--drawn does not belong to gauges", "say the drawn sizes with --goes and --too-tight");
        if (said.For is not null && said.Goes.Count + said.TooTight.Count + said.TooLoose.Count == 0) return ("no answer of a gauge is given", "say --goes, --too-tight or --too-loose with the gauges' drawn sizes");
        if (said.Measured is not null && said.TooTight.Count + said.TooLoose.Count > 0) return ("--too-tight and --too-loose do not belong to --measured", "give them in a trial of their own with --for");
        if (said.Measured is { } kind && PrintedSurfaces.All.All(s => s.Words() != kind))
            return ($"there is no kind of surface {kind}", Spelling.Nearest(kind, PrintedSurfaces.All.Select(s => s.Words())) is { } nearest ? $"did you mean {nearest}?" : $"the kinds are {string.Join(", ", PrintedSurfaces.All.Select(s => s.Words()))}");
        if (said.Measured is not null && said.Drawn.Count != 1) return ("a measured feature has one drawn size", "say it with --drawn");
        if (said.Measured is not null && said.Reads.Count == 0) return ("nothing says what was measured", "say it with --reads");
        if (said.Part && said.Drawn.FirstOrDefault(d => d.Count(c => c == '=') != 1) is { } pair) return ($"--drawn {pair} does not say which size was drawn so", "write it as SIZE=MM");
        var lengths = said.Part ? said.Drawn.Select(d => ("--drawn", d.Split('=')[1]))
            : [.. said.Goes.Select(l => ("--goes", l)), .. said.TooTight.Select(l => ("--too-tight", l)), .. said.TooLoose.Select(l => ("--too-loose", l)), .. said.Drawn.Select(l => ("--drawn", l)), .. said.Reads.Select(l => ("--reads", l))];
        foreach (var (option, length) in (IEnumerable<(string, string)>)[.. lengths, .. Given("--nozzle", said.Nozzle), .. Given("--layer", said.Layer)])
        {
            if (!QuantityText.TryRead(length.Trim(), QuantityKind.Length, out Quantity mm, out Refusal? refusal)) return ($"{option} {length}: {refusal.Reason}", refusal.Remedy);
            if (!(mm.Value > 0)) return ($"{option} {length} is no length greater than 0", "correct it");
        }

        return null;
    }

    private static (string, string)[] Given(string option, string? value) => value is null ? [] : [(option, value)];

    /// <summary>The trial as the job writes it.</summary>
    private static JobValue.Group Entry(Said said, DateOnly today)
    {
        List<(string, JobValue)> entry = [("on", said.On ?? today.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture))];
        foreach (var (key, value) in (Span<(string, string?)>)[("machine", said.Machine), ("material", said.Material), ("nozzle", said.Nozzle), ("layer", said.Layer), ("note", said.Note)])
            if (value is not null) entry.Add((key, value));
        entry.Add(said.For is not null ? ("gauges", new JobValue.List([Gauges(said)])) : said.Measured is not null ? ("measured", new JobValue.List([Measured(said)])) : ("part", Part(said)));
        return new(entry);
    }

    private static JobValue.Group Gauges(Said said) => new([("for", said.For!), .. Listed("goes", said.Goes), .. Listed("too_tight", said.TooTight), .. Listed("too_loose", said.TooLoose)]);

    private static JobValue.Group Measured(Said said) => new([("surface", said.Measured!), ("drawn", said.Drawn[0]), .. Listed("reads", said.Reads), .. said.With is { } with ? [("with", with)] : ((string, JobValue)[])[]]);

    private static JobValue.Group Part(Said said) => new(
    [
        .. said.Drawn.Count == 0 ? [] : ((string, JobValue)[])[("drawn", new JobValue.Group([.. said.Drawn.Select(d => (d.Split('=')[0].Trim(), (JobValue)d.Split('=')[1].Trim()))]))],
        .. Listed("fits", said.Fits), .. Listed("too_tight", said.TooTight), .. Listed("too_loose", said.TooLoose), .. said.Broke is { } broke ? [("broke", broke)] : ((string, JobValue)[])[],
    ]);

    private static (string, JobValue)[] Listed(string key, IReadOnlyList<string> values) =>
        values.Count == 0 ? [] : [(key, new JobValue.List([.. values.Select(v => (JobValue)v)]))];
}
