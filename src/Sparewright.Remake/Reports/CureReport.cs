using System.Globalization;
using System.Text.Json;
using Sparewright.Measure.Quantities;
using Sparewright.Remake.Bearing;

namespace Sparewright.Remake.Reports;

/// <summary>What would better the margin, in words and for other programs.</summary>
internal static class CureReport
{
    /// <summary>So many are told to people; the rest are named.</summary>
    private const int Told = 3;

    public static IEnumerable<ReportPart> Of(StrengthFound found, IReadOnlyList<Cure> cures, LengthUnit unit)
    {
        yield return new ReportPart.Heading("What would better it");
        if (cures.Count == 0)
        {
            yield return new ReportPart.Line("No other way up and no bigger round, thicker wall or other material that was tried raises the least margin by 10 % or more. The load itself, or how the part is held, must change.", Tone.LookHere);
            yield break;
        }

        yield return new ReportPart.Table(["change", "gain", "least margin", "takes", "then weakest at"],
            [.. cures.Take(Told).Select(c => new ReportPart.Row(Tone.Plain, Words(c, found, unit), $"× {StrengthReport.WithError(c.Gain.Times, c.Gain.PlusMinus)}", StrengthReport.WithError(c.Margin.Value, c.Margin.PlusMinus), Takes(c), c.ThenWeakest))]);
        if (cures.Count > Told) yield return new ReportPart.Line($"Also: {string.Join("; ", cures.Skip(Told).Select(c => $"{Words(c, found, unit)} × {StrengthReport.WithError(c.Gain.Times, c.Gain.PlusMinus)}"))}.");
        if (cures.All(c => c.Margin.Value < 1)) yield return new ReportPart.Line("None of them alone brings the margin to 1.", Tone.LookHere);
        yield return new ReportPart.Line("Each was computed on the part built again, on a coarser grid; the ± of a gain comes from two sizes of cells each, and from the strengths where another strength counts. Grams are those of the two solids as built, their ± that of the density; minutes are for a bead of 0.45 × 0.2 mm laid at 100 to 40 mm/s (common practice, no source). What brings the margin to 1 comes first, the cheapest at the top; then what gains most. Sizes that a counterpart rests on were left alone. Whether there is room for more material is yours to see.");
    }

    /// <summary>The change in words.</summary>
    public static string Words(Cure cure, StrengthFound found, LengthUnit unit = default) => cure.Kind switch
    {
        CureKind.WayUp => $"print with {cure.What} as the way up",
        CureKind.BiggerRound => $"radius of {cure.What} {Length(cure, unit)}",
        CureKind.ThickerWall => $"{cure.What} {Length(cure, unit)}",
        _ => $"{cure.What} instead of {found.Material.Name}",
    };

    public static void Write(Utf8JsonWriter json, StrengthFound found)
    {
        if (found.Cures is not { } cures)
        {
            json.WriteNull("cures");
            return;
        }

        json.WriteStartArray("cures");
        foreach (Cure cure in cures)
        {
            json.WriteStartObject();
            json.WriteString("kind", cure.Kind switch { CureKind.WayUp => "way up", CureKind.BiggerRound => "bigger round", CureKind.ThickerWall => "thicker wall", _ => "material" });
            json.WriteString("what", cure.What);
            json.WriteString("words", Words(cure, found));
            Number("fromMm", cure.FromMm);
            Number("toMm", cure.ToMm);
            json.WriteNumber("gain", cure.Gain.Times);
            json.WriteNumber("gainError", cure.Gain.PlusMinus);
            json.WriteNumber("margin", cure.Margin.Value);
            json.WriteNumber("marginError", cure.Margin.PlusMinus);
            json.WriteNumber("grams", cure.Grams.Value);
            json.WriteNumber("gramsError", cure.Grams.PlusMinus);
            Number("minutesFrom", cure.Minutes?.Quick);
            Number("minutesTo", cure.Minutes?.Slow);
            json.WriteString("thenWeakest", cure.ThenWeakest);
            json.WriteEndObject();
        }

        json.WriteEndArray();

        void Number(string name, double? value)
        {
            if (value is { } known) json.WriteNumber(name, known);
            else json.WriteNull(name);
        }
    }

    private static string Length(Cure cure, LengthUnit unit) => unit == LengthUnit.Inch ? $"{LengthsShown.Display(cure.ToMm!.Value, unit)} instead of {LengthsShown.WithUnit(cure.FromMm!.Value, unit)}"
        : string.Create(CultureInfo.InvariantCulture, $"{cure.ToMm:0.0#} instead of {cure.FromMm:0.0#} mm");

    private static string Takes(Cure cure) => cure.Kind switch
    {
        CureKind.WayUp => "no material; other supports",
        CureKind.Material => $"another spool; {Grams(cure)}",
        _ => $"{Grams(cure)}, {Minutes(cure.Minutes!.Value)}",
    };

    private static string Grams(Cure cure) => $"{StrengthReport.Rounded(cure.Grams.Value, cure.Grams.PlusMinus, 2, sign: true)} g";

    private static string Minutes((double Quick, double Slow) minutes)
    {
        string quick = Whole(minutes.Quick), slow = Whole(minutes.Slow);
        return quick == slow ? $"some {slow} min" : $"{quick} to {slow} min";

        static string Whole(double n) => Math.Max(1, Math.Ceiling(Math.Abs(n))).ToString("0", CultureInfo.InvariantCulture);
    }
}
