using System.CommandLine;
using Sparewright.Remake;
using Sparewright.Remake.Reports;

namespace Sparewright.Cli.Verbs;

/// <summary><c>solid JOB [--out DIR]</c>: the exact solid and the proof that it is the part.</summary>
internal static class SolidVerb
{
    public static Command Grammar(Surroundings around)
    {
        var job = Common.Job();
        var output = Common.Out("where STEP, STL and picture go; without it nothing is written");
        var json = Common.Json();
        var inches = Common.Inches();
        var quiet = Common.Quiet();
        var verb = new Command("solid", "The exact solid at the reconciled sizes, and every reading taken again on it; with --out also STEP, STL and picture.")
        { job, output, json, inches, quiet };
        verb.SetAction((parsed, stop) => MakingRun.GoAsync(around, parsed.GetRequiredValue(job), parsed.GetValue(output),
            Extent.Solid, parsed.GetValue(json), parsed.Unit(inches), parsed.GetValue(quiet), RemadeJson.Solid, stop));
        return verb;
    }
}
