using Sparewright.Solid;

namespace Sparewright.Handover.Picture;

/// <summary>
/// Places dimension lines round a view in the manner of ISO 129-1: outside the outline, the shorter ones nearer, in rows that
/// do not run into each other, lettering above its line and clear of every extension line.
/// </summary>
internal sealed class DistanceLines
{
    private const double FirstRowMm = 10;
    private const double RowMm = 8;
    private const double TextAboveMm = 0.9;
    private const double ExtensionGapMm = 0.9;
    private const double ExtensionBeyondMm = 1.6;
    private const double TailMm = 6;
    private const double AcrossAnEdgeMm = 5;
    private const double InLineMm = 0.03;

    private readonly Label _label;
    private readonly PagePoint _from, _to;
    private readonly bool _across;
    private Side _side;
    private int _row;
    private Place _place = Place.Inside;
    private double _textAt;

    private DistanceLines(Label label, PagePoint from, PagePoint to, bool across)
    {
        (_label, _across) = (label, across);
        (_from, _to) = Along(from) <= Along(to) ? (from, to) : (to, from);
    }

    private enum Side { Above, Below, Left, Right }

    /// <summary>Where the lettering stands: between the arrows, or beyond one end.</summary>
    private enum Place { Inside, AfterEnd, BeforeStart }

    private double Low => Along(_from);

    private double High => Along(_to);

    private double Span => High - Low;

    private bool ArrowsInside => Span >= 2 * Arrow.LengthMm + 2;

    private double TextStart => _place switch
    {
        Place.Inside => _textAt,
        Place.AfterEnd => High + (ArrowsInside ? 1.5 : Arrow.LengthMm + 1.5),
        _ => Low - (ArrowsInside ? 1.5 : Arrow.LengthMm + 1.5) - _label.WidthMm,
    };

    /// <summary>What the line and its lettering take up of its row.</summary>
    private (double From, double To) Stretch
    {
        get
        {
            double tail = ArrowsInside ? 0 : TailMm;
            return (Math.Min(Low - tail, TextStart - 0.5), Math.Max(High + tail, TextStart + _label.WidthMm + 0.5));
        }
    }

    /// <summary>Adds every distance among the dimensions that is seen in true length.</summary>
    public static void Add(List<Mark> marks, IReadOnlyList<Dimension> dimensions, Projection eye, ViewName view, Box outline, Piece[] visible, Lettering lettering)
    {
        var placed = new List<DistanceLines>();
        foreach (var dimension in dimensions)
        {
            if (Of(dimension, eye, outline, lettering) is { } line)
                placed.Add(line);
        }

        // Short ones first: they stand nearest, and none is crossed more than need be.
        placed = [.. placed.OrderBy(line => line.Span)];
        for (int k = 0; k < placed.Count; k++)
            placed[k].Settle(placed[..k], view, outline, visible);
        foreach (var line in placed)
            line.PlaceText(placed);
        foreach (var line in placed)
            marks.AddRange(line.Marks(outline, visible));
    }

    private static DistanceLines? Of(Dimension dimension, Projection eye, Box outline, Lettering lettering)
    {
        var (from, to, along) = Ends(dimension, eye, outline);
        if (from is null || along.Length == 0)
            return null;
        var direction = along.Unit;
        bool across = Projection.IsLevel(direction);
        if (!across && !Projection.IsUpright(direction))
            return null;
        return new(new(dimension, lettering), from.Value, to!.Value, across);
    }

    private static (PagePoint? From, PagePoint? To, PagePoint Along) Ends(Dimension dimension, Projection eye, Box outline)
    {
        switch (dimension)
        {
            case LinearDimension linear when eye.IsTrue(linear.Along):
                return (eye.Page(linear.From), eye.Page(linear.To), eye.Page(linear.Along));
            case RoundDimension { On: null } round when eye.IsTrue(round.To - round.From):
                // At the end of the axis that lies nearer to the edge of the view, so that extension lines stay short.
                var square = Point3.Cross(round.To - round.From, eye.Sight);
                var radius = square * (round.RadiusMm / square.Length);
                var end = Depth(eye.Page(round.From), outline) <= Depth(eye.Page(round.To), outline) ? round.From : round.To;
                return (eye.Page(end - radius), eye.Page(end + radius), eye.Page(radius));
            default:
                return default;
        }
    }

    private static double Depth(PagePoint p, Box box) => Math.Min(Math.Min(p.X - box.MinX, box.MaxX - p.X), Math.Min(p.Y - box.MinY, box.MaxY - p.Y));

    private double Along(PagePoint p) => _across ? p.X : p.Y;

    private double Beside(PagePoint p) => _across ? p.Y : p.X;

    private PagePoint At(double along, double beside) => _across ? new(along, beside) : new(beside, along);

    private double RowAt(Box outline) => _side switch
    {
        Side.Above => outline.MaxY + FirstRowMm + RowMm * _row,
        Side.Below => outline.MinY - FirstRowMm - RowMm * _row,
        Side.Left => outline.MinX - FirstRowMm - RowMm * _row,
        _ => outline.MaxX + FirstRowMm + RowMm * _row,
    };

