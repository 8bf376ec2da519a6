using Sparewright.Solid;

namespace Sparewright.Handover.Picture;

/// <summary>Decides in which view each dimension stands: where it is seen truly, where its ends lie on visible lines, where there is still room.</summary>
internal static class Assignment
{
    private const double OnLineMm = 0.05;

    /// <summary>Where each dimension stands at a scale; one that no view shows truly is in none.</summary>
    public static ILookup<ViewName, Dimension> Of(PartPicture picture, double scale, Lettering lettering)
    {
        var views = picture.Views.Where(v => v.Name != ViewName.Isometric).Select(v => new Candidate(v, scale, lettering)).ToList();
        var choices = picture.Dimensions.Select(d => (Dimension: d, Views: Choices(views, d))).Where(c => c.Views.Count > 0).ToList();
        foreach (var (dimension, shownBy) in choices)
            shownBy.MinBy(view => view.CostWith(dimension) - view.Cost)!.Taken.Add(dimension);

        // The first ones chose before they knew of the others: let each choose again until none wants to move.
        bool moved = true;
        for (int round = 0; moved && round < 4; round++)
        {
            moved = false;
            foreach (var (dimension, shownBy) in choices.Where(c => c.Views.Count > 1))
            {
                var stands = shownBy.First(view => view.Taken.Contains(dimension));
                stands.Taken.Remove(dimension);
                var best = shownBy.MinBy(view => view.CostWith(dimension) - view.Cost + (view == stands ? 0 : 0.5))!;
                best.Taken.Add(dimension);
                moved |= best != stands;
            }
        }

        return views.SelectMany(view => view.Taken.Select(d => (view.Name, d))).ToLookup(c => c.Name, c => c.d);
    }

    /// <summary>The views that show it truly, and of those the ones that show its ends most clearly.</summary>
    private static List<Candidate> Choices(List<Candidate> views, Dimension dimension)
    {
        var shownBy = views.Where(v => dimension.View is null || dimension.View == v.Name).Where(v => v.Shows(dimension)).ToList();
        return shownBy.Count == 0 ? [] : [.. shownBy.GroupBy(v => v.Clarity(dimension)).MaxBy(g => g.Key)!];
    }

    private sealed class Candidate(NamedView view, double scale, Lettering lettering)
    {
        // What a leader takes in room, on the average.
        private const double LeaderMm = 9;

        private readonly Projection _eye = new(view.Drawn, 1);
        private readonly Projection _page = new(view.Drawn, scale);
        private readonly Stroke[] _lines = [.. ViewBlock.Lines(view, scale)];
        private readonly Piece[] _visibleOnPage = ViewBlock.VisiblePieces(ViewBlock.Lines(view, scale));
        private readonly Piece[] _visible =
        [
            .. view.Drawn.Lines.Where(l => !l.Hidden && l.Kind != LineKind.Smooth)
                .SelectMany(l => l.Points.Chunk(2).Zip(l.Points.Chunk(2).Skip(1), (a, b) => new Piece(new(a[0], a[1]), new(b[0], b[1])))),
        ];

        public ViewName Name => view.Name;

        public List<Dimension> Taken { get; } = [];

        public double Cost => CostOf(Taken);

        public double CostWith(Dimension dimension) => CostOf([.. Taken, dimension]);

        public bool Shows(Dimension dimension) => dimension switch
        {
            LinearDimension linear => _eye.IsTrue(linear.Along),
            RoundDimension round => _eye.IsEndOn(round.To - round.From) || (round.On is null && _eye.IsTrue(round.To - round.From) && IsLevelOrUpright(_eye.Page(round.To - round.From))),
            _ => false,
        };

        /// <summary>How many of its ends, of two, lie on visible lines.</summary>
        public double Clarity(Dimension dimension) => Ends(dimension).Count(end => Array.Exists(_visible, piece => Distance(end, piece) < OnLineMm));

        /// <summary>The paper that the view takes, and much for lettering that something runs through.</summary>
        private double CostOf(IReadOnlyList<Dimension> dimensions)
        {
            var outline = _lines.Aggregate(Box.Empty, (box, mark) => box.With(mark.Box));
            var marks = new List<Mark>();
            DistanceLines.Add(marks, dimensions, _page, Name, outline, _visibleOnPage, lettering);
            var extent = marks.Aggregate(outline, (box, mark) => box.With(mark.Box));
            var strokes = marks.OfType<Stroke>().SelectMany(s => s.Pieces).ToArray();
            int struck = marks.OfType<Words>().Count(w => Array.Exists(strokes, w.Box.Meets));
            int leaders = dimensions.OfType<RoundDimension>().Count(r => _page.IsEndOn(r.To - r.From)) + dimensions.OfType<LinearDimension>().Count(_page.RunsAslant);
            return extent.Width + extent.Height + 30 * struck + LeaderMm * leaders;
        }

        private IEnumerable<PagePoint> Ends(Dimension dimension)
        {
            switch (dimension)
            {
                case LinearDimension linear:
                    return [_eye.Page(linear.From), _eye.Page(linear.To)];
                case RoundDimension { On: { } on }:
                    return [_eye.Page(on), _eye.Page(on)];
                case RoundDimension round when _eye.IsEndOn(round.To - round.From):
                    var middle = _eye.Page(round.From);
                    return [middle + PagePoint.Toward(37) * round.RadiusMm, middle + PagePoint.Toward(217) * round.RadiusMm];
                case RoundDimension round:
                    var square = Point3.Cross(round.To - round.From, _eye.Sight);
                    var radius = square * (round.RadiusMm / square.Length);
                    // Half way along, so that it counts whether its own outline is seen and not the face that it starts from.
                    var halfWay = (round.From + round.To) * 0.5;
                    return [_eye.Page(halfWay - radius), _eye.Page(halfWay + radius)];
                default:
                    return [];
            }
        }

        private static bool IsLevelOrUpright(PagePoint direction) => Projection.IsLevel(direction) || Projection.IsUpright(direction);

        private static double Distance(PagePoint p, Piece piece)
        {
            var d = piece.B - piece.A;
            double along = d.Length == 0 ? 0 : Math.Clamp(PagePoint.Dot(p - piece.A, d) / PagePoint.Dot(d, d), 0, 1);
            return (p - (piece.A + d * along)).Length;
        }
    }
}
