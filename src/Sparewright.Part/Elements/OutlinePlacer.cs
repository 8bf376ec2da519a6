using System.Globalization;
using Sparewright.Measure.Numbers;
using Sparewright.Part.Shape;
using Sparewright.Part.Sizes;

namespace Sparewright.Part.Elements;

/// <summary>
/// Turns an outline of expressions into a region of numbers at given sizes. Every piece gets two names: that of the whole side, and
/// that with its number (<c>foot.rim</c>, <c>foot.rim#3</c>); numbers run through the whole outline in the order in which it is written.
/// </summary>
internal sealed class OutlinePlacer(string feature, string side, IReadOnlyDictionary<string, Dual> sizes, List<Problem> problems)
{
    private int _pieces;

    /// <summary>The region, or null when a problem was noted.</summary>
    public Region? Place(Outline outline)
    {
        int before = problems.Count;
        Region region = Resolve(outline);
        return problems.Count == before ? region : null;
    }

    private Region Resolve(Outline outline) => outline switch
    {
        Disc disc => new Region.Circle(At(disc.Middle), Positive(disc.Radius, "radius", disc.Place), NextNames()),
        Rectangle rectangle => OfRectangle(rectangle),
        Obround obround => OfObround(obround),
        Polygon polygon => Rounded(polygon.Corners.Select(c => new Corner(At(c), Radius(polygon.CornerRadius), null)).ToList(), polygon.Place),
        Hexagon hexagon => OfHexagon(hexagon),
        PathOutline path => OfPath(path),
        Belt belt => OfBelt(belt),
        JoinedOutlines joined => new Region.Joined([.. joined.Outlines.Select(Resolve)]),
        TakenAwayOutlines taken => new Region.TakenAway(Resolve(taken.From), [.. taken.Away.Select(Resolve)]),
        OverlappedOutlines overlapped => new Region.Overlapped([.. overlapped.Outlines.Select(Resolve)]),
        _ => throw new InvalidOperationException($"unknown outline {outline}"),
    };

    private PlanePoint At(FacePoint p) => new(p.U.At(sizes), p.V.At(sizes));

    private Dual Radius(SizeExpression? radius) => radius is null ? 0 : radius.At(sizes);

    private string[] NextNames()
    {
        _pieces++;
        return [side, string.Create(CultureInfo.InvariantCulture, $"{side}#{_pieces}")];
    }

    private Dual Positive(SizeExpression expression, string what, Place place)
    {
        Dual value = expression.At(sizes);
        if (!(value.Value > 0)) Say(place, string.Create(CultureInfo.InvariantCulture, $"{feature}: {what} is {value.Value:0.###} mm"), "it must be more than 0: check the sizes that it comes from");
        return value;
    }

    private void Say(Place place, string what, string remedy) => problems.Add(new Problem(place, what, remedy));

    private Region.Loop OfRectangle(Rectangle r)
    {
        Dual l = Positive(r.Long, "the rectangle's length", r.Place), w = Positive(r.Wide, "the rectangle's width", r.Place);
        PlanePoint low = r.Corner is { } corner ? At(corner) : At(r.Middle ?? FacePoint.Origin) - new PlanePoint(l / 2, w / 2);
        Dual radius = Radius(r.CornerRadius);
        PlanePoint[] corners = [low, low + new PlanePoint(l, 0), low + new PlanePoint(l, w), low + new PlanePoint(0, w)];
        return Rounded([.. corners.Select(c => new Corner(c, radius, null))], r.Place);
    }

    private Region.Loop OfHexagon(Hexagon h)
    {
        Dual circumradius = Positive(h.AcrossFlats, "the size across flats", h.Place) / Math.Sqrt(3);
        Dual turn = (h.Turn is null ? 0 : h.Turn.At(sizes)) * (Math.PI / 180);
        PlanePoint middle = At(h.Middle);
        // Corner 1 at 240°, so that side #1 is the one at low v.
        var corners = Enumerable.Range(0, 6).Select(k => turn + (240 + 60 * k) * (Math.PI / 180))
            .Select(a => middle + new PlanePoint(Dual.Cos(a), Dual.Sin(a)) * circumradius);
        return Rounded([.. corners.Select(c => new Corner(c, 0, null))], h.Place);
    }

