using System.Globalization;
using System.Text;
using Sparewright.Strength.Materials;
using Xunit;

namespace Sparewright.Strength.Tests.Materials;

/// <summary>The page on strength shows the table of materials as it is. To write it anew, run this once with SPAREWRIGHT_WRITE_REFERENCE=1.</summary>
public class MaterialReferenceTests
{
    private const string Begin = "<!-- From here to the next heading made from the table of materials; a test keeps it true. -->\n", End = "## Test bars of your own\n";

    [Fact]
    public void The_page_has_every_value_of_every_material_with_its_source()
    {
        string path = Path.Combine(Bench.Root, "docs", "reference", "strength.md"), text = File.ReadAllText(path);
        int from = text.IndexOf(Begin, StringComparison.Ordinal) + Begin.Length, to = text.IndexOf(End, StringComparison.Ordinal);
        Assert.InRange(from, Begin.Length, to);
        string whole = text[..from] + "\n" + Tables() + "\n" + text[to..];
        if (Environment.GetEnvironmentVariable("SPAREWRIGHT_WRITE_REFERENCE") == "1") File.WriteAllText(path, whole);
        Assert.Equal(whole, File.ReadAllText(path));
    }

    private static string Tables()
    {
        MaterialTable table = MaterialTable.Published;
        var text = new StringBuilder("| material | what | value | known | from |\n|---|---|---|---|---|\n");
        foreach (var (name, moulded) in new[] { ("any", false), ("any", true) }.Concat(table.PrintedNames.Select(n => (n, false))).Concat(table.MouldedNames.Select(n => (n, true))))
            foreach (var (what, value) in table.ValuesOf(name, moulded))
                text.Append(CultureInfo.InvariantCulture, $"| {name}{(moulded ? ", moulded" : ", printed")} | {what.Replace('_', ' ')} | {value.Value:0.####} | {Known(value.Status)} | {value.Source} |\n");
        return text.ToString();
    }

    private static string Known(Status status) => status switch { Status.Read => "read", Status.Memory => "from memory", _ => "assumed" };
}
