using System.Globalization;

namespace Sparewright.Reconcile.Findings;

/// <summary>Odds as people read them.</summary>
public static class OddsInWords
{
    /// <summary>In hundredths; never 0 or 100 of a hundred for what is not certain.</summary>
    public static string Percent(double odds) => odds switch
    {
        > 0.9995 => "over 99.9 %",
        > 0.99 or < 0.01 => string.Create(CultureInfo.InvariantCulture, $"{100 * Math.Max(odds, 0.001):0.0} %"),
        _ => string.Create(CultureInfo.InvariantCulture, $"{100 * odds:0} %"),
    };
}
