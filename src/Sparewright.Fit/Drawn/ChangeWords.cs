using System.Globalization;
using Sparewright.Fit.Capability;
using Sparewright.Fit.Odds;
using Sparewright.Measure.Quantities;

namespace Sparewright.Fit.Drawn;

/// <summary>Why something is drawn otherwise, in one line: which counterparts ask for it, and what the printer does to the surfaces that it draws.</summary>
public static class ChangeWords
{
    /// <param name="fit">The case at the sizes as they are drawn now.</param>
    /// <param name="unit">In which lengths are told.</param>
    public static string Of(FitCase fit, string size, LengthUnit unit = default)
    {
        FitCondition[] asking = [.. fit.Conditions.Where(c => c.Lengths.Any(l => l.Printed.Any(p => p.PerSize.ContainsKey(size))))];
        PrintedSize[] drawn = [.. asking.SelectMany(c => c.Lengths).SelectMany(l => l.Printed).Where(p => p.PerSize.ContainsKey(size)).DistinctBy(p => p.Kind)];
        return string.Join("; ", [.. asking.Select(a => Wants(a, unit)), .. drawn.Select(p => Printer(fit.Process, p, unit))]);
    }

    /// <summary>Why a size is drawn otherwise that no fit decides: what the printer does to the surfaces that it draws, or that lengths shrink.</summary>
    /// <param name="others">Of which it is one of the changes.</param>
    public static string Of(ProcessCapability process, OtherSizes others, string size, LengthUnit unit = default) => others.Scaled.Any(c => c.Size == size)
        ? string.Create(CultureInfo.InvariantCulture, $"lengths in the plane of the layers come out {100 * Math.Abs(1 - 1 / others.Scale.Factor):0.00} % {(others.Scale.Factor > 1 ? "shorter" : "longer")} ± {100 * 1.96 * others.Scale.Uncertainty:0.00} % (measured)")
        : string.Join("; ", others.Wanted.Where(w => w.Printed.PerSize.ContainsKey(size)).DistinctBy(w => w.Printed.Kind).Select(w => $"{w.Name}: {Printer(process, w.Printed, unit)}"));

    /// <summary>Why an edge on the bed is bevelled.</summary>
    public static string Of(RelievedEdge edge, LengthUnit unit = default)
    {
        NormalLength flare = edge.Relief.FlareMm;
        string by = edge.Relief.Status == CapabilityStatus.Measured ? "measured" : "assumed of printers in general, not measured on this one";
        return $"the first layers stand out {LengthsShown.WithUnit(flare.MeanMm, unit)} ± {LengthsShown.Display((flare.High95Mm - flare.Low95Mm) / 2, unit)} further on each side than those above ({by}), and {edge.Counterpart} is to pass there";
    }

    private static string Wants(FitCondition condition, LengthUnit unit) => condition switch
    {
        OneClearance one => $"{one.Name} wants {Window(one.Window, unit)} of clearance ({one.Window.Why})",
        FastenersInLine row => $"{row.Name} must go into every hole of the row, each with {Window(row.Window, unit)} of clearance ({row.Window.Why})",
        FastenersInPlane plane => $"{plane.Name} must go into every hole at once, each with {Window(plane.Window, unit)} of clearance ({plane.Window.Why})",
        _ => condition.Name,
    };

    private static string Printer(ProcessCapability process, PrintedSize printed, LengthUnit unit)
    {
        KindCapability kind = process[printed.Kind];
        NormalLength bias = kind.Bias(printed.DrawnMm);
        string by = kind.Status == CapabilityStatus.Measured
            ? string.Create(CultureInfo.InvariantCulture, $"measured, last on {kind.Evidence.Max(e => e.On):yyyy-MM-dd}")
            : "assumed of printers in general, not measured on this one";
        string larger = bias.MeanMm < 0 ? "smaller" : "larger";
        return $"{printed.Kind.Words()} of this size comes out {LengthsShown.WithUnit(Math.Abs(bias.MeanMm), unit)} {larger} ± {LengthsShown.Display((bias.High95Mm - bias.Low95Mm) / 2, unit)} ({by}){(kind.Prior.LayerMm > 0 ? $", in whole layers of {LengthsShown.WithUnit(kind.Prior.LayerMm, unit)}" : "")}";
    }

    private static string Window(ClearanceWindow window, LengthUnit unit) => (double.IsFinite(window.LowMm), double.IsFinite(window.HighMm)) switch
    {
        (true, true) => $"{LengthsShown.Display(window.LowMm, unit)} to {LengthsShown.WithUnit(window.HighMm, unit)}",
        (true, false) => $"{LengthsShown.WithUnit(window.LowMm, unit)} or more",
        (false, true) => $"{LengthsShown.WithUnit(window.HighMm, unit)} or less",
        _ => "any",
    };
}
