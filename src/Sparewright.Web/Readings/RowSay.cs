using Sparewright.Measure.Quantities;
using Sparewright.Shop;

namespace Sparewright.Web.Readings;

/// <summary>What the ledger says at a row about what was entered there.</summary>
public abstract record RowSay
{
    /// <summary>It is no value; what was typed stays.</summary>
    public sealed record Refused(Refusal Why) : RowSay;

    /// <summary>Millimetres or inches? Nothing is kept before somebody says.</summary>
    public sealed record Doubts(UnitDoubt Doubt, bool FromInstrument) : RowSay;

    /// <summary>Somebody else changed this very reading meanwhile.</summary>
    /// <param name="Theirs">What stands there now, or null when the reading is gone.</param>
    /// <param name="Mine">What was to be put in its place.</param>
    public sealed record Changed(string? Theirs, IReadOnlyList<Entered> Mine) : RowSay;

    /// <summary>The store did not keep it; what was typed stays.</summary>
    public sealed record NotKept(StoreProblem Problem) : RowSay;

    /// <summary>It is on the disk.</summary>
    /// <param name="How">From the instrument or by hand; empty where that says nothing.</param>
    public sealed record Kept(string How, DateTimeOffset At) : RowSay;
}

/// <summary>Where the keyboard goes next, for the script that moves it.</summary>
/// <param name="Row">The key of a row; −1 for nowhere in the ledger.</param>
/// <param name="Cell">The name of a column, "correction" for the field that corrects its repeats, "form" for the form that changes it, or "answer" for the first answer to what is asked at the row.</param>
/// <param name="Taken">Whether what was typed is kept and its field is to be emptied.</param>
public sealed record Going(int Row, string Cell, bool Taken)
{
    public static Going To(int row, LedgerColumn column, bool taken = false) => new(row, column.ToString(), taken);
}
