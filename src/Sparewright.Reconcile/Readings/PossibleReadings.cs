using Sparewright.Measure;
using Sparewright.Measure.Numbers;
using Sparewright.Part;
using Sparewright.Part.Elements;
using Sparewright.Part.Record;
using Sparewright.Part.Shape;
using Sparewright.Part.Sizes;

namespace Sparewright.Reconcile.Readings;

/// <summary>A reading that the shape allows.</summary>
/// <param name="Text">As one writes it in the job, without what it reads.</param>
/// <param name="Mm">What it would read, with derivatives by the sizes.</param>
internal sealed record PossibleReading(string Text, CaliperReading Reading, Dual Mm)
{
    public Gradient Gradient => Mm.Gradient;
}

/// <summary>The caliper readings that a shape allows, in one way each.</summary>
internal static class PossibleReadings
{
    /// <summary>Beyond so many faces only readings of one face, or within one feature, are listed: pairs grow with their square.</summary>
    private const int MostFacesToPair = 150;

    /// <summary>A cone shorter than this has no two places for jaws, mm. Our judgement.</summary>
    private const double LeastConeMm = 4;

    /// <param name="heights">At which heights faces that lean are read.</param>
    /// <param name="wanted">Which faces, or pairs of them, are asked for; all where it is not said.</param>
    public static IReadOnlyList<PossibleReading> Of(PlacedShape shape, DraftHeights heights, Func<string, string?, bool>? wanted = null)
    {
        Element[] faces = [.. shape.Elements.Values.Where(e => e is FlatElement or RoundElement or ConeElement or SideElement && !JawRest.IsDatum(e.Name)).OrderBy(e => e.Name, StringComparer.Ordinal)];
        var possible = new List<PossibleReading>();
        void Try(ReadingWay way, string first, string? second, Direction? across, SizeExpression? atHeight = null)
        {
            if (wanted is not null && !wanted(first, second)) return;
            if (atHeight is null && heights.Of(first, second) is { } leaning) foreach (double height in leaning) List(way, first, second, across, height);
            else List(way, first, second, across, atHeight);
        }

        void List(ReadingWay way, string first, string? second, Direction? across, SizeExpression? atHeight)
        {
            var reading = new CaliperReading("", way, new(first, Place.None), second is null ? null : new(second, Place.None), across, [0], false, false, null, atHeight, null, Place.None) { Drafts = heights.Drafts };
            JawSpan span = CaliperGeometry.Span(reading, shape);
            if (span.Refused is not null) return;
            string elements = second is null ? first : $"[{first}, {second}]";
            possible.Add(new($"{ReadingWords.Way(way)}: {elements}{(across is { } d ? $", across: {d.ToString().ToLowerInvariant()}" : "")}{(atHeight is { } at ? $", at_height: {ExpressionText.Of(at)}" : "")}", reading, span.Mm));
        }

        for (int a = 0; a < faces.Length; a++)
        {
            string name = faces[a].Name;
            if (faces[a] is ConeElement cone)
            {
                foreach (double height in HeightsOn(cone, shape)) Try(ReadingWay.Outside, name, null, null, height);
                if (MouthOf(cone, shape) is { } mouth) Try(ReadingWay.Inside, name, null, null, mouth);
                continue;
            }

            foreach (ReadingWay way in (ReadingWay[])[ReadingWay.Outside, ReadingWay.Inside])
                if (faces[a] is SideElement)
                    foreach (Direction across in (Direction[])[Direction.Right, Direction.Back, Direction.Up]) Try(way, name, null, across);
                else if (faces[a] is RoundElement) Try(way, name, null, null);

            if (faces[a] is SideElement) continue;
            for (int b = a + 1; b < faces.Length; b++)
            {
                if (faces[b] is SideElement or ConeElement || (faces.Length > MostFacesToPair && Feature(name) != Feature(faces[b].Name))) continue;
                Try(ReadingWay.Outside, name, faces[b].Name, null);
                Try(ReadingWay.Inside, name, faces[b].Name, null);
                if (faces[a] is FlatElement && faces[b] is FlatElement) Try(ReadingWay.Depth, name, faces[b].Name, null);
            }
        }

        return possible;
    }

    /// <summary>Two heights on a cone that bulges, in whole mm and well inside its ends, which may be rounded: by one alone its slope would stay open.</summary>
    private static IEnumerable<double> HeightsOn(ConeElement cone, PlacedShape shape)
    {
        if (cone.Hollow) return [];
        Vector up = JawRest.Upward(cone);
        double[] ends = [.. shape.Elements.Values.OfType<FlatElement>().Where(f => Feature(f.Name) == Feature(cone.Name) && Vector.Cross(f.Normal, up).Length.Value < 1e-6).Select(f => Vector.Dot(f.Point, up).Value)];
        double length = ends.Length < 2 ? 0 : ends.Max() - ends.Min();
        return length < LeastConeMm ? [] : [Math.Ceiling(ends.Min() + length / 10), Math.Floor(ends.Max() - length / 4)];
    }

    /// <summary>The height of a countersink's mouth, where jaws rest on its rim; it moves with the face that the hole starts from. Null for other cones.</summary>
    private static SizeExpression? MouthOf(ConeElement cone, PlacedShape shape) =>
        cone.Hollow && cone.Name.EndsWith(".countersink", StringComparison.Ordinal) ? HeightInSizes.Of(Vector.Dot(cone.BasePoint, JawRest.Upward(cone)), shape.Sizes) : null;

    private static string Feature(string element) => element.Split('.')[0];
}
