using Sparewright.Measure.Quantities;
using Sparewright.Part.Record;
using Sparewright.Part.Sizes;
using Sparewright.Reconcile.Readings;

namespace Sparewright.Web.Readings;

/// <summary>A reading in words, its marks apart from what it measures.</summary>
public static class ReadingSentence
{
    public static string What(Reading reading) => reading switch
    {
        CaliperReading { Second: not null } r => $"{ReadingWords.Way(r.Way)} between",
        CaliperReading { Across: { } across } r => $"{ReadingWords.Way(r.Way)}, {ReadingWords.Across(across)}",
        CaliperReading r => $"{ReadingWords.Way(r.Way)} diameter",
        GaugeLeafReading => "radius, by gauge leaves",
        WeightReading r => r.Of == "whole" ? "weight of the whole part" : $"weight of {r.Of}",
        _ => ReadingWords.Of(reading),
    };

    /// <param name="unit">Of the window, for the height on a cone.</param>
    public static string Marks(Reading reading, LengthUnit unit)
    {
        if (reading is not CaliperReading r) return "";
        string[] all =
        [
            r.Worn ? "worn" : "", r.Soft ? "soft" : "", r.AcrossBreak ? "across the break" : "", r.OnFragment is { } fragment ? $"on {fragment}" : "", r.AtHeight switch { null => "", SizeExpression.Number height => $"at height {LengthsShown.WithUnit(height.Value, unit)}", _ => $"at height {ExpressionText.Of(r.AtHeight)}" },
            r.OverPinsMm.Count > 0 ? "over gauge pins" : "", r.Copy is { } copy ? $"on the copy {copy}" : "",
        ];
        return string.Join(", ", all.Where(a => a.Length > 0));
    }
}
