using System.Globalization;
using System.Text.RegularExpressions;
using Sparewright.Measure.Quantities;
using Sparewright.Part;
using Sparewright.Part.Record;
using Sparewright.Reconcile;

namespace Sparewright.Web.Readings.Csv;

/// <summary>What a table would do to one reading.</summary>
/// <param name="Before">As it is; empty for a new one.</param>
/// <param name="After">As it would be.</param>
public sealed record ImportedReading(string Id, string Before, string After)
{
    public bool IsNew => Before.Length == 0;
}

/// <summary>
/// A table of readings on its way into a job: what it would change, before it does. Rows find their reading by id; a new id is a new reading; readings that the
/// table does not name stay as they are.
/// </summary>
/// <param name="Text">The job's text with the changes; null while there is a problem.</param>
public sealed partial record ReadingsImport(IReadOnlyList<ImportedReading> Changes, int Unchanged, IReadOnlyList<CsvProblem> Problems, string? Text)
{
    /// <summary>Beyond this a table is not one of readings by hand; bytes.</summary>
    public const int LargestBytes = 1_000_000;

    private const int MostRows = 2000, MostProblems = 50;

    private static readonly string[] Words = ["outside", "inside", "depth", "step", "radius gauge", "weight"];

    /// <summary>What the table would do to a job.</summary>
    /// <param name="text">The job's text, which must be sound.</param>
    public static ReadingsImport Plan(string text, Job job, string table)
    {
        if (CsvText.Read(table, out CsvProblem? broken) is not { } rows) return Refused(broken!);
        if (rows.Count == 0) return Refused(new(1, 1, "the file is empty", "save the table with its first line of column names"));
        if (rows[0].Count == 1 && rows[0][0].Text.Contains(';', StringComparison.Ordinal)) return Refused(new(1, 1, "the columns are separated by semicolons", "save it with commas and decimal points"));
        if (rows.Count > MostRows + 1) return Refused(new(MostRows + 2, 1, $"there are more than {MostRows} rows", "split the table"));
        var problems = new List<CsvProblem>();
        List<Column> columns = Columns(rows[0], problems);
        foreach (string needed in new[] { ReadingsTable.Way, ReadingsTable.First })
            if (columns.All(c => c.Name != needed)) problems.Add(new(1, 1, $"there is no column `{needed}`", $"name the columns as the table that is saved from here does: {string.Join(", ", ReadingsTable.Fixed.Take(4))} …"));
        if (problems.Count > 0) return new([], 0, problems, null);

        List<Line> lines = [.. rows.Skip(1).Select(r => Line.Of(r, columns, problems))];
        foreach (var twice in lines.Where(l => l.Id.Length > 0).GroupBy(l => l.Id, StringComparer.Ordinal).Where(g => g.Count() > 1))
            problems.Add(new(twice.ElementAt(1).At.Line, twice.ElementAt(1).At.Column, $"{twice.Key} stands twice", "give each reading one row"));
        return problems.Count > 0 ? new([], 0, [.. problems.Take(MostProblems)], null) : Applied(text, job, lines);
    }

    private static ReadingsImport Applied(string text, Job job, List<Line> lines)
    {
        var changes = new List<ImportedReading>();
        int unchanged = 0, count = job.Readings.Count;
        string changed = text;
        var ids = new List<string>();
        foreach (Line line in lines)
        {
            int index = job.Readings.ToList().FindIndex(r => r.Id == line.Id);
            string before = index < 0 ? "" : Said(changed, index);
            JobEdit edit = index < 0 ? Added(changed, line, $"r{count + 1}") : Over(changed, line, job.Readings[index], index);
            if (edit.Text is null) return Refused(new(line.At.Line, line.At.Column, edit.Problem!.What, edit.Problem.Remedy));
            if (edit.Text == changed) unchanged++;
            else changes.Add(new(index < 0 && line.Id.Length == 0 ? $"r{count + 1}" : line.Id, before, Said(edit.Text, index < 0 ? count : index)));
            ids.Add(line.Id.Length > 0 ? line.Id : $"r{count + 1}");
            if (index < 0) count++;
            changed = edit.Text;
            if (JobFile.Read(changed) is { Job: null } unsound) return Refused(new(line.At.Line, line.At.Column, unsound.Problems[0].What, unsound.Problems[0].Remedy));
        }

        return Reconciles(job) && !Reconciles(JobFile.Read(changed).Job!, out IReadOnlyList<Problem> why)
            ? new([], 0, [.. why.Select(p => At(p, lines, ids))], null)
            : new(changes, unchanged, [], changed);
    }

    /// <summary>Readings that no caliper can take are told before they are in the job, at the row that brought them.</summary>
    private static CsvProblem At(Problem problem, List<Line> lines, List<string> ids)
    {
        int row = ids.FindIndex(id => problem.What.StartsWith(id + ": ", StringComparison.Ordinal));
        CsvCell at = row < 0 ? new("", 1, 1) : lines[row].At;
        return new(at.Line, at.Column, problem.What, problem.Remedy);
    }

    private static bool Reconciles(Job job) => Reconciles(job, out _);

