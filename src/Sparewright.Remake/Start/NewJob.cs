using System.Text.Encodings.Web;
using System.Text.Json;
using Sparewright.Handover.Files;
using Sparewright.Part;
using Sparewright.Part.Record;

namespace Sparewright.Remake.Start;

/// <summary>What is known of a part when a job is begun.</summary>
/// <param name="CouldInjure">How its failure could injure someone, or null for a plain no: the question is answered before there is a job.</param>
/// <param name="Acknowledged">What was typed to acknowledge a yes.</param>
public sealed record NewJob(string Part, string? About, MadeBy MadeBy, string? Broke, string? CouldInjure, string? Acknowledged, StartingPattern Pattern)
{
    public const string FileName = "job.yaml";

    /// <summary>The job file, with comments that say what to do first.</summary>
    public string Text()
    {
        string[] lines =
        [
            "sparewright: 1",
            $"part: {Quoted(Part)}",
            .. About is null ? Array.Empty<string>() : [$"about: {Quoted(About)}"],
            $"made_by: {MadeBy.ToString().ToLowerInvariant()}            # how the old part was made: moulding, printing, machining, casting or unknown",
            .. Broke is null ? Array.Empty<string>() : [$"broke: {Quoted(Broke)}"],
            .. CouldInjure is null ? ["could_injure: no"] : (string[])["could_injure:", $"  why: {Quoted(CouldInjure)}", $"  acknowledged: {Quoted(Acknowledged ?? "")}"],
            "",
            "instruments:",
            "  caliper: {kind: digital caliper, resolution: 0.01}     # close it: what it shows then is its zero_error",
            "",
            "# The sizes are only starting values yet: `about` counts as no evidence, readings decide.",
            Pattern.Lines(),
        ];
        return string.Join('\n', lines);
    }

    /// <summary>Puts the job into a folder; a job that is already there is left alone.</summary>
    /// <returns>The file's path.</returns>
    public Result<string> Write(string folder)
    {
        string path = Path.Combine(folder, FileName);
        if (File.Exists(path)) return new Failure(true, [$"{path}: there is a job already, and it is left as it is; choose another folder"]);
        string text = Text();
        // A name may hold what no job file can: better said now than by the next verb.
        if (JobFile.Read(text) is { Problems: { Count: > 0 } problems }) return Failure.Of(path, problems);
        try
        {
            Directory.CreateDirectory(folder);
            AtomicFile.Write(path, text);
            return path;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            return Failure.Of(e);
        }
    }

    /// <summary>Between quotation marks, as YAML and JSON both read it.</summary>
    private static string Quoted(string text) => $"\"{JsonEncodedText.Encode(text, JavaScriptEncoder.UnsafeRelaxedJsonEscaping)}\"";
}
