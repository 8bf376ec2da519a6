using System.Globalization;
using System.Security;
using System.Text;
using Sparewright.Solid;

namespace Sparewright.Web.Data;

/// <summary>
/// A drawn view as SVG: visible edges and outlines wide, hidden ones dashed and narrow (ISO 128-2), in mm at 1:1, the job's origin at 0, 0.
/// Attributes say how it looks on its own; a page that takes it in may say otherwise by the classes.
/// </summary>
internal static class ViewSvg
{
    private const double MarginMm = 3;

    public static string Of(DrawnView view, string title)
    {
        double lowX = double.PositiveInfinity, lowY = lowX, highX = double.NegativeInfinity, highY = highX;
        foreach (DrawnLine line in view.Lines)
            for (int k = 0; k < line.Points.Length; k += 2)
            {
                (lowX, highX) = (Math.Min(lowX, line.Points[k]), Math.Max(highX, line.Points[k]));
                (lowY, highY) = (Math.Min(lowY, line.Points[k + 1]), Math.Max(highY, line.Points[k + 1]));
            }

        if (view.Lines.Count == 0) (lowX, lowY, highX, highY) = (0, 0, 0, 0);
        double width = highX - lowX + 2 * MarginMm, height = highY - lowY + 2 * MarginMm;
        var svg = new StringBuilder();
        svg.Append(CultureInfo.InvariantCulture, $"<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width:0.###}mm\" height=\"{height:0.###}mm\" viewBox=\"{lowX - MarginMm:0.###} {-highY - MarginMm:0.###} {width:0.###} {height:0.###}\" fill=\"none\" stroke=\"#1f3150\" stroke-linecap=\"round\" stroke-linejoin=\"round\">");
        svg.Append(CultureInfo.InvariantCulture, $"<title>{SecurityElement.Escape(title)}</title>");
        Path("hidden", view.Lines.Where(l => l.Hidden), "stroke-width=\"1\" stroke-dasharray=\"5 3\" opacity=\"0.7\"");
        Path("smooth", view.Lines.Where(l => !l.Hidden && l.Kind == LineKind.Smooth), "stroke-width=\"0.8\" opacity=\"0.55\"");
        Path("visible", view.Lines.Where(l => !l.Hidden && l.Kind != LineKind.Smooth), "stroke-width=\"1.8\"");
        return svg.Append("</svg>").ToString();

        void Path(string kind, IEnumerable<DrawnLine> lines, string look)
        {
            var d = new StringBuilder();
            foreach (DrawnLine line in lines)
                for (int k = 0; k < line.Points.Length; k += 2)
                    d.Append(CultureInfo.InvariantCulture, $"{(k == 0 ? 'M' : 'L')}{line.Points[k]:0.###} {-line.Points[k + 1]:0.###}");
            if (d.Length > 0) svg.Append(CultureInfo.InvariantCulture, $"<path class=\"{kind}\" vector-effect=\"non-scaling-stroke\" {look} d=\"{d}\"/>");
        }
    }
}
