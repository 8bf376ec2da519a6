namespace Sparewright.Handover.Files;

/// <summary>The check sum of ZIP and PNG (ISO 3309, polynomial EDB88320 with the bits reversed), one block after another.</summary>
internal struct Crc32
{
    private static readonly uint[] Table = MakeTable();
    private uint _inverted;

    /// <summary>The sum over everything added so far.</summary>
    public readonly uint Value => _inverted;

    public void Add(ReadOnlySpan<byte> bytes)
    {
        uint crc = ~_inverted;
        foreach (byte b in bytes)
            crc = Table[(byte)(crc ^ b)] ^ (crc >> 8);
        _inverted = ~crc;
    }

    private static uint[] MakeTable()
    {
        var table = new uint[256];
        for (uint n = 0; n < 256; n++)
        {
            uint c = n;
            for (int bit = 0; bit < 8; bit++)
                c = (c & 1) != 0 ? 0xEDB88320 ^ (c >> 1) : c >> 1;
            table[n] = c;
        }

        return table;
    }
}
