using System.Buffers.Binary;
using System.IO.Compression;
using System.Text;
using Sparewright.Handover.Files;

namespace Sparewright.Handover.PrintFiles.ThreeMf;

/// <summary>
/// The ZIP package round a 3MF model, read with suspicion: the directory is believed in nothing that is not checked while reading
/// (APPNOTE.TXT 6.3 for the layout; 3MF Core 1.4.0 allows only stored and deflated entries).
/// Names are only names: nothing is ever unpacked to the disk.
/// </summary>
internal sealed class Package
{
    public const int MostFileBytes = 64 << 20;
    public const int MostEntries = 1000;
    public const long MostBytes = 256L << 20;
    public const int MostRatio = 200;

    private const string NotWhole = "check that the file was copied whole";
    private const string WriteAgain = "have the file written again by the program that made it";

    private readonly byte[] _file;
    private readonly Dictionary<string, Entry> _entries = new(StringComparer.OrdinalIgnoreCase);

    private Package(byte[] file) => _file = file;

    private readonly record struct Entry(int Method, uint Crc, int Packed, int Length, int HeaderAt);

    /// <exception cref="RefusedException">The package is broken or suspicious.</exception>
    public static Package Open(byte[] file)
    {
        if (file.Length > MostFileBytes)
            throw new RefusedException("the file is larger than 64 MiB", "have it written with fewer triangles");
        var package = new Package(file);
        package.ReadDirectory(package.EndOfDirectory());
        return package;
    }

    /// <summary>Whether there is such an entry; part names begin with a slash.</summary>
    public bool Has(string part) => part.StartsWith('/') && _entries.ContainsKey(part[1..]);

    /// <summary>The bytes of a part as they are unpacked, with length and check sum verified at the end.</summary>
    /// <exception cref="RefusedException">There is no such part, or its header contradicts the directory.</exception>
    public Stream Read(string part)
    {
        var entry = _entries[part[1..]];
        var header = Slice(entry.HeaderAt, 30);
        if (Word(header, 0) != 0x04034b50)
            throw new RefusedException($"the package has no entry where its directory says {part} is", NotWhole);
        int start = entry.HeaderAt + 30 + Half(header, 26) + Half(header, 28);
        Slice(start, entry.Packed);
        Stream packed = new MemoryStream(_file, start, entry.Packed, writable: false);
        return new CheckedStream(entry.Method == 8 ? new DeflateStream(packed, CompressionMode.Decompress) : packed, entry.Length, entry.Crc, part);
    }

    private int EndOfDirectory()
    {
        for (int at = _file.Length - 22; at >= 0 && at >= _file.Length - 22 - ushort.MaxValue; at--)
        {
            if (Word(_file, at) == 0x06054b50 && at + 22 + Half(_file, at + 20) == _file.Length)
                return at;
        }

        throw new RefusedException("this is not a ZIP package, so it is no 3MF file", NotWhole);
    }

    private void ReadDirectory(int end)
    {
        int count = Half(_file, end + 10);
        long size = Word(_file, end + 12), start = Word(_file, end + 16);
        if (count > MostEntries)
            throw new RefusedException($"the package has more than {MostEntries} entries", "have it written with one model and its pictures only");
        if (Half(_file, end + 4) != 0 || Half(_file, end + 6) != 0 || Half(_file, end + 8) != count || start + size > end)
            throw new RefusedException("the package's directory does not lie where the package says", NotWhole);

        long total = 0;
        int at = (int)start;
        for (int n = 0; n < count; n++)
        {
            var header = Slice(at, 46);
            if (Word(header, 0) != 0x02014b50)
                throw new RefusedException("the package's directory is damaged", NotWhole);
            int nameLength = Half(header, 28);
            string name = Name(Slice(at + 46, nameLength));
            at += 46 + nameLength + Half(header, 30) + Half(header, 32);
            if (at > start + size)
                throw new RefusedException("the package's directory is damaged", NotWhole);

            uint packed = Word(header, 20), length = Word(header, 24);
            total += length;
            Check(name, flags: Half(header, 8), method: Half(header, 10), packed, length, total);
            var entry = new Entry(Half(header, 10), Word(header, 16), (int)packed, (int)length, (int)Math.Min(Word(header, 42), int.MaxValue));
            if (!_entries.TryAdd(name, entry))
                throw new RefusedException($"the package has two entries named {name}", WriteAgain);
        }
    }

