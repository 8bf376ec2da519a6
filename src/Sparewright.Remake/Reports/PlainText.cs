using System.Globalization;
using System.Text;

namespace Sparewright.Remake.Reports;

/// <summary>A report as plain text: no colours, no frames, nothing that a printer or a screen reader would stumble over.</summary>
public static class PlainText
{
    private const int Width = 100;

    public static string Of(Report report)
    {
        var text = new StringBuilder();
        ReportPart? before = null;
        foreach (ReportPart part in report.Parts)
        {
            if (before is not null && (part is ReportPart.Heading || before is ReportPart.Table)) text.Append('\n');
            switch (part)
            {
                case ReportPart.Heading heading: text.Append(heading.Text).Append('\n'); break;
                case ReportPart.Line line: Wrapped(text, line); break;
                case ReportPart.Table table: Columns(text, table); break;
            }

            before = part;
        }

        return text.ToString();
    }

    private static void Wrapped(StringBuilder text, ReportPart.Line line)
    {
        int column = 0;
        string start = line.Tone switch { Tone.LookHere => "! ", Tone.Caution => "!! ", _ => "" };
        text.Append(start);
        foreach (string word in line.Text.Split(' '))
        {
            if (column > 0 && start.Length + column + 1 + Columns(word) > Width)
            {
                text.Append('\n').Append(' ', start.Length);
                column = 0;
            }

            if (column > 0) text.Append(' ');
            text.Append(word);
            column += Columns(word) + (column > 0 ? 1 : 0);
        }

        text.Append('\n');
    }

    private static void Columns(StringBuilder text, ReportPart.Table table)
    {
        int[] widths = [.. table.Columns.Select((c, k) => Math.Max(Columns(c), table.Rows.Select(r => Columns(r.Cells[k])).DefaultIfEmpty(0).Max()))];
        Row(table.Columns, ' ');
        Row([.. widths.Select(w => new string('-', w))], ' ');
        foreach (ReportPart.Row row in table.Rows) Row(row.Cells, row.Tone == Tone.Plain ? ' ' : '!');

        void Row(IReadOnlyList<string> cells, char mark)
        {
            var line = new StringBuilder().Append(mark).Append(' ');
            for (int k = 0; k < cells.Count; k++)
                line.Append(cells[k]).Append(' ', widths[k] - Columns(cells[k]) + (k + 1 < cells.Count ? 2 : 0));
            text.Append(line.ToString().TrimEnd()).Append('\n');
        }
    }

    /// <summary>Signs that stand one beside the other, however many code units they take.</summary>
    private static int Columns(string text) => new StringInfo(text).LengthInTextElements;
}
