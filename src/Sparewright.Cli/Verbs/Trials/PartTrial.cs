using System.CommandLine;
using Sparewright.Part;

namespace Sparewright.Cli.Verbs.Trials;

/// <summary><c>trial part JOB …</c>: the part itself was printed and tried.</summary>
internal static class PartTrial
{
    public static Command Grammar(Surroundings around)
    {
        var drawn = TrialPrint.Several("--drawn", "the sizes that fits may change, as they were drawn", "SIZE=MM,…");
        var fits = TrialPrint.Several("--fits", "the counterparts that fit as wanted", "NAME,…");
        var tight = TrialPrint.Several("--too-tight", "those that are too tight", "NAME,…");
        var loose = TrialPrint.Several("--too-loose", "those that are too loose", "NAME,…");
        var broke = TrialPrint.Text("--broke", "what broke, and how", "TEXT");
        return new TrialPrint(around).Grammar("part", "The part itself was printed and tried.", [drawn, fits, tight, loose, broke], "part", p => Wrong(p) is { } amiss ? amiss : Said(p));

        Amiss? Wrong(ParseResult p) => TrialPrint.List(p, drawn).FirstOrDefault(d => d.Count(c => c == '=') != 1) is { } pair ? new($"--drawn {pair} does not say which size was drawn so", "write it as SIZE=MM")
                : TrialPrint.Lengths(TrialPrint.List(p, drawn).Select(d => ("--drawn", d.Split('=')[1])));

        JobValue Said(ParseResult p) => new JobValue.Group(
            [
                .. TrialPrint.List(p, drawn) is { Length: > 0 } said ? [("drawn", new JobValue.Group([.. said.Select(d => (d.Split('=')[0].Trim(), (JobValue)d.Split('=')[1].Trim()))]))] : ((string, JobValue)[])[],
                .. TrialPrint.Listed("fits", TrialPrint.List(p, fits)), .. TrialPrint.Listed("too_tight", TrialPrint.List(p, tight)), .. TrialPrint.Listed("too_loose", TrialPrint.List(p, loose)),
                .. p.GetValue(broke) is { } what ? [("broke", what)] : ((string, JobValue)[])[],
            ]);
    }
}
