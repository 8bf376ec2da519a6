using System.Globalization;
using Sparewright.Measure.Numbers;
using Sparewright.Part.Shape;

namespace Sparewright.Part.Elements;

/// <summary>Places copies: rows, rings and mirror images. A copy is the placed pattern, moved rigidly and named anew.</summary>
internal static class CopyPlacer
{
    public static void Place(Placement p, Row row)
    {
        if (Pattern(p, row, row.Of) is not var (face, pattern)) return;
        Vector along = row.Along.Vector();
        if (row.FirstAt is not null && row.Along is Direction.Left or Direction.Front or Direction.Down)
        {
            p.Say(row.Place, $"{row.Name}: copies are numbered from the end that is left, front or down, so a row from `first_at` runs right, back or up", "turn `along` round, or give `middle_at`");
            return;
        }

        // Numbered from the left, front or lower end whichever way the row is said to run.
        Vector step = (row.Along is Direction.Left or Direction.Front or Direction.Down ? -along : along) * p.Positive(row, row.Pitch, "the pitch");
        Vector first = row.FirstAt is { } at
            ? face.Along(p.Value(at))
            : face.Along(row.MiddleAt is { } middle ? p.Value(middle) : new(0, 0)) - step * ((row.Count - 1) / 2.0);
        Copy(p, row, row.Of, pattern, row.Count, k => Rigid.Translation(first + step * k));
    }

    public static void Place(Placement p, Ring ring)
    {
        if (Pattern(p, ring, ring.Of) is not var (face, pattern)) return;
        Dual radius = p.Positive(ring, ring.PitchCircle, "the pitch circle") / 2;
        Dual firstAngle = (ring.FirstAngle is null ? 0 : p.Value(ring.FirstAngle)) * (Math.PI / 180);
        PlanePoint middle = p.Value(ring.MiddleAt);
        Vector center = face.At(middle), axis = Vector.Cross(face.U, face.V);
        Vector outward = face.Along(middle + new PlanePoint(radius, 0));
        Copy(p, ring, ring.Of, pattern, ring.Count, k =>
        {
            Rigid turn = Rigid.Rotation(center, axis, firstAngle + 2 * Math.PI * k / ring.Count);
            return turn with { Shift = turn.Point(outward) };
        });
    }

    public static void Place(Placement p, MirrorImage mirror)
    {
        if (p.Flat(mirror.Across) is not { } plane) return;
        Rigid map = Rigid.Mirror(plane.Point, plane.Normal);
        var originals = mirror.Of.Select(o => o.Feature).ToHashSet(StringComparer.Ordinal);
        bool single = originals.Count == 1;
        // A row's or ring's faces bear the name of its copies, not its own.
        originals.UnionWith(mirror.Of.Select(o => p.CopiesOf.GetValueOrDefault(o.Feature)).OfType<string>());
        string Image(string feature) => single && feature == mirror.Of[0].Feature ? mirror.Name : $"{mirror.Name}.{feature}";
        string Rename(string name) => OwnerAmong(originals, name) is { } owner ? Image(owner) + name[owner.Length..] : name;

        foreach ((string feature, Place place) in mirror.Of)
        {
            var placed = p.Features.Where(f => f.Name == feature).ToList();
            if (placed.Count == 0)
            {
                p.Say(place, $"{mirror.Name}: there is no feature `{feature}` to mirror here", "name features that stand before it in the list");
                continue;
            }

            foreach (PlacedFeature original in placed)
            {
                PlacedFeature image = Moved(original, map, Rename) with { Name = Image(feature), Place = mirror.Place };
                if (image is Combination c) p.Add(c);
                else p.Features.Add(image);
            }
        }

        foreach (Element element in p.Elements.Values.Where(e => OwnerAmong(originals, e.Name) is not null).ToList())
            p.Add(Moved(element, map, Rename));
    }

    private static string? OwnerAmong(HashSet<string> features, string element) =>
        features.FirstOrDefault(f => element == f || element.StartsWith(f + ".", StringComparison.Ordinal) || element.StartsWith(f + "#", StringComparison.Ordinal));

    /// <summary>The copied feature placed at the face's origin by itself, and that face's frame.</summary>
    private static (Frame Face, Placement Pattern)? Pattern(Placement p, Feature copies, Feature of)
    {
        ElementName ground = new("ground", of.Place);
        (ElementName faceName, Feature atOrigin) = of switch
        {
            Plate plate => (plate.StandsOn, plate with { At = plate.At ?? FacePoint.Origin }),
            Boss boss => (boss.StandsOn, boss with { At = boss.At ?? FacePoint.Origin }),
            TurnedShape turned => (turned.StandsOn, turned with { At = turned.At ?? FacePoint.Origin }),
            Rib rib => (rib.StandsOn, rib),
            Block block => (ground, block),
            Hole { Start: HoleStart.FromFace start } hole => (start.Face, hole with { Start = start with { At = start.At ?? FacePoint.Origin } }),
            Hole hole => (ground, hole),
            Slot slot => (slot.From, slot),
            Pocket pocket => (pocket.From, pocket with { At = pocket.At ?? FacePoint.Origin }),
            _ => (ground, (Feature?)null!),
        };
        if (atOrigin is null)
        {
            p.Say(of.Place, $"{copies.Name}: a row or ring cannot copy this kind of feature", "copy a plate, boss, block, turned shape, rib, hole, slot or pocket");
            return null;
        }

        if (p.Face(faceName) is not { } face) return null;
        Placement pattern = p.Apart();
        int before = p.Problems.Count;
        ShapePlacer.Place(pattern, atOrigin);
        return p.Problems.Count == before ? (face, pattern) : null;
    }

