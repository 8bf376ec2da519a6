namespace Sparewright.Web.Guarding;

/// <summary>Files that only the user who opened the shop can read.</summary>
internal static class OwnFile
{
    /// <summary>Writes a file anew, with these rights from its first moment on.</summary>
    public static void Write(string path, ReadOnlySpan<byte> content)
    {
        File.Delete(path);
        var options = new FileStreamOptions { Mode = FileMode.CreateNew, Access = FileAccess.Write };
        if (!OperatingSystem.IsWindows()) options.UnixCreateMode = UnixFileMode.UserRead | UnixFileMode.UserWrite;
        using var file = new FileStream(path, options);
        file.Write(content);
        file.Flush(flushToDisk: true);
    }

    /// <summary>Makes a folder that only its owner can look into, unless it is there.</summary>
    public static void MakeFolder(string path)
    {
        if (OperatingSystem.IsWindows()) Directory.CreateDirectory(path);
        else Directory.CreateDirectory(path, UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute);
    }
}
