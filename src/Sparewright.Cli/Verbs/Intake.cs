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
        string? part = given.Part ?? Until("What is the part called?", Blank, _ => "It needs a name, which all its files will bear.");
        if (string.IsNullOrWhiteSpace(part)) return Missing("--part", "say what the part is called");

        Result<Harm> harm = CouldInjure();
        if (harm.Value is not { } known) return harm.Failure!;

        string? about = given.About ?? Optional("What does it do, and for whom?");
        MadeBy madeBy = given.MadeBy ?? HowMade();
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
            answer = Until("Could anyone be injured if this part fails? (no, or yes)", a => IsYes(a) is null ? null : a, _ => "Please answer no or yes.");
        }

        if (answer is null || IsYes(answer) is not { } could) return Missing("--could-injure", "answer no or yes: could its failure injure anyone?");
        if (!could) return new Harm(null, null);

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

    private static bool? IsYes(string answer) => answer.Trim().ToLowerInvariant() switch { "no" or "n" => false, "yes" or "y" => true, _ => null };

    private MadeBy HowMade()
    {
        const string ways = "moulding, printing, machining, casting";
        string? how = around.CanAsk ? Until($"How was the old one made: {ways}? (Enter leaves it open)", a => Blank(a) is null || IsWay(a) ? a : null, _ => $"It is one of {ways}; or leave it open.") : null;
        return how is not null && IsWay(how) ? Enum.Parse<MadeBy>(how, ignoreCase: true) : MadeBy.Unknown;

        static bool IsWay(string answer) => Enum.GetNames<MadeBy>().Contains(answer.Trim(), StringComparer.OrdinalIgnoreCase);
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
            name = Until("Its name:", a => StartingPattern.Find(a.Trim()) is null ? null : a, Unknown);
        }

        name = (name ?? "").Trim();
        return StartingPattern.Find(name) is { } found ? found : new Failure(true, [$"sparewright new: {Unknown(name)}"]);

        string Unknown(string typed) =>
            $"there is no pattern {typed}; {(Spelling.Nearest(typed, StartingPattern.All.Select(p => p.Name)) is { } nearest ? $"did you mean {nearest}?" : $"choose one of {list}")}";
    }

    // Questions go to standard error: standard output holds results alone.
    private void Say(string text) => around.Error.WriteLine(text);

    private string? Needed(string question)
    {
        around.Error.Write(question + " ");
        around.Error.Flush();
        return around.In.ReadLine();
    }

    /// <summary>Asks until the answer can be read, or there are no more answers.</summary>
    /// <param name="read">The answer, or null if it is none.</param>
    private string? Until(string question, Func<string, string?> read, Func<string, string> remedy)
    {
        while (Needed(question) is { } answer)
        {
            if (read(answer) is { } good) return good;
            Say(remedy(answer));
        }

        return null;
    }

    private string? Optional(string question) => around.CanAsk ? Needed(question + " (Enter leaves it open)") : null;

    private static string? Blank(string? text) => string.IsNullOrWhiteSpace(text) ? null : text.Trim();

    private static Failure Missing(string option, string remedy) => new(true, [$"sparewright new: {option} is not answered; {remedy}"]);
}
