using System.Globalization;
using Sparewright.Fit;
using Sparewright.Fit.Counterparts;
using Sparewright.Fit.Drawn;
using Sparewright.Fit.Odds;
using Sparewright.Measure.Quantities;
using Sparewright.Part.Record;
using Sparewright.Remake.Fits;

namespace Sparewright.Web.Fit;

/// <summary>What was found of a fit, in the words and the unit of one window. ± holds in 95 of 100 cases.</summary>
public static class FitText
{
    /// <summary>Odds in a word, for whoever does not think in hundredths.</summary>
    public static string Word(double odds) => odds switch
    {
        >= 0.95 => "as good as certain",
        >= 0.8 => "likely",
        >= 0.6 => "more likely than not",
        >= 0.4 => "it may or may not",
        >= 0.2 => "unlikely",
        _ => "hardly",
    };

    /// <summary>"0.34 ±0.29 mm".</summary>
    public static string WithPlusMinus(double mm, double plusMinusMm, LengthUnit unit) =>
        plusMinusMm > 0 ? $"{Signed(LengthsShown.Meaning(mm, plusMinusMm, unit))} {LengthsShown.PlusMinus(plusMinusMm, unit)} {unit.Symbol()}" : $"{Signed(LengthsShown.Display(mm, unit))} {unit.Symbol()}";

    public static string WithPlusMinus(NormalLength length, LengthUnit unit) => WithPlusMinus(length.MeanMm, (length.High95Mm - length.Low95Mm) / 2, unit);

    /// <summary>"−0.05 to 0.63 mm".</summary>
    public static string Span(double lowMm, double highMm, LengthUnit unit) => $"{Signed(LengthsShown.Display(lowMm, unit))} to {Signed(LengthsShown.Display(highMm, unit))} {unit.Symbol()}";

    /// <summary>"22 min and 3.6 g", no figure parted from its unit.</summary>
    public static string Takes(Cure cure) => FitWords.Takes(cure).Replace(" min", "\u00a0min", StringComparison.Ordinal).Replace(" g", "\u00a0g", StringComparison.Ordinal);

    /// <summary>"0.15 to 0.50 mm (slides)", with the open side of a window in words.</summary>
    public static string Window(ClearanceWindow window, LengthUnit unit)
    {
        string span = (double.IsFinite(window.LowMm), double.IsFinite(window.HighMm)) switch
        {
            (true, true) => Span(window.LowMm, window.HighMm, unit),
            (true, false) => $"{Signed(LengthsShown.Display(window.LowMm, unit))} {unit.Symbol()} or more",
            (false, true) => $"{Signed(LengthsShown.Display(window.HighMm, unit))} {unit.Symbol()} or less",
            _ => "any",
        };
        return $"{span} ({window.Why.Split(':')[0]})";
    }

    /// <summary>The counterpart's own size, or how far its holes are apart, and how that is known.</summary>
    public static string Itself(MetCounterpart met, LengthUnit unit)
    {
        OwnLength own = met.Pitch ?? met.Own!;
        // How it is known stands behind its length, which is shown in this window's unit.
        string[] words = own.Words.Split(", ", 2);
        string from = words is [[>= '0' and <= '9', ..], var behind] ? behind : own.Words;
        return $"{WithPlusMinus(own.Length, unit)}{(met.Pitch is null ? "" : " apart")}; {from}";
    }

    /// <summary>"bore.wall", or how many holes.</summary>
    public static string Meets(MetCounterpart met) =>
        met.Surfaces.Count == 1 ? met.Surfaces[0].Name : $"{met.Surfaces[0].Name} and {(met.Surfaces.Count - 1).ToString(CultureInfo.InvariantCulture)} more";

    /// <summary>What is to be expected of the print.</summary>
    public static string Expected(ExpectedFit fit, LengthUnit unit) =>
        $"{(fit.Met.Pitch is null ? "" : "off by ")}{WithPlusMinus(fit.Clearance.MeanMm, (fit.High95Mm - fit.Low95Mm) / 2, unit)}; in 95 of 100 prints {Span(fit.Low95Mm, fit.High95Mm, unit)}";

    /// <summary>The measured size, the drawn one, and the difference: "12.19 → 12.52 mm (+0.33 mm)".</summary>
    public static string Change(SizeChange change, FoundFits found, LengthUnit unit)
    {
        double before = found.Reconciled.Shape.Sizes[change.Size].Value;
        return $"{LengthsShown.Display(before, unit)} → {LengthsShown.Display(before + change.ByMm, unit)} {unit.Symbol()} ({LengthsShown.Difference(change.ByMm, null, unit)} {unit.Symbol()})";
    }

    /// <summary>A real minus, so that it can be told from a dash.</summary>
    internal static string Signed(string number) => number.Replace('-', '−');

    /// <summary>"rod stay".</summary>
    public static string Name(ExpectedFit fit) => $"{fit.Met.Counterpart.Kind.Name()} {fit.Name}";
}