    /// <summary>Whether the readings can be taken at all; weights and displaced water, which need the solid, have no say in that.</summary>
    private static bool Reconciles(Job job, out IReadOnlyList<Problem> why) => Reconciliation.TryReconcile(job, out _, out why);

    private static JobEdit Added(string text, Line line, string byPlace)
    {
        ReadingDraft draft = line.Draft with { Id = line.Id == byPlace ? "" : line.Id };
        return JobText.WithValue(text, ["readings", JobText.NewEntry], draft.New(Reads(line.Written)));
    }

    private static JobEdit Over(string text, Line line, Reading reading, int index)
    {
        string number = index.ToString(CultureInfo.InvariantCulture);
        string ownId = Written.Read(text, out _)?.At("readings", number, "id") is Written.Value v ? v.Text : "";
        // Gauge leaves are lengths too, which may be written in inches: equal ones stay as they are written.
        ReadingDraft draft = line.Draft with { Id = ownId };
        if (reading is GaugeLeafReading leaf && Same(line.Leaves, [leaf.BiggerThanMm, leaf.SmallerThanMm]) && Written.Read(text, out _)?.At("readings", number) is { } there)
            draft = draft with { BiggerThan = ReadingDraft.Of(there).BiggerThan, SmallerThan = ReadingDraft.Of(there).SmallerThan };
        JobEdit edit = draft.WriteOver(text, ["readings", number]);
        IReadOnlyList<double> had = reading switch { CaliperReading c => c.ReadsMm, WeightReading w => w.ReadsGrams, _ => [] };
        return edit.Text is { } described && line.Draft.Way != DraftWay.RadiusGauge && !Same(had, line.Values)
            ? JobText.WithValue(described, ["readings", number, "reads"], Reads(line.Written))
            : edit;
    }

    private static string Said(string text, int index)
    {
        if (Written.Read(text, out _)?.At("readings", index.ToString(CultureInfo.InvariantCulture)) is not { } item) return "";
        ReadingDraft d = ReadingDraft.Of(item);
        string[] marks = [d.Across.Length > 0 ? $"across {d.Across}" : "", d.Worn ? "worn" : "", d.AcrossBreak ? "across the break" : "", d.OnFragment, d.AtHeight, d.Instrument, d.Density,
            d.BiggerThan.Length > 0 ? $"{d.BiggerThan} to {d.SmallerThan}" : ""];
        return $"{ReadingsTable.Word(d.Way)} {string.Join(" to ", new[] { d.First, d.Second }.Where(e => e.Length > 0))}: {string.Join("; ", LedgerRow.RawReads(item).Concat(marks.Where(m => m.Length > 0)))}";
    }

    private static bool Same(IReadOnlyList<double> a, IReadOnlyList<double> b) => a.Count == b.Count && a.Zip(b).All(p => Math.Abs(p.First - p.Second) < 1e-9);

    private static JobValue Reads(IReadOnlyList<string> written) => written.Count == 1 ? written[0] : new JobValue.List([.. written.Select(w => (JobValue)w)]);

    private static ReadingsImport Refused(CsvProblem problem) => new([], 0, [problem], null);

    /// <param name="Unit">Of a column of repeats or leaves; null for texts.</param>
    private sealed record Column(int Index, string Name, Unit? Unit);

    private static List<Column> Columns(IReadOnlyList<CsvCell> heads, List<CsvProblem> problems)
    {
        var columns = new List<Column>();
        foreach (var (index, head) in heads.Index())
        {
            string name = CsvText.Unguarded(head.Text).Trim().ToLowerInvariant();
            Match read = ReadHead().Match(name);
            Match leaf = LeafHead().Match(name);
            if (read.Success) columns.Add(new(index, "read", UnitOf(read.Groups["unit"].Value)));
            else if (leaf.Success) columns.Add(new(index, $"{leaf.Groups["which"].Value} than leaf (mm)", UnitOf(leaf.Groups["unit"].Value)));
            else if (ReadingsTable.Fixed.Contains(name)) columns.Add(new(index, name, null));
            else if (name.StartsWith("read", StringComparison.Ordinal)) problems.Add(new(head.Line, head.Column, $"`{head.Text}` does not say its unit", "write it behind, as read 1 (mm) or read 1 (in)"));
            else problems.Add(new(head.Line, head.Column, $"there is no column `{head.Text}`", Spelling.Nearest(name, ReadingsTable.Fixed) is { } near ? $"perhaps {near}" : $"the columns are {string.Join(", ", ReadingsTable.Fixed)}, read 1 (mm) …"));
        }

        foreach (var twice in columns.Where(c => c.Name != "read").GroupBy(c => c.Name).Where(g => g.Count() > 1))
            problems.Add(new(1, heads[twice.ElementAt(1).Index].Column, $"the column `{twice.Key}` is there twice", "remove one"));
        return columns;
    }

    private static Unit UnitOf(string symbol) => symbol switch { "mm" => Unit.Millimetre, "in" => Unit.Inch, _ => Unit.Gram };