    private static void Copy(Placement p, Feature copies, Feature of, Placement pattern, int count, Func<int, Rigid> where)
    {
        var originals = new HashSet<string>(StringComparer.Ordinal) { of.Name };
        var own = pattern.Elements.Values.Where(e => OwnerAmong(originals, e.Name) is not null).ToList();
        var tools = new List<Tool>();
        bool joins = false;
        p.CopiesOf[copies.Name] = of.Name;
        for (int k = 0; k < count; k++)
        {
            Rigid map = where(k);
            string name = string.Create(CultureInfo.InvariantCulture, $"{of.Name}#{k + 1}");
            string Rename(string old) => OwnerAmong(originals, old) is null ? old : name + old[of.Name.Length..];
            foreach (Element element in own) p.Add(Moved(element, map, Rename));
            foreach (Combination combination in pattern.Features.Cast<Combination>())
            {
                var moved = (Combination)Moved(combination, map, Rename);
                joins = moved.Joins;
                tools.AddRange(moved.Tools);
                if (joins) p.NoteAdded(name, moved.Tools);
            }
        }

        p.Add(new Combination(copies.Name, joins, tools, copies.Place));
    }

    private static PlacedFeature Moved(PlacedFeature feature, Rigid map, Func<string, string> rename) => feature switch
    {
        Combination c => c with { Tools = [.. c.Tools.Select(t => Moved(t, map, rename))] },
        EdgeTreatment e => e with
        {
            Edges = e.Edges switch
            {
                PlacedEdges.Meeting m => new PlacedEdges.Meeting(rename(m.First), rename(m.Second), m.Near is { } near ? map.Point(near) : null),
                PlacedEdges.OfFeature o => new PlacedEdges.OfFeature(rename(o.Feature), [.. o.Except.Select(x => (rename(x.First), rename(x.Second)))]),
                _ => throw new InvalidOperationException($"unknown edges {e.Edges}"),
            },
        },
        _ => throw new InvalidOperationException($"unknown feature {feature}"),
    };

    private static Tool Moved(Tool tool, Rigid map, Func<string, string> rename) => tool switch
    {
        PrismTool t => t with { Frame = map.Apply(t.Frame), Region = Renamed(t.Region, rename), FromNames = [.. t.FromNames.Select(rename)], ToNames = [.. t.ToNames.Select(rename)] },
        TurnedTool t => t with { Frame = map.Apply(t.Frame), Loop = [.. t.Loop.Select(q => q with { Names = [.. q.Names.Select(rename)] })] },
        _ => throw new InvalidOperationException($"unknown tool {tool}"),
    };

    private static Region Renamed(Region region, Func<string, string> rename) => region switch
    {
        Region.Loop l => new Region.Loop([.. l.Pieces.Select(q => q with { Names = [.. q.Names.Select(rename)] })]),
        Region.Circle c => c with { Names = [.. c.Names.Select(rename)] },
        Region.Joined j => new Region.Joined([.. j.Regions.Select(r => Renamed(r, rename))]),
        Region.Overlapped o => new Region.Overlapped([.. o.Regions.Select(r => Renamed(r, rename))]),
        Region.TakenAway t => new Region.TakenAway(Renamed(t.First, rename), [.. t.Others.Select(r => Renamed(r, rename))]),
        _ => throw new InvalidOperationException($"unknown region {region}"),
    };

    private static Element Moved(Element element, Rigid map, Func<string, string> rename)
    {
        Element moved = element switch
        {
            FlatElement e => e with
            {
                Point = map.Point(e.Point),
                Normal = map.Direction(e.Normal),
                Rectangle = e.Rectangle is { } r ? r with { Middle = map.Point(r.Middle), First = map.Direction(r.First), Second = map.Direction(r.Second) } : null,
                Coordinates = e.Coordinates is { } f ? map.Apply(f) : null,
            },
            RoundElement e => e with { AxisPoint = map.Point(e.AxisPoint), AxisDirection = map.Direction(e.AxisDirection) },
            ConeElement e => e with { BasePoint = map.Point(e.BasePoint), AxisDirection = map.Direction(e.AxisDirection) },
            AxisElement e => e with { Point = map.Point(e.Point), Direction = map.Direction(e.Direction) },
            SideElement e => e with { Frame = map.Apply(e.Frame), Region = Renamed(e.Region, rename) },
            _ => element,
        };
        return moved with { Name = rename(element.Name) };
    }
}
