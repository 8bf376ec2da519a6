namespace Sparewright.Web.Readings;

/// <summary>The columns of the ledger, from left to right.</summary>
public enum LedgerColumn { Id, What, Repeats, Entry, Observed, Adjusted, Residual, PlusMinus, Verdict }

/// <summary>A cell of the ledger. Where the keyboard takes it follows the ARIA grid pattern.</summary>
public readonly record struct GridPlace(int Row, LedgerColumn Column)
{
    private const LedgerColumn First = LedgerColumn.Id, Last = LedgerColumn.Verdict;

    /// <summary>How many rows PageUp and PageDown go.</summary>
    public const int Page = 10;

    /// <summary>Where a key leads, or the same place when it leads nowhere.</summary>
    /// <param name="key">As browsers call it: ArrowUp, Home, PageDown …</param>
    /// <param name="rows">How many rows there are.</param>
    public GridPlace After(string key, bool ctrl, int rows) => rows == 0 ? this : key switch
    {
        "ArrowUp" => At(Row - 1, Column, rows),
        "ArrowDown" => At(Row + 1, Column, rows),
        "ArrowLeft" => At(Row, (LedgerColumn)Math.Max((int)First, (int)Column - 1), rows),
        "ArrowRight" => At(Row, (LedgerColumn)Math.Min((int)Last, (int)Column + 1), rows),
        "Home" => ctrl ? At(0, First, rows) : At(Row, First, rows),
        "End" => ctrl ? At(rows - 1, Last, rows) : At(Row, Last, rows),
        "PageUp" => At(Row - Page, Column, rows),
        "PageDown" => At(Row + Page, Column, rows),
        _ => this,
    };

    /// <summary>Where the next value goes once one is kept: the next reading that takes values, or here again at the end of the list.</summary>
    /// <param name="takesValues">For each row whether values are entered in it.</param>
    public GridPlace AfterEntry(IReadOnlyList<bool> takesValues)
    {
        for (int row = Row + 1; row < takesValues.Count; row++)
            if (takesValues[row]) return new(row, LedgerColumn.Entry);
        return this with { Column = LedgerColumn.Entry };
    }

    private static GridPlace At(int row, LedgerColumn column, int rows) => new(Math.Clamp(row, 0, rows - 1), column);
}