    /// <summary>One row of the table, read.</summary>
    private sealed record Line(CsvCell At, string Id, ReadingDraft Draft, IReadOnlyList<string> Written, IReadOnlyList<double> Values, IReadOnlyList<double> Leaves)
    {
        public static Line Of(IReadOnlyList<CsvCell> cells, List<Column> columns, List<CsvProblem> problems)
        {
            if (cells.Count > columns.Count) problems.Add(new(cells[columns.Count].Line, cells[columns.Count].Column, "this row has more cells than there are columns", "quote texts with commas in them; write numbers with a decimal point"));
            CsvCell? Cell(string name) => columns.FirstOrDefault(c => c.Name == name) is { } column && column.Index < cells.Count ? cells[column.Index] : null;
            string Text(string name) => CsvText.Unguarded(Cell(name)?.Text ?? "").Trim();
            bool Yes(string name)
            {
                string said = Text(name).ToLowerInvariant();
                if (said is not ("" or "yes" or "no" or "true" or "false")) problems.Add(new(Cell(name)!.Value.Line, Cell(name)!.Value.Column, $"`{said}` is neither yes nor no", "write yes, or leave it empty"));
                return said is "yes" or "true";
            }

            int way = Array.IndexOf(Words, Text(ReadingsTable.Way).ToLowerInvariant());
            if (way < 0) problems.Add(new(Cell(ReadingsTable.Way)?.Line ?? cells[0].Line, Cell(ReadingsTable.Way)?.Column ?? 1, $"`{Text(ReadingsTable.Way)}` is no way of measuring", $"write {string.Join(", ", Words)}"));
            var draft = new ReadingDraft
            {
                Way = (DraftWay)Math.Max(0, way), First = Text(ReadingsTable.First), Second = Text(ReadingsTable.Second), Across = Text(ReadingsTable.Across).ToLowerInvariant(), Instrument = Text(ReadingsTable.Instrument),
                Worn = Yes(ReadingsTable.Worn), AcrossBreak = Yes(ReadingsTable.AcrossBreak), OnFragment = Text(ReadingsTable.Fragment), AtHeight = Text(ReadingsTable.Height), Density = Text(ReadingsTable.Density),
                Id = Text(ReadingsTable.Id),
            };
            if (draft.First.Length == 0) problems.Add(new(Cell(ReadingsTable.First)?.Line ?? cells[0].Line, Cell(ReadingsTable.First)?.Column ?? 1, "it does not say where it was read", "name an element, as socket.side"));

            var (written, values) = (new List<string>(), new List<double>());
            var leaves = new List<(string Written, double Mm)>();
            foreach (Column column in columns.Where(c => c.Unit is not null && c.Index < cells.Count && cells[c.Index].Text.Trim().Length > 0))
            {
                CsvCell cell = cells[column.Index];
                bool weighs = draft.Way == DraftWay.Weight, grams = column.Unit == Unit.Gram;
                string number = CsvText.Unguarded(cell.Text).Trim();
                if (column.Name == "read" && (draft.Way == DraftWay.RadiusGauge || grams != weighs))
                    problems.Add(new(cell.Line, cell.Column, $"a {ReadingsTable.Word(draft.Way)} is not read in {column.Unit!.Symbol}", "put it into the column of its unit"));
                else if (!QuantityText.TryRead(grams || column.Unit == Unit.Inch ? $"{number} {column.Unit!.Symbol}" : number, grams ? QuantityKind.Mass : QuantityKind.Length, out Quantity quantity, out Refusal? refusal))
                    problems.Add(new(cell.Line, cell.Column, refusal.Reason, refusal.Remedy));
                else if (quantity.Value <= 0)
                    problems.Add(new(cell.Line, cell.Column, $"{number} is nothing to measure", "leave the cell empty, or write what the display said"));
                else if (column.Name == "read") (written, values) = ([.. written, column.Unit == Unit.Millimetre ? number : $"{number} {column.Unit!.Symbol}"], [.. values, quantity.Value]);
                else leaves.Add((column.Unit == Unit.Millimetre ? number : $"{number} {column.Unit!.Symbol}", quantity.Value));
            }

            if (draft.Way == DraftWay.RadiusGauge && leaves.Count == 2) draft = draft with { BiggerThan = leaves[0].Written, SmallerThan = leaves[1].Written };
            else if (draft.Way == DraftWay.RadiusGauge) problems.Add(new(cells[0].Line, cells[0].Column, "it does not say between which leaves", $"fill {ReadingsTable.BiggerThan} and {ReadingsTable.SmallerThan}"));
            else if (written.Count == 0 && problems.All(p => p.Line != cells[0].Line)) problems.Add(new(cells[0].Line, cells[0].Column, "it does not say what the display said", "fill read 1"));
            return new(cells[0], draft.Id, draft, written, values, [.. leaves.Select(l => l.Mm)]);
        }
    }

    [GeneratedRegex(@"^read(?: [0-9]+)? \((?<unit>mm|in|g)\)$")]
    private static partial Regex ReadHead();

    [GeneratedRegex(@"^(?<which>bigger|smaller) than leaf \((?<unit>mm|in)\)$")]
    private static partial Regex LeafHead();
}
