using System.Buffers.Binary;
using System.IO.Compression;
using System.Text;

namespace Sparewright.Handover.Files;

/// <summary>A file in a ZIP package.</summary>
/// <param name="Name">Its name with forward slashes; only a name, never a path to write to.</param>
/// <param name="Length">Bytes that its directory promises; kept to while reading.</param>
public sealed record ZipEntry(string Name, int Length)
{
    internal int Method { get; init; }

    internal uint Crc { get; init; }

    internal int Packed { get; init; }

    internal int Flags { get; init; }

    internal long HeaderAt { get; init; }
}

/// <summary>
/// A ZIP package read with suspicion: the directory is believed in nothing that is not checked while reading (APPNOTE.TXT 6.3 for the layout).
/// Only stored and deflated entries, at most 1,000 of them, 256 MiB in all and 200 times their packed size; nothing is ever unpacked to the disk.
/// </summary>
internal sealed class StrictZip
{
    public const int MostEntries = 1000;
    public const long MostBytes = 256L << 20;
    public const int MostRatio = 200;

    private const int MostDirectoryBytes = 1 << 20;
    private const string NotWhole = "check that the file was copied whole";
    private const string WriteAgain = "have the file written again by the program that made it";
    private const string Distrust = "do not trust this file";

    private readonly Stream _file;
    private readonly string _what;

    private StrictZip(Stream file, string what) => (_file, _what) = (file, what);

    /// <summary>The files in it, in the order of its directory; folders are no files.</summary>
    public IReadOnlyList<ZipEntry> Entries { get; private set; } = [];

    /// <summary>What stands behind the directory.</summary>
    public string Comment { get; private set; } = "";

    /// <param name="file">Can be sought in, and stays open as long as this is read.</param>
    /// <param name="what">What it is called in refusals: "the package".</param>
    /// <param name="otherwise">What it cannot be when it is no ZIP file: "so it is no 3MF file".</param>
    /// <exception cref="RefusedException">It is broken or suspicious.</exception>
    public static StrictZip Open(Stream file, string what, string otherwise)
    {
        var zip = new StrictZip(file, what);
        zip.ReadDirectory(otherwise);
        return zip;
    }

    /// <summary>Reads every entry through once, keeping nothing: after this all lengths and check sums are true.</summary>
    /// <exception cref="RefusedException">One of them is not.</exception>
    public void Verify(CancellationToken cancel)
    {
        var buffer = new byte[1 << 16];
        foreach (ZipEntry entry in Entries)
        {
            cancel.ThrowIfCancellationRequested();
            using Stream content = Read(entry);
            try
            {
                while (content.Read(buffer) > 0)
                {
                }
            }
            catch (InvalidDataException)
            {
                throw Broken(entry);
            }

            byte[] header = Slice(entry.HeaderAt, 30);
            bool lengthsFollow = (entry.Flags & 8) != 0;
            if (!lengthsFollow && (Word(header, 14) != entry.Crc || Word(header, 18) != entry.Packed || Word(header, 22) != entry.Length)) throw SaysSomethingElse(entry);
        }
    }

    /// <summary>The whole content of an entry.</summary>
    /// <exception cref="RefusedException">It is not what the directory promises.</exception>
    public byte[] Content(ZipEntry entry)
    {
        // Not before it has proven to be there is memory taken for it.
        using var bytes = new MemoryStream();
        using Stream content = Read(entry);
        try
        {
            content.CopyTo(bytes);
        }
        catch (InvalidDataException)
        {
            throw Broken(entry);
        }

        return bytes.ToArray();
    }

    /// <summary>The bytes of an entry as they are unpacked, with length and check sum verified at the end. Broken packed data are an <see cref="InvalidDataException"/>.</summary>
    /// <exception cref="RefusedException">Its header contradicts the directory.</exception>
    public Stream Read(ZipEntry entry)
    {
        Stream packed = new Window(_file, ContentAt(entry), entry.Packed);
        return new CheckedStream(entry.Method == 8 ? new DeflateStream(packed, CompressionMode.Decompress) : packed, entry, _what);
    }

    /// <summary>Programs that believe the one and programs that believe the other would read two different files.</summary>
    private RefusedException SaysSomethingElse(ZipEntry entry) => new($"{entry.Name} says something else of itself than the directory of {_what} does", Distrust);

