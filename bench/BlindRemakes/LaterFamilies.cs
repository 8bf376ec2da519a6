namespace Sparewright.BlindRemakes;

/// <summary>
/// Families that were drawn up after the tool's choices had been made, so that nothing was tuned on them: with features in the middle of others, bores for tubes and rods, and mouldings that shrank.
/// </summary>
internal static class LaterFamilies
{
    public static IReadOnlyList<Family> All { get; } = [RodGuide(), Rail(), Cap()];

    private static Family RodGuide() => Of("rod guide", [("long", 50), ("wide", 24), ("t", 8), ("bore_x", 25), ("bore_y", 12), ("rod", 12)], """
          - {block: foot, long: long, deep: wide, tall: t, corner_at: [0, 0, 0]}
          - {hole: bore, from: foot.top, at: [bore_x, bore_y], diameter: rod, through: foot}
        """,
        new Places().Faces(0, "foot.left", _ => 0, "foot.right", s => s["long"]).Faces(1, "foot.front", _ => 0, "foot.back", s => s["wide"]).Faces(2, "foot.bottom", _ => 0, "foot.top", s => s["t"])
            .Round("bore.wall", s => [s["bore_x"], s["bore_y"]], s => s["rod"], hollow: true),
        [
            "outside: [foot.left, foot.right]", "outside: [foot.front, foot.back]", "outside: [foot.bottom, foot.top]", "inside: bore.wall",
            "outside: [bore.wall, foot.left]", "outside: [bore.wall, foot.right]", "outside: [bore.wall, foot.front]", "outside: [bore.wall, foot.back]",
        ]) with
    {
        Middles = [("bore_x", s => s["long"] / 2), ("bore_y", s => s["wide"] / 2)],
        Tubes = ["rod"],
    };

    private static Family Rail() => Of("rail on a base", [("long", 44), ("wide", 36), ("t", 5), ("rail", 6), ("rail_h", 14), ("rail_y", 15), ("peg", 5), ("peg_x", 22), ("peg_y", 7)], """
          - {block: base, long: long, deep: wide, tall: t, corner_at: [0, 0, 0]}
          - {block: ridge, long: long, deep: rail, tall: rail_h, corner_at: [0, rail_y, t]}
          - {hole: peg, from: base.top, at: [peg_x, peg_y], diameter: peg, through: base}
        """,
        new Places().Faces(0, "base.left", _ => 0, "base.right", s => s["long"]).Faces(0, "ridge.left", _ => 0, "ridge.right", s => s["long"])
            .Faces(1, "base.front", _ => 0, "base.back", s => s["wide"]).Faces(1, "ridge.front", s => s["rail_y"], "ridge.back", s => s["rail_y"] + s["rail"])
            .Faces(2, "base.bottom", _ => 0, "base.top", s => s["t"]).Faces(2, "ridge.bottom", s => s["t"], "ridge.top", s => s["t"] + s["rail_h"])
            .Round("peg.wall", s => [s["peg_x"], s["peg_y"]], s => s["peg"], hollow: true),
        [
            "outside: [base.left, base.right]", "outside: [base.front, base.back]", "outside: [base.bottom, base.top]", "outside: [ridge.front, ridge.back]", "outside: [base.bottom, ridge.top]", "depth: [base.top, ridge.top]",
            "depth: [base.front, ridge.front]", "depth: [base.back, ridge.back]", "inside: peg.wall", "outside: [peg.wall, base.left]", "outside: [peg.wall, base.right]", "outside: [peg.wall, base.front]",
        ]) with
    {
        Middles = [("rail_y", s => (s["wide"] - s["rail"]) / 2), ("peg_x", s => s["long"] / 2)],
        MakesSense = s => s["rail_y"] > s["peg_y"] + s["peg"] / 2 + 1 && s["rail_y"] + s["rail"] < s["wide"] - 1,
    };

    private static Family Cap() => Of("moulded cap", [("rim_d", 40), ("rim_t", 3), ("cap_d", 26), ("cap_h", 12), ("well_d", 20), ("deep", 11)], """
          - {boss: rim, diameter: rim_d, height: rim_t}
          - {boss: cap, stands_on: rim.top, diameter: cap_d, height: cap_h}
          - {hole: well, from: rim.bottom, diameter: well_d, depth: deep}
        """,
        new Places().Faces(2, "rim.bottom", _ => 0, "rim.top", s => s["rim_t"]).Faces(2, "cap.bottom", s => s["rim_t"], "cap.top", s => s["rim_t"] + s["cap_h"]).Face(2, "well.end", s => s["deep"])
            .Round("rim.side", _ => [0, 0], s => s["rim_d"], hollow: false).Round("cap.side", _ => [0, 0], s => s["cap_d"], hollow: false).Round("well.wall", _ => [0, 0], s => s["well_d"], hollow: true),
        [
            "outside: rim.side", "outside: cap.side", "outside: [rim.bottom, rim.top]", "outside: [cap.top, rim.bottom]", "depth: [cap.top, rim.top]", "inside: well.wall", "depth: [rim.bottom, well.end]",
            "outside: [cap.side, well.wall]", "outside: [rim.side, cap.side]",
        ]) with
    {
        IsMoulded = true,
        MakesSense = s => s["rim_d"] > s["cap_d"] + 2 && s["cap_d"] > s["well_d"] + 2 && s["deep"] < s["rim_t"] + s["cap_h"] - 1 && s["deep"] > s["rim_t"] + 1,
    };

    private static Family Of(string name, IReadOnlyList<(string, double)> typical, string shape, Places places, IReadOnlyList<string> naive)
    {
        Dictionary<string, Measurable> all = places.All.ToDictionary(m => m.Text, StringComparer.Ordinal);
        Measurable Named(string text) => all.GetValueOrDefault(text) ?? all[Turned(text)];
        HashSet<string> listed = [.. naive.Select(n => Named(n).Text)];
        return new(name, typical, shape, [.. naive.Select(Named)], [.. all.Values.Where(m => !listed.Contains(m.Text))], IsHeldOut: true);
    }

    /// <summary>The two faces named the other way round.</summary>
    private static string Turned(string text)
    {
        int open = text.IndexOf('[', StringComparison.Ordinal);
        string[] two = text[(open + 1)..^1].Split(", ");
        return $"{text[..open]}[{two[1]}, {two[0]}]";
    }
}
