using System.Diagnostics.CodeAnalysis;
using Sparewright.Handover.Files;
using Sparewright.Part;

namespace Sparewright.Handover.Papers;

/// <summary>The papers of a job in a folder.</summary>
public static class JobFolder
{
    /// <summary>Finds the papers in a job's folder. What does not belong there, links among it, is left out and named in the remarks.</summary>
    /// <param name="path">The folder, or its job file.</param>
    /// <exception cref="IOException">The disk said no.</exception>
    /// <exception cref="UnauthorizedAccessException">So did whoever it belongs to.</exception>
    public static bool TryRead(string path, [NotNullWhen(true)] out JobPapers? papers, [NotNullWhen(false)] out Problem? problem)
    {
        papers = null;
        string job = Path.GetFullPath(File.Exists(path) ? path : Path.Combine(path, JobPapers.JobFile));
        if (!File.Exists(job))
        {
            problem = new Problem(Place.None, "there is no such file", "check the path; a job is a folder with job.yaml in it");
            return false;
        }

        var found = new List<Paper> { OfFile(JobPapers.JobFile, job) };
        var remarks = new List<string>();
        foreach (FileSystemInfo entry in Within(new DirectoryInfo(Path.GetDirectoryName(job)!)).Where(e => e.FullName != job))
        {
            if (entry is DirectoryInfo folder && entry.LinkTarget is null && JobPapers.Has($"{entry.Name}/x"))
                foreach (FileSystemInfo inside in Within(folder)) Add($"{folder.Name}/{inside.Name}", inside, found, remarks);
            else if (entry.Name != JobPapers.JobFile) Add(entry.Name, entry, found, remarks);
        }

        problem = found.Where(p => !PaperNames.IsPlain(p.NameInFolder)).Select(p => new Problem(Place.None, $"{p.Name} is a name that other systems cannot keep", "rename the file")).FirstOrDefault();
        if (problem is null) papers = JobPapers.Of(found, remarks);
        return problem is null;
    }

    /// <summary>Writes papers into a new folder, whole or not at all, under names of our own making.</summary>
    /// <returns>Null when it is done.</returns>
    /// <exception cref="IOException">The disk said no, or a paper cannot be had any more; nothing is left behind.</exception>
    /// <exception cref="UnauthorizedAccessException">So did whoever the place belongs to.</exception>
    public static async Task<Problem?> WriteAsync(JobPapers papers, string folder, CancellationToken cancel)
    {
        string whole = Path.TrimEndingDirectorySeparator(Path.GetFullPath(folder));
        if (File.Exists(whole) || (Directory.Exists(whole) && Directory.EnumerateFileSystemEntries(whole).Any()))
            return new Problem(Place.None, "there is something already, and it is left as it is", "choose another folder with --out");
        string parent = Path.GetDirectoryName(whole) ?? whole;
        Directory.CreateDirectory(parent);
        string making = Path.Combine(parent, $".{Path.GetFileName(whole)}.{Guid.NewGuid():N}.part");
        try
        {
            Directory.CreateDirectory(making);
            foreach (IGrouping<string, Paper> place in papers.All.GroupBy(p => p.Folder))
            {
                var taken = new HashSet<string>(StringComparer.OrdinalIgnoreCase);
                string within = Path.Combine(making, place.Key.Length == 0 ? "" : PaperNames.Make(place.Key, new HashSet<string>()));
                Directory.CreateDirectory(within);
                foreach (Paper paper in place)
                    AtomicFile.Write(Path.Combine(within, PaperNames.Make(paper.NameInFolder, taken)), await paper.ReadAsync(cancel).ConfigureAwait(false), cancel);
            }

            cancel.ThrowIfCancellationRequested();
            if (Directory.Exists(whole)) Directory.Delete(whole);
            Directory.Move(making, whole);
            return null;
        }
        catch
        {
            if (Directory.Exists(making)) Directory.Delete(making, recursive: true);
            throw;
        }
    }

    private static IEnumerable<FileSystemInfo> Within(DirectoryInfo folder) => folder.EnumerateFileSystemInfos().OrderBy(e => e.Name, StringComparer.Ordinal);

    private static void Add(string name, FileSystemInfo entry, List<Paper> found, List<string> remarks)
    {
        if (entry.LinkTarget is not null) remarks.Add($"{name} is a link and is left out");
        else if (entry is FileInfo && !entry.Name.StartsWith('.') && JobPapers.Has(name)) found.Add(OfFile(name, entry.FullName));
        else remarks.Add($"{name} does not belong to the job's papers and is left out");
    }

    private static Paper OfFile(string name, string path) => new(name, async cancel =>
    {
        FileStream file = File.OpenRead(path);
        await using (file.ConfigureAwait(false))
        {
            if (file.Length > JobPapers.MostFileBytes) throw new IOException($"{path} is larger than {JobPapers.MostFileBytes >> 20} MiB");
            var bytes = new byte[file.Length];
            await file.ReadExactlyAsync(bytes, cancel).ConfigureAwait(false);
            return bytes;
        }
    });
}
