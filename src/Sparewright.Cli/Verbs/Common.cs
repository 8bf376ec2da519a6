using System.CommandLine;
using Sparewright.Measure.Quantities;

namespace Sparewright.Cli.Verbs;

/// <summary>Arguments and options that several verbs have.</summary>
internal static class Common
{
    public static Argument<string> Job() => new("JOB") { Description = "the job: its folder, or its job.yaml" };

    public static Option<bool> Json() => new("--json") { Description = "write one JSON object to standard output, and nothing else" };

    public static Option<bool> Inches() => new("--inches") { Description = "show lengths in inches (files stay in mm)" };

    /// <summary>In what lengths are to be shown, as <see cref="Inches"/> was given or not.</summary>
    public static LengthUnit Unit(this ParseResult parsed, Option<bool> inches) => parsed.GetValue(inches) ? LengthUnit.Inch : LengthUnit.Millimetre;

    public static Option<bool> Quiet() => new("--quiet", "-q") { Description = "no progress on standard error" };

    public static Option<string?> Out(string description) => new("--out", "-o") { Description = description, HelpName = "DIR" };
}
