namespace Sparewright.Handover.Picture;

/// <summary>Centre lines: a cross where an axis is seen end on, a chain line along it where it is seen from the side.</summary>
internal static class CentreMarks
{
    private const double BeyondMm = 3;

    public static IEnumerable<Mark> Of(IReadOnlyList<CentreLine> lines, Projection eye)
    {
        var crosses = new Dictionary<(long, long), (PagePoint At, double RadiusMm)>();
        var along = new Dictionary<(long, long, long), (PagePoint From, PagePoint To)>();
        foreach (var line in lines)
        {
            PagePoint from = eye.Page(line.From), to = eye.Page(line.To);
            var axis = line.To - line.From;
            if (eye.IsEndOn(axis))
            {
                var key = (Key(from.X), Key(from.Y));
                double radius = Math.Max(line.RadiusMm * eye.Scale, crosses.TryGetValue(key, out var known) ? known.RadiusMm : 0);
                crosses[key] = (from, radius);
            }
            else if (eye.IsTrue(axis))
            {
                // Axes in one line become one line: a bore in its boss, holes in a row seen from the side.
                var direction = (to - from).Unit;
                if (direction.X < -1e-6 || (Math.Abs(direction.X) <= 1e-6 && direction.Y < 0))
                    (from, to, direction) = (to, from, direction * -1);
                var key = (Key(direction.X * 100), Key(direction.Y * 100), Key(PagePoint.Dot(from, direction.Left)));
                if (along.TryGetValue(key, out var known))
                {
                    from = PagePoint.Dot(known.From - from, direction) < 0 ? known.From : from;
                    to = PagePoint.Dot(known.To - to, direction) > 0 ? known.To : to;
                }

                along[key] = (from, to);
            }
        }

        foreach (var (at, radius) in crosses.Values)
        {
            double half = radius + Math.Min(BeyondMm, 0.8 + radius * 0.5);
            yield return new Stroke([at - new PagePoint(half, 0), at + new PagePoint(half, 0)], LineStyle.Centre, Tone.Soft);
            yield return new Stroke([at - new PagePoint(0, half), at + new PagePoint(0, half)], LineStyle.Centre, Tone.Soft);
        }

        foreach (var (from, to) in along.Values)
        {
            var beyond = (to - from).Unit * BeyondMm;
            yield return new Stroke([from - beyond, to + beyond], LineStyle.Centre, Tone.Soft);
        }
    }

    private static long Key(double value) => (long)Math.Round(value * 50);
}
