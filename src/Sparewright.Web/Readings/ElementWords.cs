using Sparewright.Measure.Quantities;
using Sparewright.Part.Elements;

namespace Sparewright.Web.Readings;

/// <summary>Elements that jaws or gauge leaves are put to, with what they look like in words.</summary>
internal static class ElementWords
{
    /// <summary>What a reading of this way can name, in the order of the names.</summary>
    public static IReadOnlyList<(string Name, string Words)> For(DraftWay way, PlacedShape? shape, LengthUnit unit)
    {
        if (shape is null) return [];
        var all = shape.Elements.Values.OrderBy(e => e.Name, StringComparer.Ordinal);
        return way switch
        {
            DraftWay.Weight => [("whole", "the whole part")],
            DraftWay.RadiusGauge => [.. all.OfType<EdgeFaceElement>().Select(e => (e.Name.EndsWith(".face", StringComparison.Ordinal) ? e.Name[..^".face".Length] : e.Name, $"R {LengthsShown.WithUnit(e.Radius.Value, unit)}"))],
            DraftWay.Depth or DraftWay.Step => [.. all.OfType<FlatElement>().Where(IsFace).Select(e => (e.Name, Of(e, unit)))],
            _ => [.. all.Where(e => e is FlatElement or RoundElement or SideElement or ConeElement && IsFace(e)).Where(IsFace).Select(e => (e.Name, Of(e, unit)))],
        };
    }

    public static string Of(Element element, LengthUnit unit) => element switch
    {
        RoundElement r => $"{(r.Hollow ? "hollow, " : "")}⌀ {LengthsShown.WithUnit(2 * r.Radius.Value, unit)}",
        SideElement s => s.Hollow ? "goes all round, hollow" : "goes all round",
        ConeElement => "a cone",
        FlatElement f => $"flat, faces {Facing(f)}",
        _ => "",
    };

    /// <summary>Datums bear plain names, faces those of their feature and their own.</summary>
    private static bool IsFace(Element element) => element.Name.Contains('.', StringComparison.Ordinal);

    private static string Facing(FlatElement flat)
    {
        (double Along, string Word)[] ways =
        [
            (flat.Normal.X.Value, "right"), (-flat.Normal.X.Value, "left"), (flat.Normal.Y.Value, "back"), (-flat.Normal.Y.Value, "front"),
            (flat.Normal.Z.Value, "up"), (-flat.Normal.Z.Value, "down"),
        ];
        var (along, word) = ways.MaxBy(w => w.Along);
        return along > 0.999 ? word : "aslant";
    }
}
