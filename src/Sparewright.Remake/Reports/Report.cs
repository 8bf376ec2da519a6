namespace Sparewright.Remake.Reports;

/// <summary>How a line is meant: plain, good news, to be looked at, or a caution.</summary>
public enum Tone { Plain, Good, LookHere, Caution }

/// <summary>One thing in a report.</summary>
public abstract record ReportPart
{
    /// <summary>A heading over what follows.</summary>
    public sealed record Heading(string Text) : ReportPart;

    /// <summary>A sentence or two.</summary>
    public sealed record Line(string Text, Tone Tone = Tone.Plain) : ReportPart;

    /// <summary>A table; a row with a tone other than plain is to be noticed.</summary>
    public sealed record Table(IReadOnlyList<string> Columns, IReadOnlyList<Row> Rows) : ReportPart;

    /// <summary>One row of a table.</summary>
    public sealed record Row(Tone Tone, params IReadOnlyList<string> Cells);
}

/// <summary>What was found and made, in words for people; the same on a screen and in a file.</summary>
public sealed record Report(IReadOnlyList<ReportPart> Parts);