    private static RefusedException Broken(ZipEntry entry) => new($"the packed data of {entry.Name} is damaged", NotWhole);

    private void ReadDirectory(string otherwise)
    {
        long length = _file.Length;
        byte[] tail = Slice(length - Math.Min(length, 22 + ushort.MaxValue), (int)Math.Min(length, 22 + ushort.MaxValue));
        int end = tail.Length - 22;
        while (end >= 0 && !(Word(tail, end) == 0x06054b50 && end + 22 + Half(tail, end + 20) == tail.Length)) end--;
        if (end < 0) throw new RefusedException($"this is not a ZIP package, {otherwise}", NotWhole);

        ReadOnlySpan<byte> record = tail.AsSpan(end);
        Comment = Encoding.UTF8.GetString(record[22..]);
        int count = Half(record, 10);
        long size = Word(record, 12), start = Word(record, 16);
        if (count == ushort.MaxValue || size == uint.MaxValue || start == uint.MaxValue) throw new RefusedException($"{_what} is written in the form for huge files (ZIP64)", WriteAgain);
        if (count > MostEntries) throw new RefusedException($"{_what} has more than {MostEntries} entries", "have it written with fewer files");
        if (Half(record, 4) != 0 || Half(record, 6) != 0 || Half(record, 8) != count || start + size > length - tail.Length + end || size > MostDirectoryBytes)
            throw new RefusedException($"the directory of {_what} does not lie where it says", NotWhole);
        ReadEntries(Slice(start, (int)size), count, start);
    }

    private void ReadEntries(ReadOnlySpan<byte> directory, int count, long end)
    {
        var entries = new List<ZipEntry>(count);
        var names = new HashSet<string>(StringComparer.OrdinalIgnoreCase);
        long total = 0;
        for (int n = 0; n < count; n++)
        {
            if (directory.Length < 46 || Word(directory, 0) != 0x02014b50) throw new RefusedException($"the directory of {_what} is damaged", NotWhole);
            int nameLength = Half(directory, 28), whole = 46 + nameLength + Half(directory, 30) + Half(directory, 32);
            if (directory.Length < whole) throw new RefusedException($"the directory of {_what} is damaged", NotWhole);
            string name = Name(directory.Slice(46, nameLength));
            uint packed = Word(directory, 20), length = Word(directory, 24);
            total += length;
            Check(name, Half(directory, 8), Half(directory, 10), packed, length, total);
            // The upper half holds the rights and kind of the file, where the package was written on Unix.
            if (Half(directory, 40) >> 12 == 0xA) throw new RefusedException($"{name} is a link to somewhere else", Distrust);
            if (!names.Add(name.Normalize().TrimEnd('/'))) throw new RefusedException($"{_what} has two entries named {name}", WriteAgain);
            if (!name.EndsWith('/'))
                entries.Add(new ZipEntry(name, (int)length) { Method = Half(directory, 10), Crc = Word(directory, 16), Packed = (int)packed, Flags = Half(directory, 8), HeaderAt = Word(directory, 42) });
            directory = directory[whole..];
        }

        CheckOverlaps(entries, end);
        Entries = entries;
    }

    private void Check(string name, int flags, int method, uint packed, uint length, long total)
    {
        if ((flags & 1) != 0) throw new RefusedException($"{name} is encrypted", "have the file written without a password");
        if (method is not (0 or 8)) throw new RefusedException($"{name} is packed by a method that is not allowed here ({method})", WriteAgain);
        if (packed > _file.Length) throw new RefusedException($"{name} claims to be longer than {_what}", NotWhole);
        if (total > MostBytes || length > (long)MostRatio * Math.Max(packed, 64))
            throw new RefusedException($"{name} would unpack to far more than honest content: over {MostRatio} times its size, or over 256 MiB in all", Distrust);
        if (method == 0 && packed != length) throw new RefusedException($"{name} has two different lengths", NotWhole);
        if (name.EndsWith('/') && length > 0) throw new RefusedException($"{name} is a folder and yet has content", Distrust);
    }

    /// <summary>Entries that share their bytes are how a small file claims to hold much.</summary>
    private void CheckOverlaps(List<ZipEntry> entries, long directoryAt)
    {
        long free = 0;
        foreach (ZipEntry entry in entries.OrderBy(e => e.HeaderAt))
        {
            if (entry.HeaderAt < free || entry.HeaderAt + 30 > directoryAt) throw new RefusedException($"{entry.Name} lies over another entry of {_what}", Distrust);
            free = entry.HeaderAt + 30 + entry.Packed;
        }
    }

