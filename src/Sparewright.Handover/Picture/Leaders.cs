namespace Sparewright.Handover.Picture;

/// <summary>
/// Places the leaders of circles and arcs that are seen end on, and of distances that run aslant: of many tries, the shortest whose lettering touches nothing.
/// </summary>
internal static class Leaders
{
    private const double TextAboveMm = 0.9;
    private const double ShortestMm = 5;
    private const double LongestMm = 64;

    public static void Add(List<Mark> marks, IReadOnlyList<Dimension> dimensions, Projection eye, Box outline, Lettering lettering)
    {
        foreach (var linear in dimensions.OfType<LinearDimension>().Where(eye.RunsAslant))
            AddAslant(marks, linear, eye, outline, new(linear, lettering));
        foreach (var round in dimensions.OfType<RoundDimension>().Where(r => eye.IsEndOn(r.To - r.From)).OrderBy(r => r.RadiusMm))
        {
            var label = new Label(round, lettering);
            var middle = eye.Page(round.From);
            double radius = round.RadiusMm * eye.Scale;
            var directions = round.On is { } on
                ? [(eye.Page(on) - middle).Unit]
                : Enumerable.Range(0, 24).Select(k => PagePoint.Toward(7.5 + 15 * k)).ToArray();
            marks.AddRange(Best(directions, middle, radius, label.WidthMm, new(marks), outline).Marks(label));
        }
    }

    /// <summary>The dimension line stands where the distance is, with an arrow at either end, and runs on to its lettering.</summary>
    private static void AddAslant(List<Mark> marks, LinearDimension linear, Projection eye, Box outline, Label label)
    {
        PagePoint from = eye.Page(linear.From), far = eye.Page(linear.To), along = eye.Page(linear.Along).Unit;
        var to = from + along * PagePoint.Dot(far - from, along);
        var middle = (from + to) * 0.5;
        var best = Best([along, along * -1], middle, (to - from).Length / 2, label.WidthMm, new(marks), outline);
        if ((far - to).Length > 0.5)
            marks.Add(new Stroke([far, to], LineStyle.Dimension, label.Tone));
        marks.Add(new Stroke([from, to], LineStyle.Dimension, label.Tone));
        var outward = (to - from).Unit;
        marks.Add(Arrow.At(from, outward * -1, label.Tone));
        marks.Add(Arrow.At(to, outward, label.Tone));
        marks.AddRange(best.Marks(label).Where(mark => mark is not Fill));
    }

    private static Try Best(PagePoint[] directions, PagePoint middle, double radius, double widthMm, Surroundings around, Box outline)
    {
        Try? best = null;
        double least = double.PositiveInfinity;
        // Shortest first: once one is found, only those can be better that are shorter than its cost.
        for (double length = ShortestMm; length <= LongestMm && length < least; length += 1.5)
        {
            foreach (var t in directions.SelectMany(direction => Tries(direction, middle, radius, length, widthMm)))
            {
                double cost = Cost(t, around, outline, least);
                if (cost < least)
                    (best, least) = (t, cost);
            }
        }

        return best!;
    }

    /// <summary>The lettering stands on the side to which the leader leans; on either where it hardly leans.</summary>
    private static IEnumerable<Try> Tries(PagePoint direction, PagePoint middle, double radius, double length, double widthMm)
    {
        var tip = middle + direction * radius;
        yield return new(tip, direction, length, direction.X >= 0, widthMm);
        if (Math.Abs(direction.X) < 0.3)
            yield return new(tip, direction, length, direction.X < 0, widthMm);
    }

    private static double Cost(Try t, Surroundings around, Box outline, double enough)
    {
        var letters = t.Letters.Grown(0.7);
        double cost = t.Length;
        // Lettering inside the outline is allowed but not liked; level and upright leaders look like edges.
        if (outline.Overlaps(letters))
            cost += 12;
        if (Math.Abs(t.Direction.X) < 0.2 || Math.Abs(t.Direction.Y) < 0.2)
            cost += 5;
        cost += 60 * (around.Covers(letters) + around.Through(t.Leader) + around.Through(t.Landing));
        if (cost < enough)
            cost += 40 * around.Hits(letters);
        if (cost < enough)
            cost += 2 * around.Crossings(t.Leader) + 4 * around.Crossings(t.Landing);
        return cost;
    }

    /// <summary>One way to draw a leader: from the arc outward, then level under the lettering.</summary>
    private sealed record Try(PagePoint Tip, PagePoint Direction, double Length, bool ToRight, double WidthMm)
    {
        private PagePoint Elbow => Tip + Direction * Length;

        private PagePoint End => Elbow + new PagePoint(ToRight ? WidthMm + 1 : -WidthMm - 1, 0);

        private PagePoint TextStart => new(Math.Min(Elbow.X, End.X) + 0.5, Elbow.Y + TextAboveMm);

        public Piece Leader => new(Tip, Elbow);

        public Piece Landing => new(Elbow, End);

        public Box Letters => new(TextStart.X, TextStart.Y - 0.3, TextStart.X + WidthMm, TextStart.Y + Label.HeightMm);

        public IEnumerable<Mark> Marks(Label label) =>
            label.From(TextStart, upright: false).Prepend(Arrow.At(Tip, Direction * -1, label.Tone)).Prepend(new Stroke([Tip, Elbow, End], LineStyle.Dimension, label.Tone));
    }

    /// <summary>What is already drawn.</summary>
    private sealed class Surroundings(List<Mark> marks)
    {
        private readonly Piece[] _pieces = [.. marks.OfType<Stroke>().SelectMany(s => s.Pieces)];
        private readonly Box[] _words = [.. marks.OfType<Words>().Select(w => w.Box.Grown(0.4))];
        private readonly Box[] _heads = [.. marks.OfType<Fill>().Select(f => f.Box)];

        /// <summary>How many drawn lines run through the box.</summary>
        public int Hits(Box box) => _pieces.Count(box.Meets) + _heads.Count(box.Overlaps);

        public int Covers(Box box) => _words.Count(box.Overlaps);

        public int Through(Piece piece) => _words.Count(box => box.Meets(piece));

        public int Crossings(Piece piece) => _pieces.Count(piece.Crosses);
    }
}
