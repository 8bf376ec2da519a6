using System.Globalization;
using Sparewright.Measure.Quantities;
using Sparewright.Part.Sizes;
using Sparewright.Reconcile.Findings;
using Quantity = Sparewright.Part.Sizes.Quantity;

namespace Sparewright.Web.Sizes;

/// <summary>One size as the table shows it to one person.</summary>
/// <param name="Given">What the job says of it beside the readings.</param>
/// <param name="Calls">Whether somebody should look.</param>
public sealed record SizeRow(string Value, string PlusMinus, string Status, IReadOnlyList<string> DecidedBy, string AlsoBy, string Given, bool Calls)
{
    private const int MostDeciders = 6;

    public static SizeRow Of(Size size, Reconciled? reconciled, LengthUnit unit)
    {
        string given = size.Otherwise switch
        {
            Part.Sizes.Given.About a => $"starts about {Figure(size, a.Value, null, unit)}",
            Part.Sizes.Given.Likely l => $"likely {Figure(size, l.Value, null, unit)} ± {Figure(size, l.PlusMinus, null, unit)}",
            Part.Sizes.Given.Fixed f => $"fixed at {Figure(size, f.Value, null, unit)}",
            Part.Sizes.Given.EqualTo => "follows from other sizes",
            _ => "left to the readings",
        };
        if (reconciled?.Sizes.FirstOrDefault(s => s.Name == size.Name) is not { } found) return new("", "", "not reconciled", [], "", given, true);
        double half = (found.High95 - found.Low95) / 2;
        bool open = found.Status == SizeStatus.Undecided;
        string plusMinus = found.Status switch
        {
            SizeStatus.Undecided => "",
            SizeStatus.Fixed => "exact",
            _ => size.Quantity == Quantity.Length ? LengthsShown.PlusMinus(half, unit) : string.Create(CultureInfo.InvariantCulture, $"±{half:0.00}"),
        };
        string status = found.Status switch
        {
            SizeStatus.Undecided => "! undecided: drawn as supposed",
            SizeStatus.Weak => "~ weak: hardly checked",
            _ when size.Nominal is not null => "= settled at its nominal",
            SizeStatus.Fixed => "= fixed by the job",
            _ => size.Given is Part.Sizes.Given.EqualTo ? "✓ follows, decided" : "✓ decided",
        };
        return new(Figure(size, found.Estimate, open || half <= 0 ? null : half, unit), plusMinus, status, [.. found.DecidedBy.Take(MostDeciders)],
            (found.DecidedBy.Count > MostDeciders ? $"and {found.DecidedBy.Count - MostDeciders} more " : "") + (found.AlsoLikely ? "and what is held likely" : ""), given, open);
    }

    /// <summary>What may have been meant by a size: "12 mm", "the same as lug_t".</summary>
    public static string Words(Size size, Meant meant, LengthUnit unit) => meant switch
    {
        Meant.Value { MmOrDegrees: var value } => size.Quantity == Quantity.Length && unit == LengthUnit.Millimetre ? $"{Shown.Number(Math.Round(value, 4))} mm" : Figure(size, value, null, unit),
        Meant.SameAs { Size: var other } => $"the same as {other}",
        _ => throw new InvalidOperationException($"unknown nominal {meant}"),
    };

    private static string Figure(Size size, double value, double? half, LengthUnit unit) => size.Quantity switch
    {
        Quantity.Angle => string.Create(CultureInfo.InvariantCulture, $"{value:0.00}°"),
        Quantity.Length => $"{LengthsShown.Meaning(value, half, unit)} {unit.Symbol()}",
        _ => value.ToString("0.###", CultureInfo.InvariantCulture),
    };
}
