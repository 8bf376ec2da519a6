using System.Globalization;
using Sparewright.Measure;
using Sparewright.Part.Record;
using Sparewright.Part.Shape;
using Sparewright.Part.Sizes;

namespace Sparewright.Reconcile.Readings;

/// <summary>What a reading measures, in words for people.</summary>
public static class ReadingWords
{
    public static string Of(Reading reading) => What(reading) + (reading.Copy is { } copy ? $", on the copy {copy}" : "");

    private static string What(Reading reading) => reading switch
    {
        CaliperReading { Second: { } second } r => $"{Way(r.Way)} {r.First} to {second}{Where(r)}",
        CaliperReading { Across: { } across } r => $"{Way(r.Way)} {r.First}, {Across(across)}{Where(r)}",
        CaliperReading r => $"{Way(r.Way)} diameter of {r.First}{Where(r)}",
        AngleReading { Second: { } second } r => $"angle of {r.First} and {second}",
        AngleReading r => $"angle of {r.First}, from side to side",
        SagittaReading r => FormattableString.Invariant($"rise of {r.Of} over a chord of {r.ChordReadsMm.Average():0.00} mm (a radius of {Sagitta.RadiusMm(r.ChordReadsMm.Average(), r.SagittaReadsMm.Average()):0.0} mm)"),
        ThreadPitchReading r => $"{r.Turns} turn{(r.Turns == 1 ? "" : "s")} of the thread{(r.Pitch is SizeExpression.Name name ? $" of pitch {name.Size}" : "")}",
        CounterpartReading r => $"distance on {r.Counterpart}{(r.Matches is SizeExpression.Name name ? $", which {name.Size} matches" : "")}",
        GaugeLeafReading r => $"radius of {r.Round}, by gauge leaves",
        WeightReading r => $"weight of {WholeOr(r.Of)}",
        FragmentWeightsReading r => $"weights of {Listed.Of([.. r.Fragments.Select(f => f.Fragment)])}, which are the whole part",
        DisplacementReading r => $"water displaced by {WholeOr(r.Of)}",
        _ => reading.Id,
    };

    private static string WholeOr(string fragment) => fragment == WeightReading.Whole ? "the whole part" : fragment;

    /// <summary>The way in which it is read.</summary>
    public static string Way(ReadingWay way) => way switch
    {
        ReadingWay.Outside => "outside",
        ReadingWay.Inside => "inside",
        ReadingWay.Depth => "depth",
        _ => "step",
    };

    /// <summary>The direction across which it is read.</summary>
    public static string Across(Direction direction) => direction switch
    {
        Direction.Right or Direction.Left => "left to right",
        Direction.Back or Direction.Front => "front to back",
        _ => "bottom to top",
    };

    private static string Where(CaliperReading r) =>
        (r.OverPinsMm.Count > 0 ? FormattableString.Invariant($", over gauge pins of {string.Join(" and ", r.OverPinsMm.Select(p => p.ToString("0.###", CultureInfo.InvariantCulture)))} mm") : "")
        + (r.Worn ? ", worn" : "") + (r.Soft ? ", soft" : "") + (r.AcrossBreak ? $", across {(r.Break is { } which ? $"the break {which}" : "the break")}" : "")
        + r.AtHeight switch { null => "", SizeExpression.Number height => FormattableString.Invariant($", at height {height.Value:0.###} mm"), var height => $", at height {ExpressionText.Of(height)}" }
        + (r.TiltDegrees > 0 ? FormattableString.Invariant($", askew by up to {r.TiltDegrees:0.###}°") : "")
        + (r.OnFragment is { } fragment ? $", on the fragment {fragment}" : "");
}
