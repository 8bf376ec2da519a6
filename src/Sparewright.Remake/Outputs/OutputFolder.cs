using System.Security.Cryptography;
using Sparewright.Handover.Files;

namespace Sparewright.Remake.Outputs;

/// <summary>
/// The folder that the results go to. What is made lies in a hidden folder inside it until everything is there, and is then moved over;
/// whatever stops the work before that leaves the folder as it was. What a killed run left behind is cleared away by the next.
/// </summary>
internal sealed class OutputFolder : IDisposable
{
    private const string Making = ".being-made";

    private readonly string _path;
    private readonly bool _isNew;
    private readonly FileStream _lock;
    private readonly List<string> _put = [];
    private bool _kept;

    private OutputFolder(string path, bool isNew, FileStream held) => (_path, _isNew, _lock) = (path, isNew, held);

    /// <summary>Opens the folder, making it where it is missing, and keeps others from writing there meanwhile.</summary>
    public static Result<OutputFolder> Open(string path)
    {
        bool isNew = !Directory.Exists(path);
        string making = Path.Combine(path, Making);
        FileStream held;
        try
        {
            Directory.CreateDirectory(making);
            held = new FileStream(Path.Combine(making, "lock"), FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None);
        }
        catch (IOException e) when (Directory.Exists(making))
        {
            return e is DirectoryNotFoundException ? Failure.Of(e) : new Failure(false, [$"{path} is being written by another run ({e.Message.TrimEnd('.')}); wait until it is done, or choose another folder with --out"]);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return Failure.Of(e);
        }

        foreach (string left in Directory.EnumerateFiles(making).Where(f => f != held.Name)) File.Delete(left);
        return new OutputFolder(path, isNew, held);
    }

    /// <summary>Where a file that somebody else writes is to be written for the time being.</summary>
    public string TemporaryPath(string name)
    {
        // What is built a second time is written a second time, and moved over once.
        if (!_put.Contains(name)) _put.Add(name);
        return Path.Combine(_path, Making, name);
    }

    /// <summary>Puts a file with this content among those to be moved over.</summary>
    public void Put(string name, ReadOnlyMemory<byte> content, CancellationToken cancel) => AtomicFile.Write(TemporaryPath(name), content, cancel);

    /// <summary>SHA-256 of a file as it now lies in the folder, or of the one about to be moved there; null where there is none.</summary>
    public string? HashOf(string name)
    {
        string path = Path.Combine(_path, _put.Contains(name) ? Path.Combine(Making, name) : name);
        if (!File.Exists(path)) return null;
        using FileStream file = File.OpenRead(path);
        return Convert.ToHexStringLower(SHA256.HashData(file));
    }

    public long LengthOf(string name) => new FileInfo(Path.Combine(_path, name)).Length;

    public byte[]? Read(string name)
    {
        string path = Path.Combine(_path, name);
        return File.Exists(path) ? File.ReadAllBytes(path) : null;
    }

    /// <summary>Moves everything over, in the order in which it was put; it is too late to stop now.</summary>
    public void Keep()
    {
        foreach (string name in _put) File.Move(Path.Combine(_path, Making, name), Path.Combine(_path, name), overwrite: true);
        _kept = true;
    }

    public void Dispose()
    {
        _lock.Dispose();
        try
        {
            Directory.Delete(Path.Combine(_path, Making), recursive: true);
            if (_isNew && !_kept) Directory.Delete(_path);
        }
        catch (IOException)
        {
            // Somebody put something else there, or the disk is gone: the next run clears what is left.
        }
    }
}
