namespace Sparewright.BlindRemakes.Printing;

/// <summary>Where something meets a part of a family.</summary>
/// <param name="Kind">As the job says it: rod, pin, screw, hole …</param>
/// <param name="Where">Which key and element.</param>
/// <param name="Size">The size that may change for it.</param>
/// <param name="Upright">What it is when the part stands as drawn; what when it lies on its side.</param>
/// <param name="Holes">How many such holes there are; two are a row of which the pitch matters as well.</param>
/// <param name="OnBed">Whether it begins on the bed when the part stands as drawn, where the first layers flare out.</param>
internal sealed record Meet(string Kind, string Name, string Where, string Size, Made Upright, Made Lying, int Holes = 1, bool OnBed = false)
{
    /// <summary>True where the part is what goes in.</summary>
    public bool IsOver => Upright is Made.Outside or Made.Height;

    /// <summary>True where a caliper's inside jaws stand in a bore of the counterpart, or a hole of the part is round.</summary>
    public bool IsRound => Kind is not ("plate" or "groove");
}

/// <summary>What meets the parts of a family, and how heavy they are: by plain arithmetic, nothing of the engine.</summary>
/// <param name="Volume">mm³.</param>
internal sealed record Meetings(string Family, IReadOnlyList<Meet> Meets, Func<IReadOnlyDictionary<string, double>, double> Volume, string? PitchSize = null)
{
    private static double Disc(double d) => Math.PI / 4 * d * d;

    public static IReadOnlyList<Meetings> All { get; } =
    [
        new("bush with a collar",
        [
            new("rod", "stay", "goes_through: bore", "bore", Made.HoleUpright, Made.HoleLying, OnBed: true), new("hole", "seat", "goes_over: tube", "od", Made.Outside, Made.Height),
        ], s => Disc(s["collar_d"]) * s["collar_t"] + Disc(s["od"]) * s["len"] - Disc(s["bore"]) * (s["collar_t"] + s["len"])),
        new("plate with two holes", [new("screw", "bolts", "through: holes", "hole", Made.HoleUpright, Made.HoleLying, 2, OnBed: true)], s => (s["long"] * s["wide"] - 2 * Disc(s["hole"])) * s["t"], "pitch"),
        new("knob with a D-bore", [new("shaft", "spindle", "goes_into: bore", "bore", Made.HoleUpright, Made.HoleLying, OnBed: true)], s => Disc(s["stem_d"]) * s["stem_h"] + Disc(s["knob_d"]) * s["knob_h"] - Disc(s["bore"]) * s["deep"]),
        new("lever with two eyes",
        [
            new("rod", "axle", "goes_through: big", "big_hole", Made.HoleUpright, Made.HoleLying, OnBed: true), new("pin", "link", "goes_through: small", "small_hole", Made.HoleUpright, Made.HoleLying, OnBed: true),
        ], s => s["t"] * (s["reach"] * (s["hub"] + s["eye"]) / 2 + Disc(s["eye"]) / 2) + Disc(s["hub"]) * s["hub_h"] - Disc(s["big_hole"]) * s["hub_h"] - Disc(s["small_hole"]) * s["t"]),
        new("angle bracket", [new("screw", "bolt", "through: eye", "hole", Made.HoleUpright, Made.HoleLying, OnBed: true)], s => s["wide"] * s["t"] * (s["leg"] + s["tall"] - s["t"]) - Disc(s["hole"]) * s["t"]),
        new("rod guide", [new("rod", "rail", "goes_through: bore", "rod", Made.HoleUpright, Made.HoleLying, OnBed: true)], s => (s["long"] * s["wide"] - Disc(s["rod"])) * s["t"]),
        new("rail on a base",
        [
            new("pin", "stop", "goes_through: peg", "peg", Made.HoleUpright, Made.HoleLying, OnBed: true), new("groove", "track", "goes_over: ridge", "rail", Made.Outside, Made.Height),
        ], s => s["long"] * s["wide"] * s["t"] + s["long"] * s["rail"] * s["rail_h"] - Disc(s["peg"]) * s["t"]),
        new("moulded cap", [new("rod", "stub", "goes_into: well", "well_d", Made.HoleUpright, Made.HoleLying, OnBed: true)], s => Disc(s["rim_d"]) * s["rim_t"] + Disc(s["cap_d"]) * s["cap_h"] - Disc(s["well_d"]) * s["deep"]),
        new("latch block",
        [
            new("plate", "blade", "goes_into: gap", "gap", Made.Slot, Made.Slot), new("groove", "keep", "goes_over: body.top", "tall", Made.Height, Made.Outside),
        ], s => s["long"] * s["wide"] * s["tall"] - s["gap"] * s["wide"] * s["deep"]),
    ];
}
