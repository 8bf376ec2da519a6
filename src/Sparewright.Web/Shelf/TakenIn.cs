using System.Text;
using Sparewright.Part;

namespace Sparewright.Web.Shelf;

/// <summary>A job's file that somebody hands in. One with mistakes is taken too, to be put right here; what is no job file is not.</summary>
internal static class TakenIn
{
    private static readonly UTF8Encoding Strict = new(encoderShouldEmitUTF8Identifier: false, throwOnInvalidBytes: true);

    /// <returns>The text, byte for byte, or why it is not taken.</returns>
    public static (string? Text, string? Problem) Read(byte[] bytes)
    {
        JobReading reading = JobFile.Read(bytes);
        string text;
        try
        {
            text = Strict.GetString(bytes);
        }
        catch (DecoderFallbackException)
        {
            return (null, Say(reading));
        }

        bool isJob = Written.Read(text, out _) is Written.Group root && root.Entries.Any(e => e.Key == "sparewright");
        return reading.Job is not null || isJob ? (text, null) : (null, Say(reading));
    }

    private static string Say(JobReading reading) => $"This is not a job file. {reading.Problems[0].In("job.yaml")}.";
}
