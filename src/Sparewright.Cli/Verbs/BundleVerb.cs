using System.CommandLine;
using System.Globalization;
using Sparewright.Cli.Showing;
using Sparewright.Handover.Files;
using Sparewright.Handover.Papers;
using Sparewright.Part;
using Sparewright.Remake;

namespace Sparewright.Cli.Verbs;

/// <summary><c>bundle JOB [--out FILE]</c>: one file that holds the whole record of a job.</summary>
internal static class BundleVerb
{
    public static Command Grammar(Surroundings around)
    {
        var job = Common.Job();
        var output = new Option<string?>("--out", "-o") { Description = "the file to write (default: the job's name with .bundle.zip, here)", HelpName = "FILE" };
        var json = Common.Json();
        var verb = new Command("bundle", "Puts the job file with its revisions, photographs, trials and outputs into one ZIP file that anybody can read. Photographs lose the data of place and camera.")
        { job, output, json };
        verb.SetAction((parsed, stop) => RunAsync(around, parsed.GetRequiredValue(job), parsed.GetValue(output), parsed.GetValue(json), stop));
        return verb;
    }

    private static async Task<int> RunAsync(Surroundings around, string path, string? output, bool json, CancellationToken stop)
    {
        try
        {
            if (!JobFolder.TryRead(path, out JobPapers? papers, out Problem? problem)) return Answer.With(around, json, Failure.Of(path, [problem]));
            string file = output ?? $"{NameOf(path)}.bundle.zip";
            Directory.CreateDirectory(Path.GetDirectoryName(Path.GetFullPath(file))!);
            JobPapers? bundled = null;
            await AtomicFile.WriteAsync(file, async stream =>
            {
                (bundled, problem) = await Bundle.WriteAsync(papers, stream, stop).ConfigureAwait(false);
                return bundled is not null;
            }, stop).ConfigureAwait(false);
            if (bundled is null) return Answer.With(around, json, Failure.Of(path, [problem!]));
            long bytes = new FileInfo(file).Length;
            return Answer.With(around, json,
                () => PaperReport.Json(bundled, writer =>
                {
                    writer.WriteString("file", file);
                    writer.WriteNumber("bytes", bytes);
                }),
                () => PaperReport.Of(bundled, string.Create(CultureInfo.InvariantCulture, $"{file}: {bundled.All.Count} files, {(bytes + 1023) / 1024} KiB.")), needsAttention: false);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            return Answer.With(around, json, Failure.Of(e));
        }
    }

    private static string NameOf(string path)
    {
        string folder = File.Exists(path) ? Path.GetDirectoryName(Path.GetFullPath(path))! : Path.GetFullPath(path);
        string name = Path.GetFileName(Path.TrimEndingDirectorySeparator(folder));
        return name.Length > 0 ? name : "job";
    }
}