    private Region.Loop OfObround(Obround o)
    {
        Dual radius = Positive(o.Width, "the width", o.Place) / 2;
        PlanePoint first = At(o.First), second = At(o.Second);
        if (!Apart(first, second, o.Place)) return new Region.Loop([]);
        PlanePoint right = (second - first).Unit().Left * -radius;
        return new Region.Loop(
        [
            new StraightPiece(first + right, second + right, NextNames()),
            new ArcPiece(second + right, second - right, second, true, NextNames()),
            new StraightPiece(second - right, first - right, NextNames()),
            new ArcPiece(first - right, first + right, first, true, NextNames()),
        ]);
    }

    private bool Apart(PlanePoint a, PlanePoint b, Place place)
    {
        bool apart = Math.Abs((b.U - a.U).Value) + Math.Abs((b.V - a.V).Value) > 1e-9;
        if (!apart) Say(place, $"{feature}: two points of the outline coincide", "move them apart: check the sizes that they come from");
        return apart;
    }

    private Region.Loop OfBelt(Belt belt)
    {
        var centers = belt.Discs.Select(d => At(d.Middle)).ToList();
        var radii = belt.Discs.Select(d => Positive(d.Radius, "a disc's radius", d.Place)).ToList();
        int n = centers.Count;
        var outward = new PlanePoint[n];
        for (int k = 0; k < n; k++)
        {
            int next = (k + 1) % n;
            if (!Apart(centers[k], centers[next], belt.Place)) return new Region.Loop([]);
            PlanePoint between = centers[next] - centers[k];
            Dual length = between.Length;
            Dual sine = (radii[k] - radii[next]) / length;
            if (Math.Abs(sine.Value) >= 1)
            {
                int outer = radii[k] > radii[next] ? k + 1 : next + 1, inner = outer == k + 1 ? next + 1 : k + 1;
                Say(belt.Place, $"{feature}: disc {inner} of the belt lies inside disc {outer}", "move it out or take it from the belt");
                return new Region.Loop([]);
            }

            // The common outer tangent: n·(c₂ − c₁) = r₁ − r₂ with n on the right of the way.
            PlanePoint e = between * (1 / length);
            outward[k] = e * sine - e.Left * Dual.Sqrt(1 - sine * sine);
        }

        var pieces = new List<Piece>(2 * n);
        for (int k = 0; k < n; k++)
        {
            PlanePoint arriving = outward[(k + n - 1) % n], leaving = outward[k];
            if (n > 2 && PlanePoint.Cross(arriving, leaving).Value < -1e-9)
                Say(belt.Discs[k].Place, $"{feature}: disc {k + 1} does not touch the belt", "list the discs counter-clockwise, and only those that the belt touches");
            string[] arcNames = NextNames(), sideNames = NextNames();
            bool sweeps = n == 2 || PlanePoint.Dot(arriving, leaving).Value < 1 - 1e-12;
            PlanePoint start = centers[k] + arriving * radii[k], end = centers[k] + leaving * radii[k];
            if (sweeps) pieces.Add(new ArcPiece(start, end, centers[k], true, arcNames));
            int next = (k + 1) % n;
            pieces.Add(new StraightPiece(end, centers[next] + leaving * radii[next], sideNames));
        }

        return new Region.Loop(pieces);
    }

    /// <summary>A corner of a loop: where it is, the radius that rounds it, and the arc by which the way goes on from it (null: straight).</summary>
    private sealed record Corner(PlanePoint At, Dual Radius, Func<PlanePoint, PlanePoint, string[], ArcPiece>? ArcToNext);

    private Region.Loop OfPath(PathOutline path)
    {
        var corners = new List<Corner>();
        PlanePoint start = At(path.Start), from = start;
        Dual radius = Radius(path.StartCornerRadius);
        foreach (PathPiece piece in path.Pieces)
        {
            PlanePoint to = At(piece.To);
            if (!Apart(from, to, piece.Place)) return new Region.Loop([]);
            corners.Add(new Corner(from, radius, ArcOf(piece)));
            (from, radius) = (to, Radius(piece.CornerRadius));
        }

        bool closed = (from - start).Length.Value < 1e-6;
        if (!closed) corners.Add(new Corner(from, radius, null));
        // The last piece ends at the start: a radius written there rounds the start's corner.
        else if (corners[0].Radius.Value == 0) corners[0] = corners[0] with { Radius = radius };
        return Rounded(corners, path.Place);
    }

