using System.Globalization;
using System.Text;

namespace Sparewright.BlindRemakes;

/// <summary>Stated and actual coverage as a picture: on the line is honest, above it is cautious.</summary>
internal static class CoveragePicture
{
    private const double Left = 70, Top = 70, Side = 420, From = 0.5;

    private static readonly string[] Colours = ["#1f4e8c", "#b3541e", "#4d6b2f"];
    private static readonly string[] Dashes = ["none", "7 4", "2 3"];

    public static string Of(IReadOnlyList<Coverage> found)
    {
        var svg = new StringBuilder();
        void Line(FormattableString text) => svg.Append(text.ToString(CultureInfo.InvariantCulture)).Append('\n');
        Line($"<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 760 580\" width=\"760\" height=\"580\" font-family=\"sans-serif\" font-size=\"14\" fill=\"#222\">");
        Line($"<title>How often the ± hold the truth</title>");
        Line($"<rect width=\"760\" height=\"580\" fill=\"#fdfcf8\"/>");
        Line($"<text x=\"{Left}\" y=\"30\" font-size=\"18\">How often the ± hold the truth, beside how often they say so</text>");
        Line($"<text x=\"{Left}\" y=\"52\" fill=\"#555\">Parts drawn and measured blind, without mistakes; a dot is a family of parts at 95 %</text>");
        // Between 93 and 99 of 100 is what is asked for at 95.
        Line($"<rect x=\"{X(0.95) - 5}\" y=\"{Y(0.99)}\" width=\"10\" height=\"{Y(0.93) - Y(0.99)}\" fill=\"#cfe3cf\"/>");
        for (int percent = 50; percent <= 100; percent += 10)
        {
            double at = percent / 100.0;
            Line($"<path d=\"M{Left} {Y(at)}H{Left + Side}M{X(at)} {Top}V{Top + Side}\" stroke=\"#ddd\" fill=\"none\"/>");
            Line($"<text x=\"{Left - 8}\" y=\"{Y(at) + 5}\" text-anchor=\"end\">{percent}</text><text x=\"{X(at)}\" y=\"{Top + Side + 20}\" text-anchor=\"middle\">{percent}</text>");
        }

        Line($"<path d=\"M{X(From)} {Y(From)}L{X(1)} {Y(1)}\" stroke=\"#888\" stroke-width=\"1\"/>");
        Line($"<text x=\"{Left + Side / 2}\" y=\"{Top + Side + 44}\" text-anchor=\"middle\">stated, of 100</text>");
        Line($"<text transform=\"translate(22 {Top + Side / 2}) rotate(-90)\" text-anchor=\"middle\">held the truth, of 100</text>");
        foreach (var (k, coverage) in found.Index())
        {
            string points = string.Join(' ', Enumerable.Range(0, 50).Select(i => From + i * 0.01).Where(p => coverage.InFact(p) >= From).Select(p => string.Create(CultureInfo.InvariantCulture, $"{X(p):0.0},{Y(coverage.InFact(p)):0.0}")));
            Line($"<polyline points=\"{points}\" fill=\"none\" stroke=\"{Colours[k]}\" stroke-width=\"2.5\" stroke-dasharray=\"{Dashes[k]}\"/>");
            for (int family = 0; family < coverage.Off.Count; family++)
                Line($"<circle cx=\"{X(0.95)}\" cy=\"{Y(coverage.InFact(0.95, family))}\" r=\"3.5\" fill=\"{(k == 0 ? Colours[k] : "#fdfcf8")}\" stroke=\"{Colours[k]}\" stroke-width=\"1.5\"/>");
            double row = Top + 40 + 74 * k;
            string[] words = coverage.Caliper.Split(" that ");
            Line($"<path d=\"M{Left + Side + 16} {row - 5}h34\" stroke=\"{Colours[k]}\" stroke-width=\"2.5\" stroke-dasharray=\"{Dashes[k]}\"/>");
            foreach (var (line, text) in words.Index()) Line($"<text x=\"{Left + Side + 58}\" y=\"{row + 18 * line}\">{(line == 0 ? "" : "that ")}{text}</text>");
            Line($"<text x=\"{Left + Side + 58}\" y=\"{row + 18 * words.Length}\" fill=\"#555\">95 stated: {100 * coverage.InFact(0.95):0.0}</text>");
        }

        Line($"<rect x=\"{Left + Side + 28}\" y=\"{Top + 252}\" width=\"10\" height=\"22\" fill=\"#cfe3cf\"/><text x=\"{Left + Side + 58}\" y=\"{Top + 268}\">asked for: 93 to 99</text>");
        Line($"<path d=\"M{Left + Side + 16} {Top + 300}h34\" stroke=\"#888\"/><text x=\"{Left + Side + 58}\" y=\"{Top + 305}\">as stated</text>");
        svg.Append("</svg>\n");
        return svg.ToString();
    }

    private static double X(double share) => Left + Side * (share - From) / (1 - From);

    private static double Y(double share) => Top + Side * (1 - share) / (1 - From);
}
