using System.Buffers.Binary;
using Sparewright.Handover.Files;

namespace Sparewright.Handover.Photographs;

/// <summary>Whether a PNG or JPEG file holds a picture and nothing besides: no remarks, no data of camera or place, nothing behind its end (ISO/IEC 15948; ITU-T T.81 annex B).</summary>
internal static class BarePicture
{
    public static bool Is(ReadOnlySpan<byte> file) => IsPng(file) || IsJpeg(file);

    private static bool IsPng(ReadOnlySpan<byte> file)
    {
        if (!file.StartsWith((ReadOnlySpan<byte>)[0x89, (byte)'P', (byte)'N', (byte)'G', 0x0D, 0x0A, 0x1A, 0x0A])) return false;
        for (ReadOnlySpan<byte> rest = file[8..]; rest.Length >= 12;)
        {
            uint length = BinaryPrimitives.ReadUInt32BigEndian(rest);
            if (length > rest.Length - 12) return false;
            ReadOnlySpan<byte> kind = rest.Slice(4, 4);
            var sum = new Crc32();
            sum.Add(rest.Slice(4, 4 + (int)length));
            if (sum.Value != BinaryPrimitives.ReadUInt32BigEndian(rest[(8 + (int)length)..])) return false;
            rest = rest[(12 + (int)length)..];
            if (kind.SequenceEqual("IEND"u8)) return length == 0 && rest.IsEmpty;
            if (!(kind.SequenceEqual("IHDR"u8) || kind.SequenceEqual("PLTE"u8) || kind.SequenceEqual("tRNS"u8) || kind.SequenceEqual("IDAT"u8)
                || kind.SequenceEqual("sBIT"u8) || kind.SequenceEqual("sRGB"u8) || kind.SequenceEqual("gAMA"u8) || kind.SequenceEqual("pHYs"u8))) return false;
        }

        return false;
    }

    private static bool IsJpeg(ReadOnlySpan<byte> file)
    {
        if (!file.StartsWith((ReadOnlySpan<byte>)[0xFF, 0xD8])) return false;
        for (ReadOnlySpan<byte> rest = file[2..]; rest.Length >= 2;)
        {
            if (rest[0] != 0xFF) return false;
            byte marker = rest[1];
            if (marker == 0xD9) return rest.Length == 2;
            if (rest.Length < 4) return false;
            int length = BinaryPrimitives.ReadUInt16BigEndian(rest[2..]);
            if (length < 2 || rest.Length < 2 + length) return false;
            ReadOnlySpan<byte> content = rest.Slice(4, length - 2);
            // Quantization, Huffman tables, restart, frames of the three usual kinds, scan; JFIF without its thumbnail.
            bool isPicture = marker is 0xDB or 0xC4 or 0xDD or 0xC0 or 0xC1 or 0xC2 or 0xDA
                || (marker == 0xE0 && content.Length == 14 && content.StartsWith("JFIF\0"u8) && content[12] == 0 && content[13] == 0);
            if (!isPicture) return false;
            rest = rest[(2 + length)..];
            if (marker == 0xDA) rest = AfterScan(rest);
        }

        return false;
    }

    /// <summary>What stands behind the packed pixels: in them 0xFF is followed by zero or by a restart marker.</summary>
    private static ReadOnlySpan<byte> AfterScan(ReadOnlySpan<byte> rest)
    {
        while (true)
        {
            int at = rest.IndexOf((byte)0xFF);
            if (at < 0 || at + 1 >= rest.Length) return [];
            if (rest[at + 1] is not (0 or (>= 0xD0 and <= 0xD7))) return rest[at..];
            rest = rest[(at + 2)..];
        }
    }
}
