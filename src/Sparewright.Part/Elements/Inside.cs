using Sparewright.Measure.Numbers;

namespace Sparewright.Part.Elements;

/// <summary>Where a point lies to a region, at given values.</summary>
public enum Whereabouts { Outside, OnEdge, Inside }

/// <summary>Tells whether a point lies in a region: by the turns that the outline makes about it.</summary>
public static class Inside
{
    /// <summary>Nearer than this to an outline counts as on it, mm.</summary>
    private const double OnEdgeMm = 1e-9;

    public static Whereabouts Of(Region region, PlanePoint p)
    {
        switch (region)
        {
            case Region.Circle circle:
                double beyond = (p - circle.Center).Length.Value - circle.Radius.Value;
                return Math.Abs(beyond) < OnEdgeMm ? Whereabouts.OnEdge : beyond < 0 ? Whereabouts.Inside : Whereabouts.Outside;
            case Region.Loop loop:
                if (loop.Pieces.Any(piece => Distance(piece, p) < OnEdgeMm)) return Whereabouts.OnEdge;
                double turns = loop.Pieces.Sum(piece => AngleSeen(piece, p)) / (2 * Math.PI);
                return Math.Abs(turns) > 0.5 ? Whereabouts.Inside : Whereabouts.Outside;
            case Region.Joined joined:
                return joined.Regions.Max(r => Of(r, p));
            case Region.Overlapped overlapped:
                return overlapped.Regions.Min(r => Of(r, p));
            case Region.TakenAway taken:
                return (Whereabouts)Math.Min((int)Of(taken.First, p), taken.Others.Min(r => (int)Whereabouts.Inside - (int)Of(r, p)));
            default:
                throw new InvalidOperationException($"unknown region {region}");
        }
    }

    private static double Distance(Piece piece, PlanePoint p)
    {
        PlanePoint along = piece.To - piece.From;
        if (piece is ArcPiece arc)
        {
            PlanePoint from = p - arc.Center;
            if (from.Length.Value > 0 && arc.Sweeps(from)) return Math.Abs(from.Length.Value - arc.Radius.Value);
            return Math.Min((p - arc.From).Length.Value, (p - arc.To).Length.Value);
        }

        double length2 = PlanePoint.Dot(along, along).Value;
        double at = length2 == 0 ? 0 : Math.Clamp(PlanePoint.Dot(p - piece.From, along).Value / length2, 0, 1);
        return (p - (piece.From + along * at)).Length.Value;
    }

    /// <summary>By how much the line of sight from p turns as one goes along the piece.</summary>
    private static double AngleSeen(Piece piece, PlanePoint p)
    {
        PlanePoint from = piece.From - p, to = piece.To - p;
        double chord = Math.Atan2(PlanePoint.Cross(from, to).Value, PlanePoint.Dot(from, to).Value);
        if (piece is not ArcPiece arc || (p - arc.Center).Length.Value >= arc.Radius.Value) return chord;

        // From within the circle the sight turns the arc's own way all along, by less than a full turn.
        if (arc.TurningLeft) return chord < 0 ? chord + 2 * Math.PI : chord;
        return chord > 0 ? chord - 2 * Math.PI : chord;
    }
}