    private Func<PlanePoint, PlanePoint, string[], ArcPiece>? ArcOf(PathPiece piece)
    {
        switch (piece)
        {
            case ArcOfRadius arc:
                Dual radius = Positive(arc.Radius, "an arc's radius", arc.Place);
                return (from, to, names) =>
                {
                    PlanePoint half = (to - from) * 0.5;
                    Dual rise = radius * radius - PlanePoint.Dot(half, half);
                    if (rise.Value < 0)
                    {
                        Say(arc.Place, string.Create(CultureInfo.InvariantCulture, $"{feature}: an arc of radius {radius.Value:0.###} mm cannot span {2 * half.Length.Value:0.###} mm"), "use a radius of at least half the distance");
                        rise = 0;
                    }

                    PlanePoint side = half.Unit().Left * Dual.Sqrt(rise);
                    return new ArcPiece(from, to, from + half + (arc.TurningLeft ? side : side * -1), arc.TurningLeft, names);
                };
            case ArcThrough arc:
                PlanePoint through = At(arc.Through);
                return (from, to, names) =>
                {
                    PlanePoint a = through - from, b = to - from;
                    Dual twice = 2 * PlanePoint.Cross(a, b);
                    if (Math.Abs(twice.Value) < 1e-12)
                    {
                        Say(arc.Place, $"{feature}: the three points of an arc lie on one line", "move `through` off the line, or write line_to");
                        return new ArcPiece(from, to, from + b * 0.5, true, names);
                    }

                    // Circumcentre relative to the first point.
                    Dual aa = PlanePoint.Dot(a, a), bb = PlanePoint.Dot(b, b);
                    var center = from + new PlanePoint((b.V * aa - a.V * bb) / twice, (a.U * bb - b.U * aa) / twice);
                    return new ArcPiece(from, to, center, twice.Value > 0, names);
                };
            default:
                return null;
        }
    }

    /// <summary>The loop through the corners; a corner between two straight pieces is rounded by an arc tangent to both.</summary>
    private Region.Loop Rounded(List<Corner> corners, Place place)
    {
        int n = corners.Count;
        int firstName = _pieces;
        _pieces += n;
        var trims = new Dual[n];
        var arcs = new ArcPiece?[n];
        for (int k = 0; k < n; k++)
        {
            if (!(corners[k].Radius.Value >= 0)) Say(place, $"{feature}: the radius of corner {k + 1} is less than 0", "check the sizes that it comes from");
            if (corners[k].Radius.Value <= 0) continue;
            Corner before = corners[(k + n - 1) % n], here = corners[k], after = corners[(k + 1) % n];
            if (before.ArcToNext is not null || here.ArcToNext is not null)
            {
                Say(place, $"{feature}: corner {k + 1} lies beside an arc", "a corner radius works between straight pieces: draw the round as an arc of its own");
                continue;
            }

            PlanePoint arriving = (here.At - before.At).Unit(), leaving = (after.At - here.At).Unit();
            Dual cross = PlanePoint.Cross(arriving, leaving);
            if (Math.Abs(cross.Value) < 1e-9) continue;
            // tan(φ/2) = |sin φ| / (1 + cos φ) for a turn by φ.
            trims[k] = here.Radius * Dual.Abs(cross) / (1 + PlanePoint.Dot(arriving, leaving));
            bool left = cross.Value > 0;
            PlanePoint start = here.At - arriving * trims[k], end = here.At + leaving * trims[k];
            arcs[k] = new ArcPiece(start, end, start + arriving.Left * (left ? here.Radius : -here.Radius), left, []);
        }

        var pieces = new List<Piece>(2 * n);
        for (int k = 0; k < n; k++)
        {
            if (arcs[k] is { } arc) pieces.Add(arc with { Names = NextNames() });
            int next = (k + 1) % n;
            PlanePoint from = arcs[k]?.To ?? corners[k].At, to = arcs[next]?.From ?? corners[next].At;
            string[] names = [side, string.Create(CultureInfo.InvariantCulture, $"{side}#{firstName + k + 1}")];
            if (corners[k].ArcToNext is { } arcToNext)
            {
                pieces.Add(arcToNext(from, to, names));
                continue;
            }

            Dual length = (corners[next].At - corners[k].At).Length;
            double spare = (length - trims[k] - trims[next]).Value;
            if (spare < -1e-9)
                Say(place, string.Create(CultureInfo.InvariantCulture, $"{feature}: the corner radii do not fit a side of {length.Value:0.###} mm"), "make the radii smaller or the side longer");
            else if (spare > 1e-9) pieces.Add(new StraightPiece(from, to, names));
        }

        return new Region.Loop(pieces);
    }
}
