using System.Globalization;
using Sparewright.Fit.Capability;
using Sparewright.Fit.Odds;

namespace Sparewright.Fit.Drawn;

/// <summary>Why a size is drawn otherwise, in one line: which counterparts ask for it, and what the printer does to the surfaces that it draws.</summary>
public static class ChangeWords
{
    /// <param name="fit">The case at the sizes as they are drawn now.</param>
    public static string Of(FitCase fit, string size)
    {
        FitCondition[] asking = [.. fit.Conditions.Where(c => c.Lengths.Any(l => l.Printed.Any(p => p.PerSize.ContainsKey(size))))];
        PrintedSize[] drawn = [.. asking.SelectMany(c => c.Lengths).SelectMany(l => l.Printed).Where(p => p.PerSize.ContainsKey(size)).DistinctBy(p => p.Kind)];
        return string.Join("; ", [.. asking.Select(Wants), .. drawn.Select(p => Printer(fit.Process, p))]);
    }

    private static string Wants(FitCondition condition) => condition switch
    {
        OneClearance one => $"{one.Name} wants {Window(one.Window)} of clearance ({one.Window.Why})",
        FastenersInLine row => $"{row.Name} must go into every hole of the row, each with {Window(row.Window)} of clearance ({row.Window.Why})",
        FastenersInPlane plane => $"{plane.Name} must go into every hole at once, each with {Window(plane.Window)} of clearance ({plane.Window.Why})",
        _ => condition.Name,
    };

    private static string Printer(ProcessCapability process, PrintedSize printed)
    {
        KindCapability kind = process[printed.Kind];
        NormalLength bias = kind.Bias(printed.DrawnMm);
        string by = kind.Status == CapabilityStatus.Measured
            ? string.Create(CultureInfo.InvariantCulture, $"measured, last on {kind.Evidence.Max(e => e.On):yyyy-MM-dd}")
            : "assumed of printers in general, not measured on this one";
        string larger = bias.MeanMm < 0 ? "smaller" : "larger";
        return string.Create(CultureInfo.InvariantCulture, $"{printed.Kind.Words()} of this size comes out {Math.Abs(bias.MeanMm):0.00} mm {larger} ± {bias.StandardDeviationMm:0.00} ({by})");
    }

    private static string Window(ClearanceWindow window) => (double.IsFinite(window.LowMm), double.IsFinite(window.HighMm)) switch
    {
        (true, true) => string.Create(CultureInfo.InvariantCulture, $"{window.LowMm:0.00} to {window.HighMm:0.00} mm"),
        (true, false) => string.Create(CultureInfo.InvariantCulture, $"{window.LowMm:0.00} mm or more"),
        (false, true) => string.Create(CultureInfo.InvariantCulture, $"{window.HighMm:0.00} mm or less"),
        _ => "any",
    };
}
