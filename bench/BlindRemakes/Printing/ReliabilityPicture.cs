using System.Globalization;
using System.Text;

namespace Sparewright.BlindRemakes.Printing;

/// <summary>Stated odds and what came of them as a picture: on the line is honest, above it is cautious.</summary>
internal static class ReliabilityPicture
{
    private const double Left = 70, Top = 84, Side = 420, WithinPoints = 0.03;

    private static readonly string[] Colours = ["#555555", "#1f4e8c", "#b3541e", "#2e7d4f"];
    private static readonly string[] Dashes = ["2 3", "none", "8 4", "12 3 2 3"];

    /// <param name="together">Of all families: a line each, with a disc for each bin.</param>
    /// <param name="heldOut">Of those alone that nobody looked at: rings.</param>
    public static string Of(IReadOnlyList<Reliability> together, IReadOnlyList<Reliability> heldOut)
    {
        var svg = new StringBuilder();
        void Line(FormattableString text) => svg.Append(text.ToString(CultureInfo.InvariantCulture)).Append('\n');
        Line($"<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 820 580\" width=\"820\" height=\"580\" font-family=\"sans-serif\" font-size=\"14\" fill=\"#222\">");
        Line($"<title>How often what was said to fit did fit</title>");
        Line($"<rect width=\"820\" height=\"580\" fill=\"#fdfcf8\"/>");
        Line($"<text x=\"{Left}\" y=\"30\" font-size=\"18\">How often what was said to fit did fit</text>");
        Line($"<text x=\"{Left}\" y=\"52\" fill=\"#555\">Hidden printers, virtual prints; each mark stands for {Reliability.LeastCases} cases or more,</text>");
        Line($"<text x=\"{Left}\" y=\"70\" fill=\"#555\">rings for printers and parts that were held out. Above the line: more fits than was said.</text>");
        Line($"<path d=\"M{X(0)} {Y(WithinPoints)}L{X(1 - WithinPoints)} {Y(1)}H{X(1)}V{Y(1 - WithinPoints)}L{X(WithinPoints)} {Y(0)}H{X(0)}Z\" fill=\"#cfe3cf\"/>");
        for (int percent = 0; percent <= 100; percent += 20)
        {
            double at = percent / 100.0;
            Line($"<path d=\"M{Left} {Y(at)}H{Left + Side}M{X(at)} {Top}V{Top + Side}\" stroke=\"#ddd\" fill=\"none\"/>");
            Line($"<text x=\"{Left - 8}\" y=\"{Y(at) + 5}\" text-anchor=\"end\">{percent}</text><text x=\"{X(at)}\" y=\"{Top + Side + 20}\" text-anchor=\"middle\">{percent}</text>");
        }

        Line($"<path d=\"M{X(0)} {Y(0)}L{X(1)} {Y(1)}\" stroke=\"#888\"/>");
        Line($"<text x=\"{Left + Side / 2}\" y=\"{Top + Side + 44}\" text-anchor=\"middle\">stated odds, of 100</text>");
        Line($"<text transform=\"translate(22 {Top + Side / 2}) rotate(-90)\" text-anchor=\"middle\">did fit, of 100</text>");
        foreach (var (k, one) in together.Index())
        {
            string points = string.Join(' ', one.Bins.Select(b => string.Create(CultureInfo.InvariantCulture, $"{X(b.Stated):0.0},{Y(b.InFact):0.0}")));
            Line($"<polyline points=\"{points}\" fill=\"none\" stroke=\"{Colours[k]}\" stroke-width=\"2\" stroke-dasharray=\"{Dashes[k]}\"/>");
            foreach (Bin bin in one.Bins) Line($"<circle cx=\"{X(bin.Stated):0.0}\" cy=\"{Y(bin.InFact):0.0}\" r=\"4\" fill=\"{Colours[k]}\"/>");
            foreach (Bin bin in heldOut[k].Bins.Where(b => b.Cases >= Reliability.LeastCases)) Line($"<circle cx=\"{X(bin.Stated):0.0}\" cy=\"{Y(bin.InFact):0.0}\" r=\"5\" fill=\"none\" stroke=\"{Colours[k]}\" stroke-width=\"2\"/>");
            double row = Top + 30 + 52 * k;
            Line($"<path d=\"M{Left + Side + 16} {row - 5}h40\" stroke=\"{Colours[k]}\" stroke-width=\"2\" stroke-dasharray=\"{Dashes[k]}\"/><circle cx=\"{Left + Side + 36}\" cy=\"{row - 5}\" r=\"4\" fill=\"{Colours[k]}\"/>");
            Line($"<text x=\"{Left + Side + 64}\" y=\"{row}\">{one.Name}</text><text x=\"{Left + Side + 64}\" y=\"{row + 18}\" fill=\"#555\">farthest off: {100 * one.Worst.Off:+0.0;−0.0} points</text>");
        }

        Line($"<rect x=\"{Left + Side + 26}\" y=\"{Top + 232}\" width=\"20\" height=\"14\" fill=\"#cfe3cf\"/><text x=\"{Left + Side + 64}\" y=\"{Top + 244}\">within 3 points</text>");
        svg.Append("</svg>\n");
        return svg.ToString();
    }

    private static double X(double share) => Left + Side * share;

    private static double Y(double share) => Top + Side * (1 - share);
}
