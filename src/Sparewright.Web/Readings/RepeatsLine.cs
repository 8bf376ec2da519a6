using Sparewright.Measure.Quantities;
using Sparewright.Part;

namespace Sparewright.Web.Readings;

/// <summary>The repeats of a reading as one line to be corrected: as they are written, each with its unit where a bare number would be taken for another.</summary>
public static class RepeatsLine
{
    public static string Of(LedgerRow row, LengthUnit unit)
    {
        IReadOnlyList<string> raw = Written.Read(row.Text.Contains('\n', StringComparison.Ordinal) ? Indented(row.Text) : row.Text, out _) is { } written ? LedgerRow.RawReads(written) : [];
        return string.Join("; ", raw.Select(r => row.Takes == RowTakes.Lengths && unit == LengthUnit.Inch && char.IsAsciiDigit(r[^1]) ? r + " mm" : r));
    }

    /// <summary>A group cut out of its list lacks the indentation of its first line.</summary>
    internal static string Indented(string item)
    {
        int next = item.IndexOf('\n', StringComparison.Ordinal);
        return next < 0 ? item : new string(' ', item[(next + 1)..].TakeWhile(c => c == ' ').Count()) + item;
    }
}
