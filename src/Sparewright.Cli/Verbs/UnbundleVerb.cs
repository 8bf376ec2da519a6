using System.CommandLine;
using Sparewright.Cli.Showing;
using Sparewright.Handover.Papers;
using Sparewright.Part;
using Sparewright.Remake;

namespace Sparewright.Cli.Verbs;

/// <summary><c>unbundle FILE [--out DIR]</c>: a job's folder out of a bundle that anybody may have made.</summary>
internal static class UnbundleVerb
{
    private const string Ending = ".bundle.zip";

    public static Command Grammar(Surroundings around)
    {
        var file = new Argument<string>("FILE") { Description = "the bundle" };
        var output = Common.Out("the folder to make (default: the bundle's name, here)");
        var json = Common.Json();
        var verb = new Command("unbundle", "Makes a job's folder out of a bundle, after everything in the bundle has proven true. A folder that holds something is left alone.")
        { file, output, json };
        verb.SetAction((parsed, stop) => RunAsync(around, parsed.GetRequiredValue(file), parsed.GetValue(output), parsed.GetValue(json), stop));
        return verb;
    }

    private static async Task<int> RunAsync(Surroundings around, string path, string? output, bool json, CancellationToken stop)
    {
        try
        {
            if (!File.Exists(path)) return Answer.With(around, json, Failure.Of(path, [new Problem(Place.None, "there is no such file", "check the path of the bundle")]));
            FileStream file = File.OpenRead(path);
            await using (file.ConfigureAwait(false))
            {
                if (!Bundle.TryRead(file, out JobPapers? papers, out Problem? problem, stop)) return Answer.With(around, json, Failure.Of(path, [problem]));
                string folder = output ?? NameOf(path);
                if (await JobFolder.WriteAsync(papers, folder, stop).ConfigureAwait(false) is { } refused) return Answer.With(around, json, Failure.Of(folder, [refused]));
                return Answer.With(around, json, () => PaperReport.Json(papers, writer => writer.WriteString("folder", folder)), () => PaperReport.Of(papers, $"{folder}: {papers.All.Count} files."), needsAttention: false);
            }
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            return Answer.With(around, json, Failure.Of(e));
        }
    }

    private static string NameOf(string path)
    {
        string name = Path.GetFileName(path);
        return name.EndsWith(Ending, StringComparison.OrdinalIgnoreCase) && name.Length > Ending.Length ? name[..^Ending.Length] : $"{Path.GetFileNameWithoutExtension(name)}-job";
    }
}
