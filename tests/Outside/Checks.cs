using Xunit;

namespace Sparewright.Outside;

/// <summary>The folder of published check values beside the repository, where there is one.</summary>
internal static class Checks
{
    /// <summary>The full path of a file or folder in <c>../shared/checks</c>; skips the test, with the reason, where it is not there.</summary>
    public static string Path(string name)
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
        {
            if (!File.Exists(System.IO.Path.Combine(folder.FullName, "Sparewright.slnx")))
                continue;
            // Beside the repository, or one folder further out.
            for (var beside = folder.Parent; beside is not null; beside = beside.Parent)
            {
                string path = System.IO.Path.Combine(beside.FullName, "shared", "checks", name);
                if (System.IO.Path.Exists(path))
                    return path;
            }
        }

        Assert.Skip($"skipped: ../shared/checks/{name} is not there");
        throw new InvalidOperationException("unreachable");
    }
}
