using Sparewright.Measure.Quantities;
using Sparewright.Part.Record;
using Sparewright.Remake;
using Sparewright.Remake.Start;

namespace Sparewright.Cli.Verbs;

/// <summary>The questions with which a job begins. What options have answered is not asked; where nobody can answer, what must be known is demanded.</summary>
internal sealed class Intake(Surroundings around, NewVerb.Given given)
{
    public Result<NewJob> Ask()
    {
        if (given.Part is null && !around.CanAsk) return Missing("--part", "say what the part is called");
        string? part = given.Part ?? Needed("What is the part called?");
        if (string.IsNullOrWhiteSpace(part)) return Missing("--part", "say what the part is called");

        Result<Harm> harm = CouldInjure();
        if (harm.Value is not { } known) return harm.Failure!;

        string? about = given.About ?? Optional("What does it do, and for whom?");
        MadeBy madeBy = given.MadeBy ?? (Optional("How was the old one made: moulding, printing, machining, casting?") is { } how && Enum.TryParse(how, ignoreCase: true, out MadeBy named) ? named : MadeBy.Unknown);
        string? broke = given.Broke ?? Optional("What broke, and how?");

        Result<StartingPattern> pattern = Pattern();
        if (pattern.Value is not { } shape) return pattern.Failure!;
        return new NewJob(part.Trim(), Blank(about), madeBy, Blank(broke), known.Why, known.Acknowledged, shape);
    }

    /// <summary>The answer to the question that must be answered; Why is null for a no.</summary>
    private sealed record Harm(string? Why, string? Acknowledged);

    private Result<Harm> CouldInjure()
    {
        string? answer = given.CouldInjure;
        if (answer is null && !around.CanAsk) return Missing("--could-injure", "answer no or yes: could its failure injure anyone?");
        if (answer is null)
        {
            Say("Some parts must not be remade by a volunteer: " + string.Join(", ", StopList.Entries) + ".");
            answer = Needed("Could anyone be injured if this part fails? (no, or yes)");
        }

        switch (answer?.Trim().ToLowerInvariant())
        {
            case "no" or "n": return new Harm(null, null);
            case "yes" or "y": break;
            default: return Missing("--could-injure", "answer no or yes: could its failure injure anyone?");
        }

        string? why = given.Why ?? (around.CanAsk ? Needed("How could it?") : null);
        if (string.IsNullOrWhiteSpace(why)) return Missing("--why", "say how it could injure: one of the list in --help, or your own words");
        string? typed = given.Acknowledged;
        if (typed is null && around.CanAsk)
        {
            Say("Do not remake it unless somebody who answers for such parts agrees. If you go on, every output will bear a caution.");
            typed = Needed($"To go on, type: {Injury.Acknowledgement}");
        }

        if (!string.Equals(typed?.Trim().TrimEnd('.'), Injury.Acknowledgement, StringComparison.OrdinalIgnoreCase))
            return Missing("--acknowledge", $"if you mean it, type in full: \"{Injury.Acknowledgement}\"");
        return new Harm(why.Trim(), Injury.Acknowledgement);
    }

    private Result<StartingPattern> Pattern()
    {
        string list = string.Join(", ", StartingPattern.All.Select(p => p.Name));
        string? name = given.Pattern;
        if (name is null && !around.CanAsk) return Missing("--pattern", $"choose one of {list}");
        if (name is null)
        {
            Say("Which shape comes nearest?");
            foreach (StartingPattern each in StartingPattern.All) Say($"  {each.Name,-8} {each.What}");
            name = Needed("Its name:");
        }

        name = (name ?? "").Trim();
        if (StartingPattern.Find(name) is { } found) return found;
        string remedy = Spelling.Nearest(name, StartingPattern.All.Select(p => p.Name)) is { } nearest ? $"did you mean {nearest}?" : $"choose one of {list}";
        return new Failure(true, [$"sparewright new: there is no pattern {name}; {remedy}"]);
    }

    // Questions go to standard error: standard output holds results alone.
    private void Say(string text) => around.Error.WriteLine(text);

    private string? Needed(string question)
    {
        around.Error.Write(question + " ");
        around.Error.Flush();
        return around.In.ReadLine();
    }

    private string? Optional(string question) => around.CanAsk ? Needed(question + " (Enter leaves it open)") : null;

    private static string? Blank(string? text) => string.IsNullOrWhiteSpace(text) ? null : text.Trim();

    private static Failure Missing(string option, string remedy) => new(true, [$"sparewright new: {option} is not answered; {remedy}"]);
}
