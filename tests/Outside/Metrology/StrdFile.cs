using System.Globalization;

namespace Sparewright.Outside.Metrology;

/// <summary>One data file of the NIST Statistical Reference Datasets, nonlinear regression, as printed.</summary>
internal sealed record StrdFile(
    double[][] Starts, double[] Certified, double[] CertifiedDeviation, double ResidualSumOfSquares, double ResidualDeviation, int PrintedDegreesOfFreedom, double[][] Rows)
{
    public static StrdFile Read(string name)
    {
        string[] lines = File.ReadAllLines(Path.Combine(AppContext.BaseDirectory, "data", "strd", name + ".dat"));
        var parameters = lines
            .Select(line => line.Split([' ', '='], StringSplitOptions.RemoveEmptyEntries))
            .Where(words => words.Length == 5 && words[0].Length is 2 && words[0][0] == 'b' && char.IsAsciiDigit(words[0][1]))
            .Select(words => words[1..].Select(Number).ToArray()).ToList();
        int data = Array.FindLastIndex(lines, line => line.StartsWith("Data:", StringComparison.Ordinal));
        return new(
            [[.. parameters.Select(p => p[0])], [.. parameters.Select(p => p[1])]],
            [.. parameters.Select(p => p[2])],
            [.. parameters.Select(p => p[3])],
            Behind("Residual Sum of Squares:"), Behind("Residual Standard Deviation:"), (int)Behind("Degrees of Freedom:"),
            [.. lines[(data + 1)..].Where(line => line.Trim().Length > 0).Select(line => line.Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(Number).ToArray())]);

        double Behind(string label) => Number(lines.Single(line => line.StartsWith(label, StringComparison.Ordinal))[label.Length..]);
    }

    private static double Number(string text) => double.Parse(text.Trim(), CultureInfo.InvariantCulture);
}
