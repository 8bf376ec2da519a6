namespace Sparewright.Handover.Files;

/// <summary>
/// Writes a file whole or not at all: into a temporary file beside it, flushed to the disk, then moved over the old one.
/// </summary>
public static class AtomicFile
{
    /// <summary>Writes what <paramref name="write"/> puts into the stream. After a cancel or any error the old file, if there was one, stands as it was.</summary>
    /// <exception cref="OperationCanceledException">Stopped before the move; nothing is left behind.</exception>
    /// <exception cref="IOException">The disk said no; nothing is left behind.</exception>
    public static void Write(string path, Action<Stream> write, CancellationToken cancel = default)
    {
        cancel.ThrowIfCancellationRequested();
        string temporary = TemporaryFor(path);
        try
        {
            using (var stream = new FileStream(temporary, FileMode.CreateNew, FileAccess.Write, FileShare.None))
            {
                write(stream);
                cancel.ThrowIfCancellationRequested();
                stream.Flush(flushToDisk: true);
            }

            File.Move(temporary, path, overwrite: true);
        }
        catch
        {
            File.Delete(temporary);
            throw;
        }
    }

    /// <summary>The same for what is not at hand at once. Where <paramref name="write"/> comes back with false, the old file stands as it was too.</summary>
    /// <exception cref="OperationCanceledException">Stopped before the move; nothing is left behind.</exception>
    /// <exception cref="IOException">The disk said no; nothing is left behind.</exception>
    public static async Task WriteAsync(string path, Func<Stream, Task<bool>> write, CancellationToken cancel)
    {
        cancel.ThrowIfCancellationRequested();
        string temporary = TemporaryFor(path);
        try
        {
            bool isGood;
            var stream = new FileStream(temporary, FileMode.CreateNew, FileAccess.ReadWrite, FileShare.None);
            await using (stream.ConfigureAwait(false))
            {
                isGood = await write(stream).ConfigureAwait(false);
                cancel.ThrowIfCancellationRequested();
                stream.Flush(flushToDisk: true);
            }

            if (isGood) File.Move(temporary, path, overwrite: true);
            else File.Delete(temporary);
        }
        catch
        {
            File.Delete(temporary);
            throw;
        }
    }

    /// <summary>Writes these bytes, whole or not at all.</summary>
    public static void Write(string path, ReadOnlyMemory<byte> content, CancellationToken cancel = default) =>
        Write(path, stream => stream.Write(content.Span), cancel);

    /// <summary>Writes this text as UTF-8 without a mark, whole or not at all.</summary>
    public static void Write(string path, string text, CancellationToken cancel = default) =>
        Write(path, new System.Text.UTF8Encoding(false).GetBytes(text), cancel);

    private static string TemporaryFor(string path) => Path.Combine(Path.GetDirectoryName(Path.GetFullPath(path))!, $".{Path.GetFileName(path)}.{Guid.NewGuid():N}.part");
}
