using System.Text;
using Sparewright.Part.Grammar;
using Sparewright.Part.Record;
using Sparewright.Part.Yaml;

namespace Sparewright.Part;

/// <summary>What came of reading a job: the job, or everything that must be put right first.</summary>
/// <param name="Job">Null exactly when there are problems.</param>
/// <param name="Problems">In the order of their places.</param>
public sealed record JobReading(Job? Job, IReadOnlyList<Problem> Problems);

/// <summary>Reads job files. Whatever the input, the answer is a job or problems with place and remedy; it never throws for what stands in a file.</summary>
public static class JobFile
{
    /// <summary>A job is written by hand; what is bigger is something else.</summary>
    public const int LargestBytes = 1_000_000;

    /// <summary>Reads the job file at a path.</summary>
    public static JobReading ReadFile(string path)
    {
        byte[] bytes;
        try
        {
            using FileStream file = File.OpenRead(path);
            if (file.Length > LargestBytes) return TooLarge;
            bytes = new byte[(int)file.Length];
            file.ReadExactly(bytes);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            return e is FileNotFoundException or DirectoryNotFoundException
                ? Refused(Place.None, "there is no such file", "check the path; a job is a folder with job.yaml in it")
                : Refused(Place.None, "the file cannot be opened", "check the path, and that you may read it");
        }

        return Read(bytes);
    }

    /// <summary>Reads a job from the bytes of its file, which must be UTF-8.</summary>
    public static JobReading Read(ReadOnlySpan<byte> bytes)
    {
        if (bytes.Length > LargestBytes) return TooLarge;
        if (bytes.StartsWith((ReadOnlySpan<byte>)[0xFF, 0xFE]) || bytes.StartsWith((ReadOnlySpan<byte>)[0xFE, 0xFF]))
            return Refused(new Place(1, 1), "the file is in UTF-16", "save it as UTF-8");
        try
        {
            return Read(new UTF8Encoding(false, throwOnInvalidBytes: true).GetString(bytes));
        }
        catch (DecoderFallbackException e)
        {
            ReadOnlySpan<byte> before = bytes[..Math.Clamp(e.Index, 0, bytes.Length)];
            int line = before.Count((byte)'\n') + 1;
            int column = Encoding.UTF8.GetString(before[(before.LastIndexOf((byte)'\n') + 1)..]).Length + 1;
            return Refused(new Place(line, column), "this is not UTF-8 text", "save the file as UTF-8");
        }
    }

    /// <summary>Reads a job from text.</summary>
    public static JobReading Read(string text)
    {
        if (text.Length > LargestBytes) return TooLarge;
        var findings = new Findings();
        JobParts? parts = Parts(YamlTree.Parse(WithoutByteOrderMark(text), findings), findings);
        return findings.Problems.Count == 0 && parts is not null
            ? new JobReading(ToJob(parts), [])
            : new JobReading(null, [.. findings.Problems.OrderBy(p => p.Place.Line).ThenBy(p => p.Place.Column)]);
    }

    /// <summary>Reads as much of a job as can be read; all that is found on the way stands in the findings.</summary>
    internal static JobParts? Parts(YamlNode? root, Findings findings)
    {
        JobParts? parts = null;
        if (root is not null && VersionIsRead(root, findings))
        {
            bool good = JobGrammar.Job.TryRead(root, findings, out parts);
            JobChecks.Run(parts, findings);
            if (!good && findings.Problems.Count == 0) throw new InvalidOperationException("the job was refused without a reason");
        }

        return parts;
    }

    internal static string WithoutByteOrderMark(string text) => text.StartsWith('\ufeff') ? text[1..] : text;

    /// <summary>Another version may mean anything by its keys, so nothing else is said of it.</summary>
    private static bool VersionIsRead(YamlNode root, Findings findings)
    {
        const string First = "begin the file with: sparewright: 1";
        if (root is not YamlMap map)
        {
            if (root is not YamlRefused) findings.Add(root.Place, "this is not a job file", First);
            return false;
        }

        if (map.Entries.Count == 0 || map.Entries[0].Key.Text != "sparewright")
        {
            YamlEntry? later = map.Entries.FirstOrDefault(e => e.Key.Text == "sparewright");
            if (later is not null) findings.Add(later.Key.Place, "`sparewright` is not the first key", "move this line to the top of the file");
            else findings.Add(map.Place, "the file does not say that it is a job file", First);
            return later is not null;
        }

        if (map.Entries[0].Value is not YamlScalar { Text: { Length: > 0 and < 10 } version } || !version.All(char.IsAsciiDigit) || version[0] == '0' || version == "1") return true;
        findings.Add(map.Entries[0].Value.Place, $"this job file is of version {version}, and this program reads version {JobGrammar.Version}", "use a newer Sparewright");
        return false;
    }

    private static Job ToJob(JobParts parts) => new(parts.PartName, parts.About, parts.MadeBy, parts.MadeOf, parts.Broke, parts.BrokeAt, parts.Lives, parts.CouldInjure,
        parts.Instruments.ToDictionary(i => i.Name, StringComparer.Ordinal), new Sizes.SizeTable(parts.Sizes), parts.Shape, [.. parts.Readings.Select(r => r is CaliperReading caliper ? caliper with { Drafts = parts.Drafts } : r)],
        [.. parts.Counterparts.Select(c => c.OwnWord is { } word ? c with { Clearance = parts.FitWords.First(w => w.Name == word).Clearance } : c)],
        parts.WantedOdds, parts.Loads, parts.Print, parts.TestBars, parts.Spares)
    { Trials = parts.Trials, Drafts = parts.Drafts };

    private static readonly JobReading TooLarge = Refused(Place.None, $"the file is larger than {LargestBytes / 1_000_000} MB", "keep photographs and other files beside the job, not in it");

    private static JobReading Refused(Place place, string what, string remedy) => new(null, [new Problem(place, what, remedy)]);
}