    /// <summary>Where an entry's bytes begin; its own header must say of it what the directory says.</summary>
    private long ContentAt(ZipEntry entry)
    {
        byte[] header = Slice(entry.HeaderAt, 30);
        if (Word(header, 0) != 0x04034b50) throw new RefusedException($"{_what} has no entry where its directory says {entry.Name} is", NotWhole);
        int nameLength = Half(header, 26);
        string name = Encoding.UTF8.GetString(Slice(entry.HeaderAt + 30, nameLength));
        if (name != entry.Name || Half(header, 8) != entry.Method || Half(header, 6) != entry.Flags) throw SaysSomethingElse(entry);
        long at = entry.HeaderAt + 30 + nameLength + Half(header, 28);
        if (at + entry.Packed > _file.Length) throw new RefusedException($"{_what} ends in the middle of {entry.Name}", NotWhole);
        return at;
    }

    private static string Name(ReadOnlySpan<byte> bytes)
    {
        string name = Encoding.UTF8.GetString(bytes);
        var segments = (name.EndsWith('/') ? name[..^1] : name).Split('/');
        // No drives, no climbing out, no back slashes: the name is a name below the root or it is a trick.
        if (name.Any(c => c is '\\' or ':' or '\ufffd' || char.IsControl(c)) || segments.Any(s => s is "" or "." or ".."))
            throw new RefusedException($"an entry has the forbidden name \"{string.Concat(name.Take(80).Select(c => char.IsControl(c) ? '?' : c))}\"", Distrust);
        return name;
    }

    private byte[] Slice(long at, int length)
    {
        if (at < 0 || length < 0 || at + length > _file.Length) throw new RefusedException($"{_what} ends in the middle of an entry", NotWhole);
        var bytes = new byte[length];
        _file.Position = at;
        _file.ReadExactly(bytes);
        return bytes;
    }

    private static int Half(ReadOnlySpan<byte> bytes, int at) => BinaryPrimitives.ReadUInt16LittleEndian(bytes[at..]);

    private static uint Word(ReadOnlySpan<byte> bytes, int at) => BinaryPrimitives.ReadUInt32LittleEndian(bytes[at..]);

    /// <summary>A stream that is only read, from its beginning to its end.</summary>
    private abstract class ReadOnce : Stream
    {
        public override bool CanRead => true;

        public override bool CanSeek => false;

        public override bool CanWrite => false;

        public override long Length => throw new NotSupportedException();

        public override long Position { get => throw new NotSupportedException(); set => throw new NotSupportedException(); }

        public override int Read(byte[] buffer, int offset, int count) => Read(buffer.AsSpan(offset, count));

        public override abstract int Read(Span<byte> buffer);

        public override void Flush()
        {
        }

        public override long Seek(long offset, SeekOrigin origin) => throw new NotSupportedException();

        public override void SetLength(long value) => throw new NotSupportedException();

        public override void Write(byte[] buffer, int offset, int count) => throw new NotSupportedException();
    }

    /// <summary>A stretch of the file.</summary>
    private sealed class Window(Stream file, long at, int length) : ReadOnce
    {
        private int _read;

        public override int Read(Span<byte> buffer)
        {
            file.Position = at + _read;
            int got = file.Read(buffer[..Math.Min(buffer.Length, length - _read)]);
            _read += got;
            return got;
        }
    }

    /// <summary>Passes bytes through while counting them; the promised length and check sum must come true.</summary>
    private sealed class CheckedStream(Stream inner, ZipEntry entry, string what) : ReadOnce
    {
        private Crc32 _sum;
        private long _read;

        public override int Read(Span<byte> buffer)
        {
            if (buffer.IsEmpty) return 0;
            int got = inner.Read(buffer);
            _sum.Add(buffer[..got]);
            _read += got;
            if (_read > entry.Length) throw new RefusedException($"{entry.Name} holds more than {what}'s directory says", Distrust);
            if (got == 0 && (_read != entry.Length || _sum.Value != entry.Crc)) throw new RefusedException($"{entry.Name} is damaged: its length or check sum is wrong", NotWhole);
            return got;
        }

        protected override void Dispose(bool disposing)
        {
            if (disposing) inner.Dispose();
            base.Dispose(disposing);
        }
    }
}
