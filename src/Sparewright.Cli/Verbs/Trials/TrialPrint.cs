using System.CommandLine;
using System.Globalization;
using Sparewright.Cli.Showing;
using Sparewright.Measure.Quantities;
using Sparewright.Part;
using Sparewright.Remake;

namespace Sparewright.Cli.Verbs.Trials;

/// <summary>What does not go together in a command, and what to do.</summary>
internal sealed record Amiss(string What, string Remedy);

/// <summary>What a command says was tried, or what is amiss in it.</summary>
internal readonly record struct Tried(JobValue? Value, Amiss? Amiss)
{
    public static implicit operator Tried(JobValue value) => new(value, null);

    public static implicit operator Tried(Amiss amiss) => new(null, amiss);
}

/// <summary>What every trial says besides what was tried: the job, the day, and how it was printed where that is not as the job says. What is wrong in it is refused in one way.</summary>
internal sealed class TrialPrint(Surroundings around)
{
    private readonly Argument<string> _job = Common.Job();
    private readonly Option<string?> _on = Text("--on", "the day of the print; today unless said", "2026-05-31");
    private readonly Option<string?> _machine = Text("--machine", "the machine, where it is not that of the job's print", "TEXT");
    private readonly Option<string?> _material = Text("--material", "the material, where it is not that of the job's print", "TEXT");
    private readonly Option<string?> _nozzle = Text("--nozzle", "the nozzle's diameter, where it is not that of the job's print", "MM");
    private readonly Option<string?> _layer = Text("--layer", "the layer height, where it is not that of the job's print", "MM");
    private readonly Option<string?> _note = Text("--note", "whatever else is worth knowing in ten years", "TEXT");
    private readonly Option<bool> _json = Common.Json();
    private readonly Option<bool> _inches = Common.Inches();

    public static Option<string?> Text(string name, string description, string shown) => new(name) { Description = description, HelpName = shown };

    /// <summary>An option whose values are separated by commas, or that is given several times.</summary>
    public static Option<string[]> Several(string name, string description, string shown) => new(name) { Description = description, HelpName = shown };

    public static string[] List(ParseResult parsed, Option<string[]> option) =>
        [.. (parsed.GetValue(option) ?? []).SelectMany(g => g.Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries))];

    /// <summary>The word with its options behind the job, and what becomes of it.</summary>
    /// <param name="key">Under which a trial holds such a thing.</param>
    /// <param name="said">What its own options say.</param>
    public Command Grammar(string name, string description, IReadOnlyList<Option> own, string key, Func<ParseResult, Tried> said)
    {
        var command = new Command(name, description) { _job };
        foreach (Option option in own.Concat([_on, _machine, _material, _nozzle, _layer, _note, _json, _inches])) command.Add(option);
        command.SetAction(async (parsed, stop) =>
        {
            bool json = parsed.GetValue(_json);
            Tried tried = said(parsed);
            if ((tried.Amiss ?? Lengths([.. Given(parsed, _nozzle), .. Given(parsed, _layer)])) is { } wrong)
                return Answer.With(around, json, new Failure(true, [$"trial {name}: {wrong.What}; {wrong.Remedy}"]));
            return await TrialVerb.WriteAsync(around, parsed.GetRequiredValue(_job), Entry(parsed, key, tried.Value!), json, parsed.Unit(_inches), stop).ConfigureAwait(false);
        });
        return command;
    }

    /// <summary>The first of what was given as lengths that is none greater than 0.</summary>
    public static Amiss? Lengths(params IEnumerable<(string Option, string Written)> given)
    {
        foreach (var (option, length) in given)
        {
            if (!QuantityText.TryRead(length.Trim(), QuantityKind.Length, out Quantity mm, out Refusal? refusal)) return new($"{option} {length}: {refusal.Reason}", refusal.Remedy);
            if (!(mm.Value > 0)) return new($"{option} {length} is no length greater than 0", "correct it");
        }

        return null;
    }

    /// <summary>What was given of an option, each piece with the option's name.</summary>
    public static IEnumerable<(string Option, string Written)> Given(ParseResult parsed, Option<string[]> option) => List(parsed, option).Select(l => (option.Name, l));

    public static IEnumerable<(string Option, string Written)> Given(ParseResult parsed, Option<string?> option) => parsed.GetValue(option) is { } said ? [(option.Name, said)] : [];

    /// <summary>A key with its values as a job writes them; nothing where there are none.</summary>
    public static (string, JobValue)[] Listed(string key, IReadOnlyList<string> values) => values.Count == 0 ? [] : [(key, new JobValue.List([.. values.Select(v => (JobValue)v)]))];

    private JobValue.Group Entry(ParseResult parsed, string key, JobValue value)
    {
        DateOnly today = DateOnly.FromDateTime(around.Clock.GetLocalNow().DateTime);
        List<(string, JobValue)> entry = [("on", parsed.GetValue(_on) ?? today.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture))];
        foreach (Option<string?> option in (ReadOnlySpan<Option<string?>>)[_machine, _material, _nozzle, _layer, _note])
            if (parsed.GetValue(option) is { } said) entry.Add((option.Name.TrimStart('-'), said));
        entry.Add((key, value));
        return new(entry);
    }
}
