using System.Diagnostics.CodeAnalysis;
using System.Globalization;
using System.IO.Compression;
using Sparewright.Handover.Files;
using Sparewright.Handover.Photographs;
using Sparewright.Part;

namespace Sparewright.Handover.Papers;

/// <summary>
/// A bundle: the papers of a job in one ZIP file, named as in their folder, so that anybody can read it without this program. The same papers give the same bytes.
/// A bundle from elsewhere is taken for hostile until every name, length and check sum in it has proven true; nothing is unpacked to the disk under its names.
/// </summary>
public static class Bundle
{
    private const string Kind = "sparewright bundle ";
    private const int Version = 1;

    /// <summary>Content that its own program has packed already.</summary>
    private static readonly string[] Packed = [".png", ".jpg", ".jpeg", ".webp", ".3mf", ".zip", ".gz"];

    /// <summary>Writes a bundle. Photographs go in without the data of place and camera.</summary>
    /// <param name="to">Can be sought in.</param>
    /// <returns>The papers as they went in, with remarks on what was changed, or why there is no bundle.</returns>
    /// <exception cref="IOException">The disk said no.</exception>
    public static async Task<(JobPapers? Bundled, Problem? Problem)> WriteAsync(JobPapers papers, Stream to, CancellationToken cancel)
    {
        if (papers.All.Count > StrictZip.MostEntries) return (null, new Problem(Place.None, $"the job has more than {StrictZip.MostEntries} files", "put some of them elsewhere"));
        var bundled = new List<Paper>();
        var remarks = new List<string>(papers.Remarks);
        long total = 0;
        using (var zip = new ZipArchive(to, ZipArchiveMode.Create, leaveOpen: true))
        {
            foreach (Paper paper in papers.All)
            {
                cancel.ThrowIfCancellationRequested();
                byte[] content = await paper.ReadAsync(cancel).ConfigureAwait(false);
                string name = paper.Name;
                if (paper.Folder == JobPapers.Photographs)
                {
                    if (!Cleaned(paper, ref content, ref name, bundled, remarks, out Problem? problem)) return (null, problem);
                }

                total += content.Length;
                if (total > StrictZip.MostBytes) return (null, new Problem(Place.None, $"the job's files are larger than {StrictZip.MostBytes >> 20} MiB in all", "put some of them elsewhere"));
                Add(zip, name, content);
                bundled.Add(new Paper(name, paper.ReadAsync));
            }

            zip.Comment = string.Create(CultureInfo.InvariantCulture, $"{Kind}{Version}");
        }

        return (new JobPapers(bundled, remarks), null);
    }

    /// <summary>The papers in a bundle, after it has been read through once.</summary>
    /// <param name="file">Can be sought in, and stays open as long as the papers are read.</param>
    /// <exception cref="IOException">The disk said no.</exception>
    public static bool TryRead(Stream file, [NotNullWhen(true)] out JobPapers? papers, [NotNullWhen(false)] out Problem? problem, CancellationToken cancel = default)
    {
        papers = null;
        problem = null;
        try
        {
            StrictZip zip = StrictZip.Open(file, "the bundle", "so it is no bundle");
            if (zip.Comment.StartsWith(Kind, StringComparison.Ordinal) && zip.Comment != string.Create(CultureInfo.InvariantCulture, $"{Kind}{Version}"))
                throw new RefusedException($"the bundle is of version {PaperNames.Make(zip.Comment[Kind.Length..], new HashSet<string>())}, and this program reads version {Version}", "use a newer Sparewright");
            if (zip.Entries.FirstOrDefault(e => e.Length > JobPapers.MostFileBytes) is { } huge)
                throw new RefusedException($"{huge.Name} is larger than {JobPapers.MostFileBytes >> 20} MiB", "have it left out");
            if (!zip.Entries.Any(e => e.Name == JobPapers.JobFile)) throw new RefusedException("there is no job.yaml in it, so it is no bundle", "check that it is the right file");
            if (zip.Entries.FirstOrDefault(e => JobPapers.Has(e.Name) && !PaperNames.IsPlain(e.Name[(e.Name.IndexOf('/', StringComparison.Ordinal) + 1)..])) is { } odd)
                throw new RefusedException($"an entry has the forbidden name \"{odd.Name}\"", "have it renamed");
            zip.Verify(cancel);
            papers = JobPapers.Of(
                zip.Entries.Where(e => JobPapers.Has(e.Name)).Select(e => new Paper(e.Name, _ => Task.FromResult(ContentOf(zip, e)))),
                zip.Entries.Where(e => !JobPapers.Has(e.Name)).Select(e => $"{e.Name} does not belong to a job's papers and is left out"));
            return true;
        }
        catch (RefusedException refused)
        {
            problem = refused.Problem;
            return false;
        }
    }

    /// <summary>It was true when the bundle was opened; if it is not any more, somebody changed the file meanwhile.</summary>
    private static byte[] ContentOf(StrictZip zip, ZipEntry entry)
    {
        try
        {
            return zip.Content(entry);
        }
        catch (RefusedException refused)
        {
            throw new IOException($"the bundle was changed while it was read: {refused.Problem.What}", refused);
        }
    }

    private static bool Cleaned(Paper paper, ref byte[] content, ref string name, List<Paper> before, List<string> remarks, [NotNullWhen(false)] out Problem? problem)
    {
        if (!CleanPhotograph.TryTake(content, out CleanPhotograph? photograph, out problem))
        {
            problem = problem with { What = $"{paper.Name}: {problem.What}" };
            return false;
        }

        if (ReferenceEquals(photograph.Content, content) || content.AsSpan().SequenceEqual(photograph.Content)) return true;
        content = photograph.Content;
        if (!string.Equals(Path.GetExtension(name), photograph.Ending, StringComparison.OrdinalIgnoreCase) && !Path.GetExtension(name).Equals(".jpeg", StringComparison.OrdinalIgnoreCase))
            name = $"{JobPapers.Photographs}/{PaperNames.Make(Path.ChangeExtension(paper.NameInFolder, photograph.Ending), before.Select(p => p.NameInFolder).ToHashSet(StringComparer.OrdinalIgnoreCase))}";
        remarks.Add($"{paper.Name} was written anew without its data of place and camera");
        return true;
    }

    private static void Add(ZipArchive zip, string name, byte[] content)
    {
        CompressionLevel level = Packed.Contains(Path.GetExtension(name), StringComparer.OrdinalIgnoreCase) || PacksSuspiciously(content) ? CompressionLevel.NoCompression : CompressionLevel.Optimal;
        ZipArchiveEntry entry = zip.CreateEntry(name, level);
        // The earliest time that ZIP knows: when a bundle was made is no part of the job.
        entry.LastWriteTime = new DateTimeOffset(1980, 1, 1, 0, 0, 0, TimeSpan.Zero);
        using Stream stream = entry.Open();
        stream.Write(content);
    }

    /// <summary>What packs too well would be refused on reading.</summary>
    private static bool PacksSuspiciously(byte[] content)
    {
        if (content.Length < 64 * StrictZip.MostRatio) return false;
        using var packed = new MemoryStream();
        using (var deflate = new DeflateStream(packed, CompressionLevel.Optimal, leaveOpen: true)) deflate.Write(content);
        return content.Length > packed.Length * StrictZip.MostRatio / 2;
    }
}
