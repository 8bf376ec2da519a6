using Sparewright.Remake.Reports;
using Spectre.Console;

namespace Sparewright.Cli.Showing;

/// <summary>A report for people: drawn with frames and colours at a terminal, as plain text elsewhere.</summary>
internal static class DrawnReport
{
    public static void Show(Report report, Surroundings around)
    {
        if (around.DrawsOut) Draw(report, around.Out);
        else around.Out.Write(PlainText.Of(report));
        around.Out.Flush();
    }

    private static void Draw(Report report, TextWriter writer)
    {
        IAnsiConsole console = AnsiConsole.Create(new AnsiConsoleSettings { Ansi = AnsiSupport.Yes, Interactive = InteractionSupport.No, Out = new AnsiConsoleOutput(writer) });
        foreach (ReportPart part in report.Parts)
        {
            switch (part)
            {
                case ReportPart.Heading heading:
                    console.WriteLine();
                    console.Write(new Text(heading.Text, new Style(decoration: Decoration.Bold)));
                    console.WriteLine();
                    break;
                case ReportPart.Line line:
                    console.Write(new Text(Mark(line.Tone) + line.Text, StyleOf(line.Tone)));
                    console.WriteLine();
                    break;
                case ReportPart.Table table:
                    console.Write(Drawn(table));
                    break;
            }
        }
    }

    private static Table Drawn(ReportPart.Table table)
    {
        var drawn = new Table { Border = TableBorder.Simple };
        foreach (string column in table.Columns) drawn.AddColumn(new TableColumn(new Text(column)));
        foreach (ReportPart.Row row in table.Rows) drawn.AddRow(row.Cells.Select(c => new Text(c, StyleOf(row.Tone))));
        return drawn;
    }

    /// <summary>Colour is never the only sign.</summary>
    private static string Mark(Tone tone) => tone switch { Tone.LookHere => "! ", Tone.Caution => "!! ", _ => "" };

    private static Style StyleOf(Tone tone) => tone switch
    {
        Tone.Good => new Style(Color.Green),
        Tone.LookHere => new Style(Color.DarkOrange),
        Tone.Caution => new Style(Color.Red, decoration: Decoration.Bold),
        _ => Style.Plain,
    };
}
