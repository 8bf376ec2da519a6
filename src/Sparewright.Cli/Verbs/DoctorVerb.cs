using System.CommandLine;
using System.Globalization;
using System.Runtime.InteropServices;
using System.Text.Json;
using Sparewright.Cli.Showing;
using Sparewright.Handover.Files;
using Sparewright.Handover.Picture;
using Sparewright.Part;
using Sparewright.Remake.Reports;
using Sparewright.Solid;

namespace Sparewright.Cli.Verbs;

/// <summary><c>doctor</c>: is everything there that the tool needs?</summary>
internal static class DoctorVerb
{
    private const int LeastRuntime = 10;

    public static Command Grammar(Surroundings around)
    {
        var json = Common.Json();
        var verb = new Command("doctor", "Looks whether everything is there that the tool needs, and says the one command that brings what is missing.")
        { json };
        verb.SetAction((parsed, stop) => RunAsync(around, parsed.GetValue(json), stop));
        return verb;
    }

    /// <summary>One thing that is needed.</summary>
    /// <param name="Mend">The command that brings it; null when it is there.</param>
    private sealed record Check(string Name, string Found, string? Mend);

    private static async Task<int> RunAsync(Surroundings around, bool json, CancellationToken stop)
    {
        Check[] checks = [Runtime(), await KernelAsync(around, stop).ConfigureAwait(false), Fonts(around), Disk()];
        bool missing = checks.Any(c => c.Mend is not null);
        Answer.With(around, json, () => Json(checks), () => Words(checks, missing), needsAttention: false);
        return missing ? ExitCode.Failed : ExitCode.Done;
    }

    private static Check Runtime() => new(".NET runtime", RuntimeInformation.FrameworkDescription, Environment.Version.Major >= LeastRuntime ? null : "install the .NET 10 runtime");

    private static async Task<Check> KernelAsync(Surroundings around, CancellationToken stop)
    {
        Outcome<KernelProgram> program = around.FindKernel();
        if (!program.IsGood) return new("kernel worker", program.Problem.Why, program.Problem.Advice ?? "scripts/build tool");
        await using var worker = new KernelWorker(program.Value);
        Outcome<KernelGreeting> greeting = await worker.GreetAsync(stop).ConfigureAwait(false);
        return greeting.IsGood
            ? new("kernel worker", string.Create(CultureInfo.InvariantCulture, $"protocol {greeting.Value.Protocol}, Open CASCADE {greeting.Value.Library}, {program.Value.Path}"), null)
            : new("kernel worker", greeting.Problem.Why, greeting.Problem.Advice ?? "scripts/build tool");
    }

    private static Check Fonts(Surroundings around)
    {
        if (!Lettering.TryLoad(around.Fonts, out Lettering? lettering, out Problem? problem)) return new("lettering", problem.What, "apt-get install fonts-osifont fonts-dejavu-core");
        lettering.Dispose();
        return new("lettering", string.Join(", ", around.Fonts.Select(Path.GetFileName)), null);
    }

    private static Check Disk()
    {
        string here = Directory.GetCurrentDirectory();
        string path = Path.Combine(here, $".sparewright-{Guid.NewGuid():N}");
        try
        {
            AtomicFile.Write(path, "doctor");
            File.Delete(path);
            return new("disk", $"{here} can be written to", null);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return new("disk", e.Message, $"go to a folder that can be written to, or chmod u+w {here}");
        }
    }

    private static Report Words(Check[] checks, bool missing) => new(
    [
        new ReportPart.Table(["needed", "", "found"], [.. checks.Select(c => new ReportPart.Row(c.Mend is null ? Tone.Plain : Tone.LookHere, c.Name, c.Mend is null ? "ok" : "MISSING", c.Found))]),
        .. checks.Where(c => c.Mend is not null).Select(c => new ReportPart.Line($"{c.Name}: {c.Mend}", Tone.LookHere)),
        .. missing ? Array.Empty<ReportPart>() : [new ReportPart.Line("Everything is there.", Tone.Good)],
    ]);

    private static byte[] Json(Check[] checks)
    {
        using var stream = new MemoryStream();
        using (var json = new Utf8JsonWriter(stream, new JsonWriterOptions { Indented = true }))
        {
            json.WriteStartObject();
            json.WriteBoolean("complete", checks.All(c => c.Mend is null));
            json.WriteStartArray("checks");
            foreach (Check check in checks)
            {
                json.WriteStartObject();
                json.WriteString("name", check.Name);
                json.WriteBoolean("ok", check.Mend is null);
                json.WriteString("found", check.Found);
                json.WriteString("mend", check.Mend);
                json.WriteEndObject();
            }

            json.WriteEndArray();
            json.WriteEndObject();
        }

        stream.WriteByte((byte)'\n');
        return stream.ToArray();
    }
}
