using System.Buffers.Binary;
using System.Text;
using CsCheck;
using Xunit;

namespace Sparewright.Solid.Tests;

public class AnswerReaderTests
{
    private static AnswerReader Over(params byte[][] pieces) => new(new ChoppedStream(pieces), 1000, 2000);

    private static byte[] Bytes(string text) => Encoding.UTF8.GetBytes(text);

    private static byte[] Block(params byte[] content)
    {
        var block = new byte[8 + content.Length];
        BinaryPrimitives.WriteUInt64LittleEndian(block, (ulong)content.Length);
        content.CopyTo(block, 8);
        return block;
    }

    [Fact]
    public void Answers_come_whole_however_the_pipe_chops_them()
    {
        byte[] all = [.. Bytes("{\"id\":1,\"ok\":true}\n{\"id\":2,\"binary\":[3,0]}\n"), .. Block(1, 2, 3), .. Block(), .. Bytes("{\"id\":3}\n")];
        Gen.Int[1, all.Length].Array[1, 30].Sample(cuts =>
        {
            var pieces = new List<byte[]>();
            int at = 0;
            foreach (int cut in cuts.Append(all.Length))
            {
                int length = Math.Min(cut, all.Length - at);
                pieces.Add(all[at..(at + length)]);
                at += length;
            }

            AnswerReader reader = Over([.. pieces]);
            WorkerAnswer first = reader.NextAsync().GetAwaiter().GetResult()!, second = reader.NextAsync().GetAwaiter().GetResult()!, third = reader.NextAsync().GetAwaiter().GetResult()!;
            return first.Root.GetProperty("id").GetInt32() == 1 && first.Blocks.Count == 0
                && second.Blocks.Count == 2 && second.Blocks[0].AsSpan().SequenceEqual(new byte[] { 1, 2, 3 }) && second.Blocks[1].Length == 0
                && third.Root.GetProperty("id").GetInt32() == 3 && reader.NextAsync().GetAwaiter().GetResult() is null;
        }, iter: 500);
    }

    [Fact]
    public async Task A_line_over_the_cap_is_refused_before_it_is_kept() =>
        await Assert.ThrowsAsync<BadAnswerException>(Over(Bytes(new string('x', 3000))).NextAsync);

    [Fact]
    public async Task Blocks_over_the_cap_are_refused_before_memory_is_taken() =>
        await Assert.ThrowsAsync<BadAnswerException>(Over(Bytes("{\"binary\":[1500,600]}\n"), Block(new byte[1500])).NextAsync);

    [Theory]
    [InlineData("not json\n")]
    [InlineData("{\"id\":1")]
    [InlineData("{\"binary\":[-1]}\n")]
    [InlineData("{\"binary\":[5]}\nabc")]
    [InlineData("{\"binary\":\"all\"}\n")]
    [InlineData("{\"binary\":[1.5]}\n")]
    public async Task What_breaks_the_protocol_is_refused(string text) =>
        await Assert.ThrowsAsync<BadAnswerException>(Over(Bytes(text)).NextAsync);

    [Fact]
    public async Task A_block_of_another_length_than_announced_is_refused() =>
        await Assert.ThrowsAsync<BadAnswerException>(Over(Bytes("{\"binary\":[2]}\n"), Block(1, 2, 3)).NextAsync);

    /// <summary>Gives its pieces one at a time, as a pipe does.</summary>
    private sealed class ChoppedStream(byte[][] pieces) : MemoryStream
    {
        private readonly Queue<byte[]> _pieces = new(pieces.Where(p => p.Length > 0));

        public override ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancellationToken = default)
        {
            if (buffer.Length == 0 || !_pieces.TryPeek(out byte[]? piece)) return ValueTask.FromResult(0);
            int length = Math.Min(buffer.Length, piece.Length);
            piece.AsSpan(0, length).CopyTo(buffer.Span);
            _pieces.Dequeue();
            if (length < piece.Length)
            {
                var rest = new Queue<byte[]>(_pieces);
                _pieces.Clear();
                _pieces.Enqueue(piece[length..]);
                foreach (byte[] each in rest) _pieces.Enqueue(each);
            }

            return ValueTask.FromResult(length);
        }
    }
}
