using System.CommandLine;
using Sparewright.Part;

namespace Sparewright.Cli.Verbs.Trials;

/// <summary><c>trial gauges JOB --for NAME …</c>: in which gauges of a ladder a counterpart goes.</summary>
internal static class GaugesTrial
{
    public static Command Grammar(Surroundings around)
    {
        Option<string?> counterpart = TrialPrint.Text("--for", "the counterpart that was tried in them", "NAME");
        counterpart.Required = true;
        var goes = TrialPrint.Several("--goes", "the drawn sizes of the gauges in which it goes", "MM,…");
        var tight = TrialPrint.Several("--too-tight", "those in which it does not", "MM,…");
        var loose = TrialPrint.Several("--too-loose", "those in which it goes, but too loosely", "MM,…");
        return new TrialPrint(around).Grammar("gauges", "A counterpart was tried in gauges, which are named by their drawn sizes.", [counterpart, goes, tight, loose], "gauges", p => Wrong(p) is { } amiss ? amiss : Said(p));

        Amiss? Wrong(ParseResult p) => TrialPrint.List(p, goes).Length + TrialPrint.List(p, tight).Length + TrialPrint.List(p, loose).Length == 0
                ? new("no answer of a gauge is given", "say --goes, --too-tight or --too-loose with the gauges' drawn sizes")
                : TrialPrint.Lengths([.. TrialPrint.Given(p, goes), .. TrialPrint.Given(p, tight), .. TrialPrint.Given(p, loose)]);

        JobValue Said(ParseResult p) => new JobValue.List([new JobValue.Group(
            [
                ("for", p.GetValue(counterpart)!), .. TrialPrint.Listed("goes", TrialPrint.List(p, goes)), .. TrialPrint.Listed("too_tight", TrialPrint.List(p, tight)), .. TrialPrint.Listed("too_loose", TrialPrint.List(p, loose)),
            ])]);
    }
}
