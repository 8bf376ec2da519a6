using System.Buffers.Binary;
using System.Text.Json;

namespace Sparewright.Solid;

/// <summary>One answer, with the binary blocks that came after its line.</summary>
internal sealed record WorkerAnswer(JsonDocument Line, IReadOnlyList<byte[]> Blocks)
{
    public JsonElement Root => Line.RootElement;
}

/// <summary>An answer that breaks the protocol or is longer than allowed.</summary>
internal sealed class BadAnswerException(string message) : Exception(message);

/// <summary>Reads answers as the protocol frames them: a line of JSON, then the blocks that it announces.</summary>
internal sealed class AnswerReader(Stream stream, int longestLine, long mostBlockBytes)
{
    private byte[] _buffer = new byte[1 << 16];
    private int _start, _end;

    /// <returns>The next frame, or null at the end of the stream.</returns>
    /// <exception cref="BadAnswerException">It is malformed or too long.</exception>
    public async Task<WorkerAnswer?> NextAsync()
    {
        if (await LineAsync().ConfigureAwait(false) is not { } line) return null;
        JsonDocument document;
        try
        {
            // Copied: the document keeps what it is given, and the buffer goes on.
            document = JsonDocument.Parse(line.ToArray());
        }
        catch (JsonException e)
        {
            throw new BadAnswerException($"a line of the worker is not JSON: {e.Message}");
        }

        var blocks = new List<byte[]>();
        if (document.RootElement.ValueKind == JsonValueKind.Object && document.RootElement.TryGetProperty("binary", out JsonElement sizes))
        {
            long left = mostBlockBytes;
            if (sizes.ValueKind != JsonValueKind.Array) throw new BadAnswerException("the blocks are not announced as a list");
            foreach (JsonElement announced in sizes.EnumerateArray())
            {
                if (announced.ValueKind != JsonValueKind.Number || !announced.TryGetInt64(out long size)) throw new BadAnswerException("a block's length is not a whole number");
                if (size < 0 || size > left) throw new BadAnswerException($"the worker announced more than {mostBlockBytes} bytes");
                left -= size;
                blocks.Add(await BlockAsync(size).ConfigureAwait(false));
            }
        }

        return new WorkerAnswer(document, blocks);
    }

    private async Task<ReadOnlyMemory<byte>?> LineAsync()
    {
        int searched = _start;
        while (true)
        {
            int at = _buffer.AsSpan(searched, _end - searched).IndexOf((byte)'\n');
            if (at >= 0)
            {
                var line = _buffer.AsMemory(_start, searched + at - _start);
                _start = searched + at + 1;
                return line;
            }

            if (_end - _start > longestLine) throw new BadAnswerException($"a line of the worker is longer than {longestLine} bytes");
            int found = _end - _start;
            if (!await FillAsync().ConfigureAwait(false))
                return found == 0 ? null : throw new BadAnswerException("the worker ended in the middle of a line");
            searched = _start + found;
        }
    }

    private async Task<byte[]> BlockAsync(long announced)
    {
        var head = new byte[sizeof(ulong)];
        await ExactlyAsync(head).ConfigureAwait(false);
        if (BinaryPrimitives.ReadUInt64LittleEndian(head) != (ulong)announced) throw new BadAnswerException("a block is not as long as its line says");
        var block = new byte[announced];
        await ExactlyAsync(block).ConfigureAwait(false);
        return block;
    }

    private async Task ExactlyAsync(Memory<byte> wanted)
    {
        int buffered = Math.Min(_end - _start, wanted.Length);
        _buffer.AsSpan(_start, buffered).CopyTo(wanted.Span);
        _start += buffered;
        try
        {
            await stream.ReadExactlyAsync(wanted[buffered..]).ConfigureAwait(false);
        }
        catch (EndOfStreamException)
        {
            throw new BadAnswerException("the worker ended in the middle of a block");
        }
    }

    private async Task<bool> FillAsync()
    {
        if (_start > 0)
        {
            _buffer.AsSpan(_start, _end - _start).CopyTo(_buffer);
            (_start, _end) = (0, _end - _start);
        }

        if (_end == _buffer.Length) Array.Resize(ref _buffer, 2 * _buffer.Length);
        int got = await stream.ReadAsync(_buffer.AsMemory(_end)).ConfigureAwait(false);
        _end += got;
        return got > 0;
    }
}
