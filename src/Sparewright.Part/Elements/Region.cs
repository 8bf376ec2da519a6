using Sparewright.Measure.Numbers;

namespace Sparewright.Part.Elements;

/// <summary>A piece of an outline, from one point to another, with the names of the side face that it makes.</summary>
public abstract record Piece(PlanePoint From, PlanePoint To, IReadOnlyList<string> Names);

/// <summary>A straight piece.</summary>
public sealed record StraightPiece(PlanePoint From, PlanePoint To, IReadOnlyList<string> Names) : Piece(From, To, Names);

/// <summary>An arc about a centre, bending left (counter-clockwise) or right as one goes.</summary>
public sealed record ArcPiece(PlanePoint From, PlanePoint To, PlanePoint Center, bool TurningLeft, IReadOnlyList<string> Names) : Piece(From, To, Names)
{
    public Dual Radius => (From - Center).Length;

    /// <summary>Whether the arc passes through the direction (at given values) from its centre.</summary>
    public bool Sweeps(PlanePoint direction)
    {
        double start = Angle(From - Center), end = Angle(To - Center), at = Angle(direction);
        if (!TurningLeft) (start, end) = (end, start);
        double sweep = Wrapped(end - start);
        return Wrapped(at - start) <= sweep + 1e-12;
    }

    private static double Angle(PlanePoint d) => Math.Atan2(d.V.Value, d.U.Value);

    private static double Wrapped(double angle) => angle - 2 * Math.PI * Math.Floor(angle / (2 * Math.PI));
}

/// <summary>An area on a face: loops and circles, and what joining, taking away and overlapping make of them.</summary>
public abstract record Region
{
    /// <summary>Inside one closed loop; the pieces follow each other head to tail.</summary>
    public sealed record Loop(IReadOnlyList<Piece> Pieces) : Region
    {
        /// <summary>True when the loop runs counter-clockwise, so that the area lies to the left.</summary>
        public bool CounterClockwise => Pieces.Sum(TwiceArea) > 0;

        private static double TwiceArea(Piece piece)
        {
            double chord = PlanePoint.Cross(piece.From, piece.To).Value;
            if (piece is not ArcPiece arc) return chord;
            double r = arc.Radius.Value;
            double angle = Math.Atan2(PlanePoint.Cross(arc.From - arc.Center, arc.To - arc.Center).Value, PlanePoint.Dot(arc.From - arc.Center, arc.To - arc.Center).Value);
            if (arc.TurningLeft && angle < 0) angle += 2 * Math.PI;
            if (!arc.TurningLeft && angle > 0) angle -= 2 * Math.PI;
            return chord + r * r * (angle - Math.Sin(angle));
        }
    }

    /// <summary>A full disc.</summary>
    public sealed record Circle(PlanePoint Center, Dual Radius, IReadOnlyList<string> Names) : Region;

    /// <summary>All of them together.</summary>
    public sealed record Joined(IReadOnlyList<Region> Regions) : Region;

    /// <summary>The first without the others.</summary>
    public sealed record TakenAway(Region First, IReadOnlyList<Region> Others) : Region;

    /// <summary>What all have in common.</summary>
    public sealed record Overlapped(IReadOnlyList<Region> Regions) : Region;
}
