using System.Data.Common;
using System.Text;
using Dapper;
using Sparewright.Part;

namespace Sparewright.Shop.Store;

/// <summary>Contents by their hash: what is the same is kept once.</summary>
internal static class Contents
{
    private static readonly UTF8Encoding Strict = new(false, throwOnInvalidBytes: true);

    /// <summary>The bytes of a text that can be kept, or why it cannot.</summary>
    public static Kept<byte[]> Bytes(string text)
    {
        if (text.Length > JobFile.LargestBytes) return TooLarge;
        try
        {
            byte[] bytes = Strict.GetBytes(text);
            return bytes.Length > JobFile.LargestBytes ? TooLarge : bytes;
        }
        catch (EncoderFallbackException)
        {
            return new StoreProblem(StoreProblemKind.Refused, "the text holds half a character", "type it again or remove it");
        }
    }

    /// <summary>The text of what stands in a file, or why it is none.</summary>
    public static Kept<string> Text(byte[] bytes, string what)
    {
        if (bytes.Length > JobFile.LargestBytes) return TooLarge;
        try
        {
            return Strict.GetString(bytes);
        }
        catch (DecoderFallbackException)
        {
            return new StoreProblem(StoreProblemKind.Refused, $"{what} is not UTF-8 text", "save the file as UTF-8");
        }
    }

    /// <returns>The hash by which it is found again.</returns>
    public static async Task<string> KeepAsync(DbConnection write, DbTransaction within, ReadOnlyMemory<byte> content)
    {
        string hash = Sealed.HashOf(content.Span);
        bool known = await write.ExecuteScalarAsync<string?>("select hash from content where hash = @hash", new { hash }, within).ConfigureAwait(false) is not null;
        if (!known) await write.ExecuteAsync("insert into content (hash, bytes) values (@hash, @bytes)", new { hash, bytes = content.ToArray() }, within).ConfigureAwait(false);
        return hash;
    }

    /// <exception cref="BrokenSealException">It is not there or not what was kept.</exception>
    public static async Task<byte[]> ReadAsync(DbConnection read, DbTransaction within, string hash) =>
        Sealed.Checked(await read.ExecuteScalarAsync<byte[]?>("select bytes from content where hash = @hash", new { hash }, within).ConfigureAwait(false) ?? [], hash);

    /// <exception cref="BrokenSealException">It is not there or not what was kept.</exception>
    public static async Task<string> TextAsync(DbConnection read, DbTransaction within, string hash) => Encoding.UTF8.GetString(await ReadAsync(read, within, hash).ConfigureAwait(false));

    /// <summary>Texts by their hashes. An undo has the text of an earlier revision: each text is fetched, and stands in memory, once.</summary>
    /// <exception cref="BrokenSealException">One is not there or not what was kept.</exception>
    public static async Task<Dictionary<string, string>> TextsAsync(DbConnection read, DbTransaction within, IEnumerable<string> hashes)
    {
        var texts = new Dictionary<string, string>(StringComparer.Ordinal);
        foreach (string hash in hashes.Distinct(StringComparer.Ordinal)) texts[hash] = await TextAsync(read, within, hash).ConfigureAwait(false);
        return texts;
    }

    /// <summary>A name or remark on one line: what cannot be seen becomes a blank, half a character a sign of its own.</summary>
    public static string OneLine(string text, int most = 200)
    {
        var line = new StringBuilder();
        foreach (Rune rune in text.EnumerateRunes())
        {
            if (line.Length + rune.Utf16SequenceLength > most) break;
            line.Append(Rune.IsControl(rune) || rune.Value is 0x2028 or 0x2029 ? new Rune(' ') : rune);
        }

        return line.ToString().Trim();
    }

    private static StoreProblem TooLarge => new(StoreProblemKind.Refused, $"the text is larger than {JobFile.LargestBytes / 1_000_000} MB", "keep photographs and other files beside the job, not in it");
}
