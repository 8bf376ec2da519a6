using System.CommandLine;
using System.Text;
using Sparewright.Cli.Showing;
using Sparewright.Handover.Files;
using Sparewright.Measure.Quantities;
using Sparewright.Part;
using Sparewright.Reconcile.Findings;
using Sparewright.Remake;
using Sparewright.Remake.Reports;

namespace Sparewright.Cli.Verbs;

/// <summary><c>settle JOB SIZE[=VALUE]…</c> and its reverse, <c>reopen JOB SIZE…</c>: what the designer meant, written into the job.</summary>
internal static class SettleVerb
{
    /// <summary>Changes the text for one argument; what it says of the size.</summary>
    private delegate (JobEdit Edit, string Says) Change(string text, string size, string meant);

    public static Command Grammar(Surroundings around)
    {
        var job = Common.Job();
        var sizes = new Argument<string[]>("SIZE[=VALUE]") { Description = "a size with what was meant by it (12, 15/32 in, or another size); without a value, what is proposed", Arity = ArgumentArity.OneOrMore };
        var not = new Option<bool>("--not") { Description = "these are not what was meant: do not propose them again" };
        var json = Common.Json();
        var inches = Common.Inches();
        var verb = new Command("settle", "Settles what the designer meant by sizes: writes it to the job, binds the sizes to it, and reconciles anew.") { job, sizes, not, json, inches };
        verb.SetAction((parsed, stop) => RunAsync(around, parsed.GetRequiredValue(job), parsed.GetRequiredValue(sizes), parsed.GetValue(not) ? RuleOut : Settle, parsed.GetValue(json), parsed.Unit(inches), stop));
        return verb;
    }

    public static Command ReopenGrammar(Surroundings around)
    {
        var job = Common.Job();
        var sizes = new Argument<string[]>("SIZE") { Description = "a size of which something was settled or ruled out", Arity = ArgumentArity.OneOrMore };
        var json = Common.Json();
        var inches = Common.Inches();
        var verb = new Command("reopen", "Takes back what was settled or ruled out of sizes: what the job said of them before holds again.") { job, sizes, json, inches };
        verb.SetAction((parsed, stop) => RunAsync(around, parsed.GetRequiredValue(job), parsed.GetRequiredValue(sizes), null, parsed.GetValue(json), parsed.Unit(inches), stop));
        return verb;
    }

    private static (JobEdit, string) Settle(string text, string size, string meant) => (Settling.Settle(text, size, meant), $"{size} is settled at {meant}.");

    private static (JobEdit, string) RuleOut(string text, string size, string meant) => (Settling.RuleOut(text, size, meant), $"{size} was not meant as {meant}; that is not proposed again.");

    /// <param name="change">Null takes back.</param>
    private static async Task<int> RunAsync(Surroundings around, string path, string[] sizes, Change? change, bool json, LengthUnit unit, CancellationToken stop)
    {
        Result<OpenedJob> opened = OpenedJob.Open(path);
        if (opened.Value is not { } job) return Answer.With(around, json, opened.Failure!);
        try
        {
            string before = Encoding.UTF8.GetString(File.ReadAllBytes(job.Path)), text = before;
            var said = new List<string>();
            Result<Reconciled>? proposals = null;
            foreach (string argument in sizes)
            {
                string[] parts = argument.Split('=', 2, StringSplitOptions.TrimEntries);
                JobEdit edit;
                if (change is null)
                {
                    edit = Settling.Reopen(text, argument);
                    said.Add(edit.Text == text ? $"{argument}: nothing was settled or ruled out." : $"{argument} is open again.");
                }
                else if ((parts.Length == 2 ? parts[1] : Proposed(proposals ??= await job.ReconcileAsync(around.FindKernel, stop).ConfigureAwait(false), parts[0])) is { } meant)
                {
                    (edit, string says) = change(text, parts[0], meant);
                    said.Add(says);
                }
                else
                {
                    Problem why = proposals?.Value?.Sizes.Any(s => s.Name == parts[0]) == false
                        ? new(Place.None, $"there is no size `{parts[0]}`", "write each size with what was meant by it as one word, as bore_d=12")
                        : new(Place.None, $"nothing is proposed for `{parts[0]}`", $"say what was meant: {parts[0]}=VALUE");
                    edit = new JobEdit(null, why);
                }

                if (edit.Text is null) return Answer.With(around, json, Failure.Of(job.Path, [edit.Problem!]));
                text = edit.Text;
            }

            if (text != before) AtomicFile.Write(job.Path, text, stop);
            return await ShowAsync(around, path, said, json, unit, stop).ConfigureAwait(false);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return Answer.With(around, json, Failure.Of(e));
        }
    }

    private static string? Proposed(Result<Reconciled>? reconciled, string size) => reconciled?.Value?.Sizes.FirstOrDefault(s => s.Name == size)?.Nominal?.Best.Written;

    private static async Task<int> ShowAsync(Surroundings around, string path, List<string> said, bool json, LengthUnit unit, CancellationToken stop)
    {
        Result<OpenedJob> opened = OpenedJob.Open(path);
        if (opened.Value is not { } job) return Answer.With(around, json, opened.Failure!);
        Result<Reconciled> result = await job.ReconcileAsync(around.FindKernel, stop).ConfigureAwait(false);
        if (result.Value is not { } reconciled) return Answer.With(around, json, result.Failure!);
        return Answer.With(around, json, () => RemadeJson.Of(job, reconciled),
            () => new Report([.. said.Select(s => new ReportPart.Line(s)), .. RemadeReport.Of(job, reconciled, unit).Parts]), reconciled.NeedsAttention);
    }
}
