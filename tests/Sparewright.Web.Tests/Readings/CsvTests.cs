using CsCheck;
using Sparewright.Measure.Quantities;
using Sparewright.Part;
using Sparewright.Part.Record;
using Sparewright.Web.Readings;
using Sparewright.Web.Readings.Csv;
using Xunit;

namespace Sparewright.Web.Tests.Readings;

public class CsvTests
{
    private static readonly Gen<string> Cells = Gen.OneOf(Gen.String, Gen.Char["ab \"',;=+-@\t\r\n0"].Array[0, 6].Select(c => new string(c)));

    public static TheoryData<string> Examples => [.. Jobs.Examples.Keys];

    /// <summary>Any table comes back as it was; RFC 4180 cannot tell a row of one empty cell from no row, so rows have two.</summary>
    [Fact]
    public void Any_table_comes_back() => Cells.Array[2, 4].Array[1, 5].Sample(rows =>
    {
        var read = CsvText.Read(CsvText.Write(rows.Select(r => (IReadOnlyList<string>)[.. r.Select(CsvText.Guarded)])), out CsvProblem? problem);
        return problem is null && read!.Count == rows.Length && read.Zip(rows).All(p => p.First.Select(c => CsvText.Unguarded(c.Text)).SequenceEqual(p.Second));
    });

    [Theory]
    [InlineData("=1+1")]
    [InlineData("+1")]
    [InlineData("-1")]
    [InlineData("@x")]
    [InlineData("\tx")]
    [InlineData("\rx")]
    [InlineData("'=x")]
    public void No_text_begins_like_a_formula(string text)
    {
        Assert.StartsWith("'", CsvText.Guarded(text), StringComparison.Ordinal);
        Assert.Equal(text, CsvText.Unguarded(CsvText.Guarded(text)));
    }

    [Theory]
    [InlineData("a,\"b\nc", 1, 3)]
    [InlineData("a,b\nc,d\"e", 2, 4)]
    [InlineData("a,b\n\"c\"x,d", 2, 4)]
    public void A_broken_table_is_refused_at_its_place(string table, int line, int column)
    {
        Assert.Null(CsvText.Read(table, out CsvProblem? problem));
        Assert.Equal((line, column), (problem!.Line, problem.Column));
    }

    [Fact]
    public void Line_ends_of_any_system_and_a_byte_order_mark_are_read()
    {
        foreach (string table in (string[])["a,b\r\nc,d\r\n", "a,b\nc,d", "\ufeffa,b\n\nc,d\n", "a,b\rc,d"])
            Assert.Equal([["a", "b"], ["c", "d"]], CsvText.Read(table, out _)!.Select(r => r.Select(c => c.Text)));
    }

    private static Job Read(string text) => JobFile.Read(text).Job!;

    [Theory]
    [MemberData(nameof(Examples))]
    public void What_is_saved_changes_nothing_when_it_is_taken_in(string name)
    {
        string text = Jobs.Examples[name];
        ReadingsImport plan = ReadingsImport.Plan(text, Read(text), ReadingsTable.Of(text, Read(text)));
        Assert.Empty(plan.Problems);
        Assert.Empty(plan.Changes);
        Assert.Equal(text, plan.Text);
    }

    /// <summary>The knuckle with readings of kinds that the table has no columns for, one of them in the midst of the others.</summary>
    private static string WithOtherKinds => Jobs.Examples["vent-knuckle"].ReplaceLineEndings("\n")
        .Replace("\nreadings:", "\nreadings:\n  - {id: corner, angle: [lug.front, lug.top], reads: [89.9, 90.1]}", StringComparison.Ordinal);

    [Fact]
    public void Readings_of_other_kinds_stay_in_the_text_when_a_table_goes_out_and_comes_in()
    {
        string text = WithOtherKinds;
        Job job = Read(text);
        string table = ReadingsTable.Of(text, job);
        Assert.DoesNotContain("corner", table, StringComparison.Ordinal);
        ReadingsImport plan = ReadingsImport.Plan(text, job, table);
        Assert.Empty(plan.Problems);
        Assert.Empty(plan.Changes);
    }

    [Fact]
    public async Task The_ledger_shows_readings_of_other_kinds_in_their_own_unit()
    {
        await using OpenShop shop = await OpenShop.WithAsync(WithOtherKinds);
        LedgerRow row = LedgerRow.All(shop.Desk.Live, LengthUnit.Inch, new RowKeys())[0];
        Assert.Equal(("corner", "angle of lug.front and lug.top", "89.9 90.1"), (row.Id, row.What, row.Repeats));
        Assert.StartsWith("90.00", row.Observed, StringComparison.Ordinal);
        Assert.StartsWith("90.00", row.Adjusted, StringComparison.Ordinal);
        Assert.False(row.IsInForm);
        Assert.Equal(RowTakes.Nothing, row.Takes);
    }

