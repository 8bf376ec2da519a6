using Sparewright.Measure.Numbers;
using Sparewright.Part.Elements;
using Sparewright.Part.Record;
using Sparewright.Part.Shape;

namespace Sparewright.Reconcile.Readings;

/// <summary>At which heights to read faces that lean by their draft: what jaws find on them differs from height to height.</summary>
/// <param name="there">The faces that are really there, by whose points their ends are known; without it only the height is asked for at which the sizes hold.</param>
internal sealed class DraftHeights(IReadOnlyList<Draft> drafts, PlacedShape shape, IReadOnlyDictionary<string, FaceInPlace>? there = null)
{
    /// <summary>Two heights nearer than this tell nothing of a draft, mm. Our judgement.</summary>
    private const double LeastApartMm = 4;

    private readonly Dictionary<string, (double Low, double High)?> _ends = new(StringComparer.Ordinal);

    /// <summary>Everything is read here, where it is said.</summary>
    public double? Only { get; init; }

    public IReadOnlyList<Draft> Drafts => drafts;

    /// <summary>
    /// Along the way in which the mould opened; null where neither face leans. While a draft is to be found it is asked for at two heights, near both ends of what the faces have in common, for by one alone it would stay open;
    /// else at one, as near as can be to where the sizes hold.
    /// </summary>
    public IReadOnlyList<double>? Of(string first, string? second)
    {
        if (drafts.Count == 0 || (Leaning(first) ?? (second is null ? null : Leaning(second))) is not { } draft) return null;
        if (Only is { } only) return [only];
        double holds = draft.SizesAt.At(shape.Sizes).Value;
        if (there is null) return [holds];
        double low = double.NegativeInfinity, high = double.PositiveInfinity;
        foreach (string name in second is null ? (string[])[first] : [first, second])
        {
            if (Leaning(name) is null) continue;
            if (EndsOf(name, draft.Thins, there) is not { } ends) return [];
            (low, high) = (Math.Max(low, ends.Low), Math.Min(high, ends.High));
        }

        // Jaws are set by eye: whole mm, where there are such.
        if (Math.Ceiling(low) <= Math.Floor(high)) (low, high) = (Math.Ceiling(low), Math.Floor(high));
        if (low > high) return [];
        return high - low >= LeastApartMm && draft.Angle.At(shape.Sizes).Gradient.Unknowns.Length > 0 ? [low, high] : [Math.Clamp(holds, low, high)];
    }

    /// <summary>Between which heights the known points of a face lie; null where it is not there.</summary>
    private (double Low, double High)? EndsOf(string name, Direction way, IReadOnlyDictionary<string, FaceInPlace> faces)
    {
        if (_ends.TryGetValue(name, out var known)) return known;
        double[] along = faces.TryGetValue(name, out FaceInPlace? face) ? [.. face.Points.Select(p => Along(p, way))] : [];
        return _ends[name] = along.Length == 0 ? null : (along.Min(), along.Max());
    }

    private Draft? Leaning(string name) => drafts.FirstOrDefault(d => d.IsOf(new(name, Part.Place.None)));

    private static double Along(Vector point, Direction way) => way switch
    {
        Direction.Left or Direction.Right => point.X.Value,
        Direction.Front or Direction.Back => point.Y.Value,
        _ => point.Z.Value,
    };
}
