using System.CommandLine;
using Sparewright.Cli.Showing;
using Sparewright.Part.Record;
using Sparewright.Remake;
using Sparewright.Remake.Start;

namespace Sparewright.Cli.Verbs;

/// <summary><c>new DIR</c>: starts a job from a short dialogue, or from options where nobody can answer.</summary>
internal static class NewVerb
{
    public static Command Grammar(Surroundings around)
    {
        string patterns = string.Join(", ", StartingPattern.All.Select(p => p.Name));
        var folder = new Argument<string>("DIR") { Description = "the folder of the new job" };
        var part = new Option<string?>("--part") { Description = "what the part is called", HelpName = "NAME" };
        var about = new Option<string?>("--about") { Description = "what it does, and for whom", HelpName = "TEXT" };
        var madeBy = new Option<MadeBy>("--made-by") { Description = "how the old part was made: moulding, printing, machining, casting or unknown", HelpName = "HOW" };
        var broke = new Option<string?>("--broke") { Description = "what broke, and how", HelpName = "TEXT" };
        var injure = new Option<string?>("--could-injure") { Description = "could its failure injure anyone? no, or yes; must be answered", HelpName = "no|yes" };
        var why = new Option<string?>("--why") { Description = $"with yes: how it could ({string.Join(", ", StopList.Entries)}, or your own words)", HelpName = "TEXT" };
        var acknowledge = new Option<string?>("--acknowledge") { Description = $"with yes, if you mean it: \"{Injury.Acknowledgement}\"", HelpName = "TEXT" };
        var pattern = new Option<string?>("--pattern") { Description = $"the first shape: {patterns}", HelpName = "NAME" };
        var verb = new Command("new", "Starts a job: asks what the part is, whether its failure could injure anyone, and which shape comes nearest; writes a job.yaml that says what to measure first. Options answer in advance. A job that is already there is left alone.")
        { folder, part, about, madeBy, broke, injure, why, acknowledge, pattern };
        verb.SetAction(parsed =>
        {
            var given = new Given(parsed.GetValue(part), parsed.GetValue(about), parsed.GetResult(madeBy) is null ? null : parsed.GetValue(madeBy), parsed.GetValue(broke),
                parsed.GetValue(injure), parsed.GetValue(why), parsed.GetValue(acknowledge), parsed.GetValue(pattern));
            Result<NewJob> asked = new Intake(around, given).Ask();
            if (asked.Value is not { } job) return Answer.With(around, json: false, asked.Failure!);
            Result<string> written = job.Write(parsed.GetRequiredValue(folder));
            if (written.Value is not { } path) return Answer.With(around, json: false, written.Failure!);
            around.Out.WriteLine($"{path}: a {job.Pattern.Name} to begin with. The last lines say what to measure first.");
            around.Out.WriteLine($"Then: sparewright remake {parsed.GetRequiredValue(folder)}");
            return ExitCode.Done;
        });
        return verb;
    }

    /// <summary>What the options answer in advance.</summary>
    internal sealed record Given(string? Part, string? About, MadeBy? MadeBy, string? Broke, string? CouldInjure, string? Why, string? Acknowledged, string? Pattern);
}
