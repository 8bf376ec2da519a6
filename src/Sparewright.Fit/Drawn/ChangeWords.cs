using System.Globalization;
using Sparewright.Fit.Capability;
using Sparewright.Fit.Odds;
using Sparewright.Measure.Quantities;

namespace Sparewright.Fit.Drawn;

/// <summary>Why something is drawn otherwise, in one line: which counterparts ask for it, and what the printer does to the surfaces that it draws.</summary>
public static class ChangeWords
{
    /// <param name="fit">The case at the sizes as they are drawn now.</param>
    /// <param name="inches">Lengths in inches; otherwise in mm.</param>
    public static string Of(FitCase fit, string size, bool inches = false)
    {
        FitCondition[] asking = [.. fit.Conditions.Where(c => c.Lengths.Any(l => l.Printed.Any(p => p.PerSize.ContainsKey(size))))];
        PrintedSize[] drawn = [.. asking.SelectMany(c => c.Lengths).SelectMany(l => l.Printed).Where(p => p.PerSize.ContainsKey(size)).DistinctBy(p => p.Kind)];
        return string.Join("; ", [.. asking.Select(a => Wants(a, inches)), .. drawn.Select(p => Printer(fit.Process, p, inches))]);
    }

    /// <summary>Why a size is drawn otherwise that no fit decides: what the printer does to the surfaces that it draws, or that lengths shrink.</summary>
    /// <param name="others">Of which it is one of the changes.</param>
    public static string Of(ProcessCapability process, OtherSizes others, string size, bool inches = false) => others.Scaled.Any(c => c.Size == size)
        ? string.Create(CultureInfo.InvariantCulture, $"lengths in the plane of the layers come out {100 * Math.Abs(1 - 1 / others.Scale.Factor):0.00} % {(others.Scale.Factor > 1 ? "shorter" : "longer")} ± {100 * 1.96 * others.Scale.Uncertainty:0.00} % (measured)")
        : string.Join("; ", others.Wanted.Where(w => w.Printed.PerSize.ContainsKey(size)).DistinctBy(w => w.Printed.Kind).Select(w => $"{w.Name}: {Printer(process, w.Printed, inches)}"));

    /// <summary>Why an edge on the bed is bevelled.</summary>
    public static string Of(RelievedEdge edge, bool inches = false)
    {
        NormalLength flare = edge.Relief.FlareMm;
        string by = edge.Relief.Status == CapabilityStatus.Measured ? "measured" : "assumed of printers in general, not measured on this one";
        return $"the first layers stand out {Length(flare.MeanMm, inches)} ± {Number((flare.High95Mm - flare.Low95Mm) / 2, inches)} further on each side than those above ({by}), and {edge.Counterpart} is to pass there";
    }

    private static string Wants(FitCondition condition, bool inches) => condition switch
    {
        OneClearance one => $"{one.Name} wants {Window(one.Window, inches)} of clearance ({one.Window.Why})",
        FastenersInLine row => $"{row.Name} must go into every hole of the row, each with {Window(row.Window, inches)} of clearance ({row.Window.Why})",
        FastenersInPlane plane => $"{plane.Name} must go into every hole at once, each with {Window(plane.Window, inches)} of clearance ({plane.Window.Why})",
        _ => condition.Name,
    };

    private static string Printer(ProcessCapability process, PrintedSize printed, bool inches)
    {
        KindCapability kind = process[printed.Kind];
        NormalLength bias = kind.Bias(printed.DrawnMm);
        string by = kind.Status == CapabilityStatus.Measured
            ? string.Create(CultureInfo.InvariantCulture, $"measured, last on {kind.Evidence.Max(e => e.On):yyyy-MM-dd}")
            : "assumed of printers in general, not measured on this one";
        string larger = bias.MeanMm < 0 ? "smaller" : "larger";
        return $"{printed.Kind.Words()} of this size comes out {Length(Math.Abs(bias.MeanMm), inches)} {larger} ± {Number((bias.High95Mm - bias.Low95Mm) / 2, inches)} ({by}){(kind.Prior.LayerMm > 0 ? $", in whole layers of {Length(kind.Prior.LayerMm, inches)}" : "")}";
    }

    private static string Window(ClearanceWindow window, bool inches) => (double.IsFinite(window.LowMm), double.IsFinite(window.HighMm)) switch
    {
        (true, true) => $"{Number(window.LowMm, inches)} to {Length(window.HighMm, inches)}",
        (true, false) => $"{Length(window.LowMm, inches)} or more",
        (false, true) => $"{Length(window.HighMm, inches)} or less",
        _ => "any",
    };

    private static string Length(double mm, bool inches) => Number(mm, inches) + (inches ? " in" : " mm");

    private static string Number(double mm, bool inches) => inches ? string.Create(CultureInfo.InvariantCulture, $"{mm / Unit.Inch.Size:0.0000}") : string.Create(CultureInfo.InvariantCulture, $"{mm:0.00}");
}