    private void Settle(IReadOnlyList<DistanceLines> before, ViewName view, Box outline, Piece[] visible)
    {
        _place = Span >= _label.WidthMm + 1 ? Place.Inside : Place.AfterEnd;
        _textAt = (Low + High - _label.WidthMm) / 2;
        Side[] sides = _across ? [Side.Above, Side.Below] : [Side.Left, Side.Right];
        _side = sides.MinBy(side => Reach(side, outline, visible) + (RowMm + 1) * before.Count(b => b._side == side) + Dislike(view, side));
        for (_row = 0; ; _row++)
        {
            Place[] places = _place == Place.Inside ? [Place.Inside] : [Place.AfterEnd, Place.BeforeStart];
            foreach (var place in places)
            {
                _place = place;
                if (before.All(b => b._side != _side || b._row != _row || Apart(b)))
                    return;
            }
        }
    }

    private bool Apart(DistanceLines other) => Stretch.From > other.Stretch.To + 1 || other.Stretch.From > Stretch.To + 1;

    /// <summary>How far the extension lines would have to run through the view, and much for each edge of the part that they would run across.</summary>
    private double Reach(Side side, Box outline, Piece[] visible)
    {
        double edge = side switch { Side.Above => outline.MaxY, Side.Below => outline.MinY, Side.Left => outline.MinX, _ => outline.MaxX };
        double reach = 0;
        foreach (var end in new[] { _from, _to })
        {
            double beside = Start(end, side, visible);
            // A little inside its end, so that the edge which it measures does not count.
            var line = new Piece(At(Along(end), beside + Math.Sign(edge - beside) * ExtensionGapMm), At(Along(end), edge));
            reach += Math.Abs(edge - beside) / 2 + AcrossAnEdgeMm * visible.Count(line.Crosses);
        }

        return reach;
    }

    /// <summary>
    /// Where the extension line begins: at the place itself or, where an edge runs on from it in line with the extension, at the end of that edge.
    /// </summary>
    private double Start(PagePoint end, Side side, Piece[] visible)
    {
        double along = Along(end), away = side is Side.Above or Side.Right ? 1 : -1;
        double start = double.NegativeInfinity;
        foreach (var piece in visible)
        {
            if (Math.Abs(Along(piece.A) - along) > InLineMm || Math.Abs(Along(piece.B) - along) > InLineMm)
                continue;
            start = Math.Max(start, Math.Max(away * Beside(piece.A), away * Beside(piece.B)));
        }

        return double.IsNegativeInfinity(start) ? Beside(end) : away * start;
    }

    /// <summary>Sides between two views are the last choice.</summary>
    private static double Dislike(ViewName view, Side side) => (view, side) switch
    {
        (ViewName.Front, Side.Below or Side.Right) => 8,
        (ViewName.Top, Side.Above or Side.Right) => 8,
        (ViewName.Left or ViewName.Right, Side.Left) => 8,
        (ViewName.Left or ViewName.Right, Side.Below) => 4,
        _ => 0,
    };

    /// <summary>Moves the lettering along its line until no extension line of a row farther out runs through it.</summary>
    private void PlaceText(IReadOnlyList<DistanceLines> all)
    {
        var crossing = all.Where(other => other._side == _side && other._row > _row).SelectMany(other => new[] { other.Low, other.High }).ToList();
        bool Clear() => crossing.TrueForAll(x => x < TextStart - 0.7 || x > TextStart + _label.WidthMm + 0.7);
        if (Clear())
            return;
        if (_place == Place.Inside)
        {
            double middle = _textAt, slack = (Span - _label.WidthMm) / 2 - 0.5;
            for (double shift = 0.5; shift <= slack; shift += 0.5)
            {
                foreach (double sign in new[] { 1, -1 })
                {
                    _textAt = middle + sign * shift;
                    if (Clear())
                        return;
                }
            }

            _textAt = middle;
        }

        foreach (var place in new[] { Place.AfterEnd, Place.BeforeStart })
        {
            var was = _place;
            _place = place;
            if (Clear() && all.All(other => other == this || other._side != _side || other._row != _row || Apart(other)))
                return;
            _place = was;
        }
    }

    private IEnumerable<Mark> Marks(Box outline, Piece[] visible)
    {
        double row = RowAt(outline);
        var tone = _label.Tone;
        foreach (var end in new[] { _from, _to })
        {
            double start = Start(end, _side, visible), away = Math.Sign(row - start);
            yield return new Stroke([At(Along(end), start + away * ExtensionGapMm), At(Along(end), row + away * ExtensionBeyondMm)], LineStyle.Dimension, tone);
        }

        var forward = At(1, 0);
        PagePoint low = At(Low, row), high = At(High, row);
        double tail = ArrowsInside ? 0 : TailMm;
        double lineFrom = _place == Place.BeforeStart ? TextStart : Low - tail, lineTo = _place == Place.AfterEnd ? TextStart + _label.WidthMm : High + tail;
        yield return new Stroke([At(lineFrom, row), At(lineTo, row)], LineStyle.Dimension, tone);
        yield return Arrow.At(low, ArrowsInside ? forward * -1 : forward, tone);
        yield return Arrow.At(high, ArrowsInside ? forward : forward * -1, tone);

        // Above the line means to its left where it is read from the right.
        var text = _across ? new PagePoint(TextStart, row + TextAboveMm) : new PagePoint(row - TextAboveMm, TextStart);
        foreach (var mark in _label.From(text, upright: !_across))
            yield return mark;
    }
}
