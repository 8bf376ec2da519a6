using System.Text;

namespace Sparewright.Web.Readings.Csv;

/// <summary>A cell of a table with where it begins in the file; line and column count from 1.</summary>
public readonly record struct CsvCell(string Text, int Line, int Column);

/// <summary>Why a table cannot be read.</summary>
public sealed record CsvProblem(int Line, int Column, string What, string Remedy)
{
    public override string ToString() => $"line {Line}, column {Column}: {What}; {Remedy}";
}

/// <summary>
/// Tables as RFC 4180 writes them. A text that a spreadsheet would take for a formula gets an apostrophe before it (OWASP ASVS 5.0, 1.2.10), and loses it again when it is read;
/// so does one that begins with an apostrophe itself, so that every text comes back as it was.
/// </summary>
public static class CsvText
{
    private const char Guard = '\'';
    private const string Formulas = "=+-@\t\r\n\0'";

    /// <summary>Writes rows; numbers must come as they are to stand, texts through <see cref="Guarded"/>.</summary>
    public static string Write(IEnumerable<IReadOnlyList<string>> rows)
    {
        var text = new StringBuilder();
        foreach (IReadOnlyList<string> row in rows) text.AppendJoin(',', row.Select(Quoted)).Append("\r\n");
        return text.ToString();
    }

    /// <summary>A text that no spreadsheet takes for a formula.</summary>
    public static string Guarded(string text) => text.Length > 0 && Formulas.Contains(text[0], StringComparison.Ordinal) ? Guard + text : text;

    /// <summary>The text that was guarded.</summary>
    public static string Unguarded(string cell) => cell.Length > 1 && cell[0] == Guard && Formulas.Contains(cell[1], StringComparison.Ordinal) ? cell[1..] : cell;

    /// <summary>Reads rows; lines may end as on any system, the last one not at all. Empty lines are left out.</summary>
    /// <param name="problem">Null exactly when there is a table.</param>
    public static IReadOnlyList<IReadOnlyList<CsvCell>>? Read(string text, out CsvProblem? problem)
    {
        problem = null;
        var rows = new List<IReadOnlyList<CsvCell>>();
        var row = new List<CsvCell>();
        int at = text.StartsWith('\ufeff') ? 1 : 0, line = 1, lineStart = at;
        while (at < text.Length)
        {
            (int cellLine, int cellColumn) = (line, at - lineStart + 1);
            var cell = new StringBuilder();
            if (text[at] == '"')
            {
                at++;
                while (true)
                {
                    if (at == text.Length)
                    {
                        problem = new(cellLine, cellColumn, "a quotation mark is opened and never closed", "close it with \"");
                        return null;
                    }

                    if (text[at] == '"' && at + 1 < text.Length && text[at + 1] == '"') (_, at) = (cell.Append('"'), at + 2);
                    else if (text[at] == '"') break;
                    else
                    {
                        if (text[at] == '\n') (line, lineStart) = (line + 1, at + 1);
                        cell.Append(text[at++]);
                    }
                }

                at++;
                if (at < text.Length && text[at] is not (',' or '\r' or '\n'))
                {
                    problem = new(line, at - lineStart + 1, "something stands behind a closed quotation mark", "double the marks inside a text: \"\"");
                    return null;
                }
            }
            else
            {
                while (at < text.Length && text[at] is not (',' or '\r' or '\n'))
                {
                    if (text[at] == '"')
                    {
                        problem = new(line, at - lineStart + 1, "a quotation mark stands inside a text that is not quoted", "quote the whole cell, and double the marks inside it");
                        return null;
                    }

                    cell.Append(text[at++]);
                }
            }

            row.Add(new(cell.ToString(), cellLine, cellColumn));
            if (at < text.Length && text[at] == ',')
            {
                at++;
                // A comma at the very end has an empty cell behind it.
                if (at < text.Length && text[at] is not ('\r' or '\n')) continue;
                row.Add(new("", line, at - lineStart + 1));
            }

            if (at < text.Length && text[at] == '\r') at++;
            if (at < text.Length && text[at] == '\n') at++;
            (line, lineStart) = (line + 1, at);
            if (row.Count > 1 || row[0].Text.Length > 0) rows.Add([.. row]);
            row.Clear();
        }

        return rows;
    }

    private static string Quoted(string cell) =>
        cell.AsSpan().IndexOfAny(",\"\r\n") >= 0 || cell != cell.Trim() ? $"\"{cell.Replace("\"", "\"\"", StringComparison.Ordinal)}\"" : cell;
}
