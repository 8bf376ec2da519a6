using System.CommandLine;
using System.CommandLine.Help;
using System.CommandLine.Parsing;
using Sparewright.Cli.Showing;
using Sparewright.Cli.Verbs;
using Sparewright.Cli.Verbs.Trials;
using Sparewright.Measure.Quantities;

namespace Sparewright.Cli;

/// <summary>The grammar of the command line: which verbs there are, and what becomes of a command that is wrong.</summary>
public static class CommandLine
{
    /// <summary>Runs one command.</summary>
    /// <returns>The exit code (<see cref="ExitCode"/>).</returns>
    public static async Task<int> RunAsync(IReadOnlyList<string> args, Surroundings around, CancellationToken stop)
    {
        Command root = Grammar(around);
        ParseResult parsed = root.Parse(args, new ParserConfiguration { ResponseFileTokenReplacer = null });
        bool asksForHelp = parsed.Tokens.Any(t => t.Value is "--help" or "-h" or "-?" or "--version");
        if (args.Count == 0) parsed = root.Parse(["--help"]);
        else if (!asksForHelp && (parsed.Errors.Count > 0 || UnknownOption(parsed, root) is not null)) return Refuse(parsed, root, around);
        try
        {
            return await parsed.InvokeAsync(new InvocationConfiguration { Output = around.Out, Error = around.Error, EnableDefaultExceptionHandler = false, ProcessTerminationTimeout = null }, stop).ConfigureAwait(false);
        }
        catch (OperationCanceledException) when (stop.IsCancellationRequested)
        {
            around.Error.WriteLine("Stopped; nothing was left half-written.");
            return ExitCode.Stopped;
        }
        catch (IOException e)
        {
            // The verbs answer for files that they read and write: what is left is standard output, on a full disk for instance.
            around.Error.WriteLine($"The answer could not be written: {e.Message}");
            return ExitCode.Failed;
        }
    }

    private static Command Grammar(Surroundings around)
    {
        // Not a RootCommand: that would be called by the name of the executable.
        var root = new Command("sparewright", "From caliper readings of a broken part to a printable one that is proven against every reading.")
        {
            RemakeVerb.Grammar(around),
            ReconcileVerb.Grammar(around),
            SettleVerb.Grammar(around),
            SettleVerb.ReopenGrammar(around),
            SolidVerb.Grammar(around),
            FitVerb.Grammar(around),
            LadderVerb.Grammar(around),
            CouponVerb.Grammar(around),
            TrialVerb.Grammar(around),
            StrengthVerb.Grammar(around),
            NewVerb.Grammar(around),
            BundleVerb.Grammar(around),
            UnbundleVerb.Grammar(around),
            ShopVerb.Grammar(around),
            DoctorVerb.Grammar(around),
        };
        var help = new HelpOption { Recursive = true };
        help.Action = new HelpWithExamples((HelpAction)help.Action!);
        root.Options.Add(help);
        root.Options.Add(new VersionOption());
        return root;
    }

    /// <summary>What looks like an option and is none: it must not be taken for a job or a folder.</summary>
    private static string? UnknownOption(ParseResult parsed, Command root) =>
        parsed.Tokens.Where(t => t.Type == TokenType.Argument).Select(t => t.Value).Concat(parsed.UnmatchedTokens)
            .FirstOrDefault(t => t.StartsWith("--", StringComparison.Ordinal) && t.Length > 2 && !OptionsOf(parsed.CommandResult.Command, root).Contains(t));

    private static IEnumerable<string> OptionsOf(Command command, Command root) => command.Options.Concat(root.Options).Select(o => o.Name);

    /// <summary>The command as one types it, with the verbs that it stands behind.</summary>
    private static string Typed(Command command) => command.Parents.OfType<Command>().FirstOrDefault() is { } above ? $"{Typed(above)} {command.Name}" : command.Name;

    private static int Refuse(ParseResult parsed, Command root, Surroundings around)
    {
        Command command = parsed.CommandResult.Command;
        string verb = Typed(command);
        string? option = UnknownOption(parsed, root);
        if ((option ?? (parsed.UnmatchedTokens is [var first, ..] ? first : null)) is { } unknown)
        {
            string what = option is not null ? "option" : command == root ? "verb" : "argument";
            IEnumerable<string> known = option is not null ? OptionsOf(command, root) : command == root ? root.Subcommands.Select(c => c.Name) : [];
            string remedy = Spelling.Nearest(unknown, known) is { } nearest ? $"did you mean {nearest}?" : $"`{verb} --help` shows what there is";
            around.Error.WriteLine($"{verb}: unknown {what} {unknown}; {remedy}");
        }
        else
        {
            foreach (ParseError error in parsed.Errors) around.Error.WriteLine($"{verb}: {error.Message.TrimEnd('.')}; `{verb} --help` shows how it is written");
        }

        return ExitCode.Wrong;
    }
}
