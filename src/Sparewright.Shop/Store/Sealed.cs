using System.Globalization;
using System.Security.Cryptography;
using System.Text;

namespace Sparewright.Shop.Store;

/// <summary>A row holds something else than what was written: the database was damaged, or somebody changed it by hand.</summary>
internal sealed class BrokenSealException(string what) : Exception(what);

/// <summary>SHA-256 over contents and rows. A flipped bit in the database passes for data to every check of its own; here it does not.</summary>
internal static class Sealed
{
    /// <summary>The hash that a content is kept by.</summary>
    public static string HashOf(ReadOnlySpan<byte> content) => Convert.ToHexStringLower(SHA256.HashData(content));

    /// <summary>The seal of a row; null is a value of its own, and no two lists of values run together.</summary>
    public static string Of(params ReadOnlySpan<object?> values)
    {
        var text = new StringBuilder();
        foreach (object? value in values)
        {
            string written = Convert.ToString(value, CultureInfo.InvariantCulture) ?? "";
            text.Append(CultureInfo.InvariantCulture, $"{(value is null ? "-" : $"{written.Length}")}:{written}");
        }

        return HashOf(Encoding.UTF8.GetBytes(text.ToString()));
    }

    /// <exception cref="BrokenSealException">It is not what was kept.</exception>
    public static byte[] Checked(byte[] content, string hash) =>
        HashOf(content) == hash ? content : throw new BrokenSealException($"the content {hash[..12]} is not what was kept");
}
