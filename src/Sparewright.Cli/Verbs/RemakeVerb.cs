using System.CommandLine;
using Sparewright.Remake;
using Sparewright.Remake.Reports;

namespace Sparewright.Cli.Verbs;

/// <summary><c>remake JOB --out DIR</c>: the main job.</summary>
internal static class RemakeVerb
{
    public static Command Grammar(Surroundings around)
    {
        var job = Common.Job();
        var output = Common.Out("where the files go; the folder `out` of the job unless said");
        var json = Common.Json();
        var inches = Common.Inches();
        var quiet = Common.Quiet();
        var verb = new Command("remake", "The main job, all of it: sizes from readings, exact solid, every reading taken again on it, print files, picture, summary. What is up to date is not made again.")
        { job, output, json, inches, quiet };
        verb.SetAction((parsed, stop) => MakingRun.GoAsync(around, parsed.GetRequiredValue(job), parsed.GetValue(output) ?? Beside(parsed.GetRequiredValue(job)),
            Extent.Everything, parsed.GetValue(json), parsed.Unit(inches), parsed.GetValue(quiet), remade => RemadeJson.Of(remade), stop));
        return verb;
    }

    private static string Beside(string job) => Path.Combine(Directory.Exists(job) ? job : Path.GetDirectoryName(job) ?? "", "out");
}
