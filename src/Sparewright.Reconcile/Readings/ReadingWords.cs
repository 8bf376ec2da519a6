using Sparewright.Measure;
using Sparewright.Part.Record;
using Sparewright.Part.Shape;

namespace Sparewright.Reconcile.Readings;

/// <summary>What a reading measures, in words for people.</summary>
public static class ReadingWords
{
    public static string Of(Reading reading) => reading switch
    {
        CaliperReading { Second: { } second } r => $"{Way(r.Way)} {r.First} to {second}{Where(r)}",
        CaliperReading { Across: { } across } r => $"{Way(r.Way)} {r.First}, {Across(across)}{Where(r)}",
        CaliperReading r => $"{Way(r.Way)} diameter of {r.First}{Where(r)}",
        AngleReading { Second: { } second } r => $"angle of {r.First} and {second}",
        AngleReading r => $"angle of {r.First}, from side to side",
        GaugeLeafReading r => $"radius of {r.Round}, by gauge leaves",
        WeightReading r => $"weight of {(r.Of == "whole" ? "the whole part" : r.Of)}",
        _ => reading.Id,
    };

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
        (r.Worn ? ", worn" : "") + (r.AcrossBreak ? ", across the break" : "") + (r.OnFragment is { } fragment ? $", on the fragment {fragment}" : "");
}
