using Sparewright.Measure.Numbers;

namespace Sparewright.Part.Elements;

/// <summary>
/// How far things reach in a direction: the support function of convex geometry, max of p·d over all points p, with its derivatives.
/// </summary>
public static class Support
{
    /// <summary>Reach of a region in a direction of its face.</summary>
    /// <param name="region">The region.</param>
    /// <param name="d">Direction; the reach is in units of its length.</param>
    /// <param name="exact">False when no farthest point of a part could be found that the others leave there, so that the reach is only an upper bound.</param>
    public static Dual Of(Region region, PlanePoint d, out bool exact)
    {
        exact = true;
        switch (region)
        {
            case Region.Circle circle:
                return PlanePoint.Dot(circle.Center, d) + circle.Radius * d.Length;
            case Region.Loop loop:
                return loop.Pieces.Select(p => Of(p, d)).Aggregate(Dual.Max);
            case Region.Joined joined:
                Dual? most = null;
                foreach (Region part in joined.Regions)
                {
                    Dual reach = Of(part, d, out bool partExact);
                    if (most is { } m && reach <= m) continue;
                    (most, exact) = (reach, partExact);
                }

                return most ?? 0;
            case Region.TakenAway taken:
                Dual first = Of(taken.First, d, out exact);
                exact &= TouchingPoints(taken.First, d, first.Value).Any(p => taken.Others.All(r => Inside.Of(r, p) == Whereabouts.Outside));
                return first;
            case Region.Overlapped overlapped:
                Dual least = 0;
                for (int k = 0; k < overlapped.Regions.Count; k++)
                {
                    Dual reach = Of(overlapped.Regions[k], d, out bool partExact);
                    if (k > 0 && reach >= least) continue;
                    least = reach;
                    exact = partExact && TouchingPoints(overlapped.Regions[k], d, reach.Value)
                        .Any(p => overlapped.Regions.Where((_, other) => other != k).All(r => Inside.Of(r, p) != Whereabouts.Outside));
                }

                return least;
            default:
                throw new InvalidOperationException($"unknown region {region}");
        }
    }

    /// <summary>Reach of a tool in a direction of space.</summary>
    public static Dual Of(Tool tool, Vector d)
    {
        Frame f = tool.Frame;
        Dual along = Vector.Dot(f.N, d);
        switch (tool)
        {
            case PrismTool prism:
                var inFace = new PlanePoint(Vector.Dot(f.U, d), Vector.Dot(f.V, d));
                return Vector.Dot(f.Origin, d) + Of(prism.Region, inFace, out _) + Dual.Max(prism.From * along, prism.To * along);
            case TurnedTool turned:
                Dual across2 = 1 - along * along;
                Dual across = across2.Value <= 1e-18 ? 0 : Dual.Sqrt(across2);
                return Vector.Dot(f.Origin, d) + turned.Loop.Select(p => Of(p, new PlanePoint(across, along))).Aggregate(Dual.Max);
            default:
                throw new InvalidOperationException($"unknown tool {tool}");
        }
    }

    /// <summary>Points of the outline that lie at the region's reach: ends, middles and summits of its pieces.</summary>
    private static IEnumerable<PlanePoint> TouchingPoints(Region region, PlanePoint d, double reach)
    {
        IEnumerable<PlanePoint> all = region switch
        {
            Region.Circle circle => [circle.Center + d.Unit() * circle.Radius],
            Region.Loop loop => loop.Pieces.SelectMany(p => PointsOf(p, d)),
            Region.Joined joined => joined.Regions.SelectMany(r => TouchingPoints(r, d, reach)),
            Region.TakenAway taken => TouchingPoints(taken.First, d, reach).Where(p => taken.Others.All(r => Inside.Of(r, p) == Whereabouts.Outside)),
            Region.Overlapped overlapped => overlapped.Regions.SelectMany(r => TouchingPoints(r, d, reach)).Where(p => overlapped.Regions.All(r => Inside.Of(r, p) != Whereabouts.Outside)),
            _ => throw new InvalidOperationException($"unknown region {region}"),
        };
        return all.Where(p => PlanePoint.Dot(p, d).Value > reach - 1e-9);
    }

    private static IEnumerable<PlanePoint> PointsOf(Piece piece, PlanePoint d)
    {
        if (piece is ArcPiece arc) return arc.Sweeps(d) ? [arc.From, arc.To, arc.Center + d.Unit() * arc.Radius] : [arc.From, arc.To];
        return [piece.From, piece.To, (piece.From + piece.To) * 0.5];
    }

    private static Dual Of(Piece piece, PlanePoint d)
    {
        Dual ends = Dual.Max(PlanePoint.Dot(piece.From, d), PlanePoint.Dot(piece.To, d));
        return piece is ArcPiece arc && arc.Sweeps(d) ? Dual.Max(ends, PlanePoint.Dot(arc.Center, d) + arc.Radius * d.Length) : ends;
    }
}
