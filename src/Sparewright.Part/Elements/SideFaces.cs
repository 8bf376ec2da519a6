using Sparewright.Measure.Numbers;

namespace Sparewright.Part.Elements;

/// <summary>The elements that the sides of a prism or the surface of a turned shape bring with them.</summary>
internal static class SideFaces
{
    /// <summary>One element for each numbered or named piece of the region.</summary>
    /// <param name="group">The name of the whole side, borne by all pieces, which is no single face.</param>
    /// <param name="cuts">True when the prism is taken away, so that the faces look the other way.</param>
    public static IEnumerable<Element> OfPrism(Frame frame, Region region, string? group, bool cuts)
    {
        switch (region)
        {
            case Region.Circle circle:
                foreach (string name in circle.Names.Where(n => n != group))
                    yield return new RoundElement(name, frame.At(circle.Center), frame.N, circle.Radius, cuts);
                break;
            case Region.Loop loop:
                bool areaLeft = loop.CounterClockwise;
                foreach (Piece piece in loop.Pieces)
                    foreach (string name in piece.Names.Where(n => n != group))
                        yield return OfPiece(frame, piece, name, areaLeft != cuts);
                break;
            case Region.Joined joined:
                foreach (Element e in joined.Regions.SelectMany(r => OfPrism(frame, r, group, cuts))) yield return e;
                break;
            case Region.Overlapped overlapped:
                foreach (Element e in overlapped.Regions.SelectMany(r => OfPrism(frame, r, group, cuts))) yield return e;
                break;
            case Region.TakenAway taken:
                foreach (Element e in OfPrism(frame, taken.First, group, cuts)) yield return e;
                foreach (Element e in taken.Others.SelectMany(r => OfPrism(frame, r, group, !cuts))) yield return e;
                break;
        }
    }

    private static Element OfPiece(Frame frame, Piece piece, string name, bool materialLeft)
    {
        if (piece is ArcPiece arc) return new RoundElement(name, frame.At(arc.Center), frame.N, arc.Radius, arc.TurningLeft != materialLeft);
        PlanePoint left = (piece.To - piece.From).Unit().Left;
        return new FlatElement(name, frame.At((piece.From + piece.To) * 0.5), frame.Along(materialLeft ? left * -1 : left));
    }

    /// <summary>One element for each named piece of a loop turned about the frame's n.</summary>
    public static IEnumerable<Element> OfTurned(Frame frame, IReadOnlyList<Piece> loop, string? group, bool cuts)
    {
        bool materialLeft = new Region.Loop(loop).CounterClockwise != cuts;
        foreach (Piece piece in loop)
        {
            if (OnAxis(piece)) continue;
            foreach (string name in piece.Names.Where(n => n != group)) yield return OfTurnedPiece(frame, piece, name, materialLeft);
        }
    }

    /// <summary>Whether a piece of a turned loop lies on the axis, where it makes no face.</summary>
    public static bool OnAxis(Piece piece) => piece is StraightPiece && Math.Abs(piece.From.U.Value) < 1e-12 && Math.Abs(piece.To.U.Value) < 1e-12;

    private static Element OfTurnedPiece(Frame frame, Piece piece, string name, bool materialLeft)
    {
        if (piece is ArcPiece arc)
            return new CurvedElement(name, Math.Abs(arc.Center.U.Value) < 1e-9 ? "ball-shaped" : "ring-shaped");
        PlanePoint along = piece.To - piece.From, left = along.Unit().Left, outward = materialLeft ? left * -1 : left;
        if (Math.Abs(along.U.Value) < 1e-12)
            return new RoundElement(name, frame.At(new(0, 0), piece.From.V), frame.N, piece.From.U, outward.U.Value < 0);
        if (Math.Abs(along.V.Value) < 1e-12)
            return new FlatElement(name, frame.At(new(0, 0), piece.From.V), outward.V.Value > 0 ? frame.N : -frame.N);
        Dual slope = along.U / along.V;
        return new ConeElement(name, frame.At(new(0, 0), piece.From.V), frame.N, piece.From.U, slope, outward.U.Value < 0);
    }
}
