using System.Globalization;
using Sparewright.Measure.Quantities;

namespace Sparewright.Reconcile.Nominals;

/// <summary>How a drawing says a length.</summary>
public enum NominalForm { Millimetres, InchFraction, DecimalInches }

/// <summary>A value that the designer may have meant.</summary>
/// <param name="Value">In mm: what the size of the part is then, also where it shrank.</param>
/// <param name="Why">Which grid or standard it stands in: "whole mm", "1/16 in", "ISO 273 clearance for M4".</param>
/// <param name="Odds">That it was this one; all candidates and "no round number" together make one.</param>
public sealed record NominalCandidate(double Value, string Why, double Odds)
{
    private const int Decimals = 6, DecimalsShrunk = 3, DecimalsShown = 4;

    /// <summary>How the drawing said it.</summary>
    public NominalForm Form { get; init; }

    /// <summary>What the drawing said, mm, where the part shrank from it in its mould; otherwise null.</summary>
    public double? ShrunkFromMm { get; init; }

    /// <summary>As a job writes it: <c>12.5</c>, <c>15/32 in</c>, <c>0.3 in</c>.</summary>
    public string Written => ShrunkFromMm is not null ? Shown.Number(Math.Round(Value, DecimalsShrunk)) : Exactly(Value, Form);

    /// <summary>With its unit, as people read it: "12.5 mm", "15/32 in".</summary>
    /// <param name="unit">In which lengths are wanted; a fraction of an inch is told as one anyhow.</param>
    public string Text(LengthUnit unit) =>
        ShrunkFromMm is null && Form == NominalForm.InchFraction ? Shown.InchFraction(Value)
        : unit == LengthUnit.Inch ? Shown.Inches(Value) : $"{Shown.Number(Math.Round(Value, ShrunkFromMm is null ? DecimalsShown : DecimalsShrunk))} mm";

    internal static string Exactly(double mm, NominalForm form) => form switch
    {
        NominalForm.InchFraction => Shown.InchFraction(mm),
        NominalForm.DecimalInches => $"{Shown.Number(Math.Round(mm / Unit.Inch.Size, Decimals))} in",
        _ => Shown.Number(Math.Round(mm, Decimals)),
    };

    /// <summary>"50 mm, shrunk by 0.62 %".</summary>
    internal static string Shrunk(double fromMm, NominalForm form, double value) =>
        string.Create(CultureInfo.InvariantCulture, $"{Exactly(fromMm, form)}{(form == NominalForm.Millimetres ? " mm" : "")}, shrunk by {100 * (1 - value / fromMm):0.0#} %");
}

/// <summary>What the designer may have meant by a size.</summary>
/// <param name="Best">The likeliest value.</param>
/// <param name="RunnerUp">The next likeliest, where there is one worth naming.</param>
/// <param name="NoneOdds">That it is no round number at all.</param>
public sealed record Nominal(NominalCandidate Best, NominalCandidate? RunnerUp, double NoneOdds);