    [Theory]
    [MemberData(nameof(Examples))]
    public void Taken_into_a_job_without_readings_they_are_all_there(string name)
    {
        string text = Jobs.Examples[name], bare = text;
        Job job = Read(text);
        for (int k = job.Readings.Count - 1; k >= 0; k--) bare = JobText.Without(bare, $"readings/{k}").Text!;
        ReadingsImport plan = ReadingsImport.Plan(bare, Read(bare), ReadingsTable.Of(text, job));
        Assert.Empty(plan.Problems);
        Assert.Equal(job.Readings.Count, plan.Changes.Count(c => c.IsNew));
        Assert.Equal(ReadingsTable.Of(text, job), ReadingsTable.Of(plan.Text!, Read(plan.Text!)));
    }

    [Fact]
    public void A_table_changes_what_it_names_and_adds_what_is_new()
    {
        string text = Jobs.Examples["vent-knuckle"];
        ReadingsImport plan = ReadingsImport.Plan(text, Read(text), "id,way,first element,second element,read 1 (mm),read 2 (in)\r\nr1,outside,socket.side,,17.00,\r\n,inside,bore.wall,,,0.48\r\nlast,depth,socket.top,foot.top,48,\r\n");
        Assert.Empty(plan.Problems);
        Assert.Equal(["r1", "r27", "last"], plan.Changes.Select(c => c.Id));
        Job after = Read(plan.Text!);
        Assert.Equal([17.0], ((CaliperReading)after.Readings[0]).ReadsMm);
        Assert.Equal([12.192], ((CaliperReading)after.Readings[26]).ReadsMm);
        Assert.Contains("reads: 0.48 in", plan.Text, StringComparison.Ordinal);
        Assert.Equal("last", after.Readings[27].Id);
    }

    [Theory]
    [InlineData("", 1, 1, "empty")]
    [InlineData("id;way;first element\nr1;outside;socket.side", 1, 1, "semicolons")]
    [InlineData("id,first element,read 1 (mm)\nr1,socket.side,17", 1, 1, "no column `way`")]
    [InlineData("id,way,frist element,read 1 (mm)\nr1,outside,socket.side,17", 1, 8, "frist element")]
    [InlineData("id,way,first element,read 1\nr1,outside,socket.side,17", 1, 22, "unit")]
    [InlineData("id,way,first element,read 1 (mm)\nr1,outwards,socket.side,17", 2, 4, "no way of measuring")]
    [InlineData("id,way,first element,read 1 (mm)\nr1,outside,socket.side,\"17,01\"", 2, 24, "comma")]
    [InlineData("id,way,first element,read 1 (mm)\nr1,outside,socket.side,17,01", 2, 27, "more cells")]
    [InlineData("id,way,first element,read 1 (mm)\nr1,outside,socket.side,-17", 2, 24, "nothing to measure")]
    [InlineData("id,way,first element,read 1 (mm)\nr1,outside,socket.side,", 2, 1, "display said")]
    [InlineData("id,way,first element,read 1 (mm)\nr1,outside,,17", 2, 12, "where")]
    [InlineData("id,way,first element,read 1 (mm)\nr1,outside,nowhere.side,17", 2, 1, "nowhere")]
    [InlineData("id,way,first element,read 1 (mm)\nr1,outside,socket.sidle,17", 2, 1, "socket.sidle")]
    [InlineData("id,way,first element,read 1 (mm)\nr1,inside,socket.side,17", 2, 1, "bulges")]
    [InlineData("id,way,first element,read 1 (mm)\nr1,outside,socket.side,17\nr1,outside,socket.side,17", 3, 1, "twice")]
    [InlineData("id,way,first element,worn,read 1 (mm)\nr1,outside,socket.side,maybe,17", 2, 24, "neither yes nor no")]
    [InlineData("id,way,first element,read 1 (g)\nr1,outside,socket.side,17", 2, 24, "not read in g")]
    public void What_cannot_be_taken_in_is_told_with_line_and_column(string table, int line, int column, string what)
    {
        string text = Jobs.Examples["vent-knuckle"];
        ReadingsImport plan = ReadingsImport.Plan(text, Read(text), table);
        Assert.Null(plan.Text);
        CsvProblem problem = plan.Problems[0];
        Assert.Equal((line, column), (problem.Line, problem.Column));
        Assert.Contains(what, problem.What, StringComparison.Ordinal);
        Assert.NotEmpty(problem.Remedy);
    }

    [Fact]
    public void Any_table_is_planned_or_refused() => Gen.Select(Gen.Bool.Select(b => b ? "id,way,first element,read 1 (mm)\r\n" : ""), Cells.Array[1, 5].Array[0, 4]).Sample((head, rows) =>
    {
        string text = Jobs.Examples["vent-knuckle"];
        ReadingsImport plan = ReadingsImport.Plan(text, Read(text), head + CsvText.Write(rows.Select(r => (IReadOnlyList<string>)r)));
        return plan.Text is null == plan.Problems.Count > 0;
    }, iter: 200);
}
