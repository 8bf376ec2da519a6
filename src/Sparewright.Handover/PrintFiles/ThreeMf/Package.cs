using Sparewright.Handover.Files;

namespace Sparewright.Handover.PrintFiles.ThreeMf;

/// <summary>The ZIP package round a 3MF model (3MF Core 1.4.0 allows only stored and deflated entries).</summary>
internal sealed class Package
{
    public const int MostFileBytes = 64 << 20;

    private readonly StrictZip _zip;
    private readonly Dictionary<string, ZipEntry> _entries;

    private Package(StrictZip zip)
    {
        _zip = zip;
        _entries = zip.Entries.ToDictionary(e => e.Name, StringComparer.OrdinalIgnoreCase);
    }

    /// <exception cref="RefusedException">The package is broken or suspicious.</exception>
    public static Package Open(byte[] file)
    {
        if (file.Length > MostFileBytes) throw new RefusedException("the file is larger than 64 MiB", "have it written with fewer triangles");
        return new Package(StrictZip.Open(new MemoryStream(file, writable: false), "the package", "so it is no 3MF file"));
    }

    /// <summary>Whether there is such an entry; part names begin with a slash.</summary>
    public bool Has(string part) => part.StartsWith('/') && _entries.ContainsKey(part[1..]);

    /// <summary>The bytes of a part as they are unpacked, with length and check sum verified at the end.</summary>
    /// <exception cref="RefusedException">Its header contradicts the directory.</exception>
    public Stream Read(string part) => _zip.Read(_entries[part[1..]]);
}
