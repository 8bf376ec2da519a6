using System.Globalization;
using System.Text;
using Sparewright.Fit;
using Sparewright.Remake.Fits;

namespace Sparewright.Web.Fit;

/// <summary>The clearance to be expected, as a curve over a scale in mm, in the units of a picture: how likely each clearance is, and where the counterpart goes.</summary>
/// <param name="Expected">Drawn as a normal distribution of this mean and standard deviation.</param>
/// <param name="Window">Null where the fit has no window of its own.</param>
public sealed record Bell(NormalLength Expected, double Low95Mm, double High95Mm, ClearanceWindow? Window)
{
    public const int Width = 320, Base = 92, Top = 17;
    private const int Points = 80;

    /// <summary>Beyond so many standard deviations nothing of the curve can be seen.</summary>
    private const double Reach = 3;

    public static Bell Of(ExpectedFit fit) => new(fit.Clearance, fit.Low95Mm, fit.High95Mm, fit.Met.Window);

    /// <summary>What the scale shows: the curve, and each end of the window with room for its figure.</summary>
    public (double LowMm, double HighMm) Scale
    {
        get
        {
            double spread = Math.Max(Expected.StandardDeviationMm, 1e-3);
            double low = Math.Min(Expected.MeanMm - Reach * spread, double.IsFinite(Window?.LowMm ?? double.NaN) ? Window!.LowMm : double.PositiveInfinity);
            double high = Math.Max(Expected.MeanMm + Reach * spread, double.IsFinite(Window?.HighMm ?? double.NaN) ? Window!.HighMm : double.NegativeInfinity);
            double room = 0.14 * (high - low);
            return (low - room, high + room);
        }
    }

    /// <summary>Where the window stands in the picture; open sides reach its edge.</summary>
    public (double Left, double Right)? Goes => Window is { } window ? (Math.Clamp(X(window.LowMm), 0, Width), Math.Clamp(X(window.HighMm), 0, Width)) : null;

    public double X(double mm) => double.IsInfinity(mm) ? (mm < 0 ? 0 : Width) : (mm - Scale.LowMm) / (Scale.HighMm - Scale.LowMm) * Width;

    /// <summary>The whole curve.</summary>
    public string Line => Path(0, Width);

    /// <summary>What lies under the curve between two places of the picture, closed along the scale.</summary>
    public string Area(double left, double right) => $"{Path(left, right)} L{N(right)} {Base} L{N(left)} {Base} Z";

    private string Path(double left, double right)
    {
        var path = new StringBuilder();
        var (low, high) = Scale;
        for (int k = 0; k <= Points; k++)
        {
            double x = left + (right - left) * k / Points, mm = low + x / Width * (high - low);
            double z = (mm - Expected.MeanMm) / Math.Max(Expected.StandardDeviationMm, 1e-3);
            path.Append(k == 0 ? "M" : " L").Append(N(x)).Append(' ').Append(N(Base - (Base - Top) * Math.Exp(-z * z / 2)));
        }

        return path.ToString();
    }

    /// <summary>A number as pictures write it.</summary>
    public static string N(double value) => value.ToString("0.##", CultureInfo.InvariantCulture);
}
