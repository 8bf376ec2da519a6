using System.CommandLine;
using System.CommandLine.Parsing;
using Sparewright.Cli.Verbs;

namespace Sparewright.Cli;

/// <summary>The grammar of the command line: which verbs there are, and what becomes of a command that is wrong.</summary>
public static class CommandLine
{
    /// <summary>Runs one command.</summary>
    /// <returns>The exit code (<see cref="ExitCode"/>).</returns>
    public static async Task<int> RunAsync(IReadOnlyList<string> args, Surroundings around, CancellationToken stop)
    {
        RootCommand root = Grammar(around);
        ParseResult parsed = root.Parse(args, new ParserConfiguration { ResponseFileTokenReplacer = null });
        bool asksForHelp = parsed.Tokens.Any(t => t.Value is "--help" or "-h" or "-?" or "--version");
        if (args.Count == 0) parsed = root.Parse(["--help"]);
        else if (parsed.Errors.Count > 0 && !asksForHelp) return Refuse(parsed, root, around);
        try
        {
            return await parsed.InvokeAsync(new InvocationConfiguration { Output = around.Out, Error = around.Error, EnableDefaultExceptionHandler = false, ProcessTerminationTimeout = null }, stop).ConfigureAwait(false);
        }
        catch (OperationCanceledException) when (stop.IsCancellationRequested)
        {
            around.Error.WriteLine("Stopped; nothing was left half-written.");
            return ExitCode.Stopped;
        }
    }

    private static RootCommand Grammar(Surroundings around) => new(
        """
        From caliper readings of a broken part to a printable one that is proven against every reading.

        Example:
          sparewright remake examples/vent-knuckle --out out/vent-knuckle

        Exit codes: 0 done; 1 done, but somebody should look; 2 the job or the command is wrong; 3 a stage failed; 130 stopped.
        """)
    {
        RemakeVerb.Grammar(around),
        ReconcileVerb.Grammar(around),
        SolidVerb.Grammar(around),
        NewVerb.Grammar(around),
        DoctorVerb.Grammar(around),
    };

    private static int Refuse(ParseResult parsed, RootCommand root, Surroundings around)
    {
        Command command = parsed.CommandResult.Command;
        string verb = command is RootCommand ? "sparewright" : $"sparewright {command.Name}";
        string[] unknown = [.. parsed.UnmatchedTokens];
        if (unknown.Length > 0)
        {
            bool isOption = unknown[0].StartsWith('-');
            string what = isOption ? "option" : command is RootCommand ? "verb" : "argument";
            IEnumerable<string> known = isOption ? command.Options.Concat(root.Options).Select(o => o.Name) : command is RootCommand ? root.Subcommands.Select(c => c.Name) : [];
            string remedy = Nearest.To(unknown[0], known) is { } nearest ? $"did you mean {nearest}?" : $"`{verb} --help` shows what there is";
            around.Error.WriteLine($"{verb}: unknown {what} {unknown[0]}; {remedy}");
        }
        else
        {
            foreach (ParseError error in parsed.Errors) around.Error.WriteLine($"{verb}: {error.Message.TrimEnd('.')}; `{verb} --help` shows how it is written");
        }

        return ExitCode.Wrong;
    }
}
