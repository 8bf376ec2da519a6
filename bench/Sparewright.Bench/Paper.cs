using System.Globalization;

namespace Sparewright.Bench;

/// <summary>Writes the figures as Markdown; what is under way goes to standard error.</summary>
internal static class Paper
{
    public static void Heading(string text) => Console.WriteLine($"\n## {text}\n");

    public static void Words(string text) => Console.WriteLine($"{text}\n");

    public static void Table(string[] head, IEnumerable<string[]> rows)
    {
        Row(head);
        Row([.. head.Select((_, k) => k == 0 ? "---" : "--:")]);
        foreach (string[] row in rows) Row(row);
        Console.WriteLine();
    }

    public static void UnderWay(string what) => Console.Error.WriteLine(what);

    public static string Ms(double ms) => ms.ToString(ms < 10 ? "0.00" : ms < 100 ? "0.0" : "0", CultureInfo.InvariantCulture);

    public static string Ratio(double ratio) => ratio.ToString("0.00", CultureInfo.InvariantCulture);

    private static void Row(string[] cells) => Console.WriteLine($"| {string.Join(" | ", cells)} |");
}
