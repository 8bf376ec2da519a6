using System.Buffers.Binary;

namespace Sparewright.Handover.Files;

/// <summary>The check sum of ZIP and PNG (ISO 3309, polynomial EDB88320 with the bits reversed), one block after another.</summary>
internal struct Crc32
{
    /// <summary>Eight tables of 256: what a byte does to the sum with none to seven bytes after it.</summary>
    private static readonly uint[] Table = MakeTable();
    private uint _inverted;

    /// <summary>The sum over everything added so far.</summary>
    public readonly uint Value => _inverted;

    public void Add(ReadOnlySpan<byte> bytes)
    {
        ReadOnlySpan<uint> table = Table;
        uint crc = ~_inverted;
        for (; bytes.Length >= 8; bytes = bytes[8..])
        {
            uint low = crc ^ BinaryPrimitives.ReadUInt32LittleEndian(bytes), high = BinaryPrimitives.ReadUInt32LittleEndian(bytes[4..]);
            crc = table[1792 + (byte)low] ^ table[1536 + (byte)(low >> 8)] ^ table[1280 + (byte)(low >> 16)] ^ table[1024 + (int)(low >> 24)]
                ^ table[768 + (byte)high] ^ table[512 + (byte)(high >> 8)] ^ table[256 + (byte)(high >> 16)] ^ table[(int)(high >> 24)];
        }

        foreach (byte b in bytes) crc = table[(byte)(crc ^ b)] ^ (crc >> 8);
        _inverted = ~crc;
    }

    private static uint[] MakeTable()
    {
        var table = new uint[8 * 256];
        for (uint n = 0; n < 256; n++)
        {
            uint c = n;
            for (int bit = 0; bit < 8; bit++) c = (c & 1) != 0 ? 0xEDB88320 ^ (c >> 1) : c >> 1;
            table[n] = c;
        }

        for (int n = 256; n < table.Length; n++) table[n] = table[(byte)table[n - 256]] ^ (table[n - 256] >> 8);
        return table;
    }
}