    private static void Check(string name, int flags, int method, uint packed, uint length, long total)
    {
        if ((flags & 1) != 0)
            throw new RefusedException($"{name} is encrypted", "have the file written without a password");
        if (method is not (0 or 8))
            throw new RefusedException($"{name} is packed by a method that 3MF does not allow", WriteAgain);
        if (packed > MostFileBytes)
            throw new RefusedException($"{name} claims to be longer than the package", NotWhole);
        if (total > MostBytes || length > (long)MostRatio * Math.Max(packed, 64))
            throw new RefusedException($"{name} would unpack to far more than an honest part: over {MostRatio} times its size, or over 256 MiB in all", "do not trust this file");
        if (method == 0 && packed != length)
            throw new RefusedException($"{name} has two different lengths", NotWhole);
    }

    private static string Name(ReadOnlySpan<byte> bytes)
    {
        string name = Encoding.UTF8.GetString(bytes);
        bool folder = name.EndsWith('/');
        var segments = (folder ? name[..^1] : name).Split('/');
        // No drives, no climbing out, no back slashes: the name is a name below the root or it is a trick.
        if (name.Any(c => c is '\\' or ':' || char.IsControl(c)) || segments.Any(s => s is "" or "." or ".."))
            throw new RefusedException($"an entry of the package has the forbidden name \"{string.Concat(name.Select(c => char.IsControl(c) ? '?' : c))}\"", "do not trust this file");
        return name;
    }

    private ReadOnlySpan<byte> Slice(int at, int length)
    {
        if (at < 0 || length < 0 || (long)at + length > _file.Length)
            throw new RefusedException("the package ends in the middle of an entry", NotWhole);
        return _file.AsSpan(at, length);
    }

    private static int Half(ReadOnlySpan<byte> bytes, int at) => BinaryPrimitives.ReadUInt16LittleEndian(bytes[at..]);

    private static uint Word(ReadOnlySpan<byte> bytes, int at) => BinaryPrimitives.ReadUInt32LittleEndian(bytes[at..]);

    /// <summary>Passes bytes through while counting them; the promised length and check sum must come true.</summary>
    private sealed class CheckedStream(Stream inner, int length, uint crc, string part) : Stream
    {
        private Crc32 _sum;
        private long _read;

        public override bool CanRead => true;

        public override bool CanSeek => false;

        public override bool CanWrite => false;

        public override long Length => length;

        public override long Position { get => _read; set => throw new NotSupportedException(); }

        public override int Read(byte[] buffer, int offset, int count) => Read(buffer.AsSpan(offset, count));

        public override int Read(Span<byte> buffer)
        {
            if (buffer.IsEmpty)
                return 0;
            int got = inner.Read(buffer);
            _sum.Add(buffer[..got]);
            _read += got;
            if (_read > length)
                throw new RefusedException($"{part} holds more than the package's directory says", "do not trust this file");
            if (got == 0 && (_read != length || _sum.Value != crc))
                throw new RefusedException($"{part} is damaged: its length or check sum is wrong", NotWhole);
            return got;
        }

        public override void Flush()
        {
        }

        public override long Seek(long offset, SeekOrigin origin) => throw new NotSupportedException();

        public override void SetLength(long value) => throw new NotSupportedException();

        public override void Write(byte[] buffer, int offset, int count) => throw new NotSupportedException();

        protected override void Dispose(bool disposing)
        {
            if (disposing)
                inner.Dispose();
            base.Dispose(disposing);
        }
    }
}
