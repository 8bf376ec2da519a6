namespace Sparewright.BlindRemakes;

/// <summary>Something that can be measured on a part of a family.</summary>
/// <param name="Text">As the job file says it, without what it reads.</param>
/// <param name="Way">o, i, d or s: outside, inside, depth, step.</param>
/// <param name="True">What a perfect caliper would show, by plain arithmetic on the part's sizes: written down here by hand, not taken from the engine.</param>
/// <param name="Holes">Diameters of round holes in which inside jaws with flats would read small: across the hole itself (one), or on far walls (two).</param>
internal sealed record Measurable(string Text, char Way, Func<IReadOnlyDictionary<string, double>, double> True, Func<IReadOnlyDictionary<string, double>, double[]>? Holes = null);

/// <summary>A kind of part whose sizes vary.</summary>
/// <param name="Typical">Each size with what it is about, mm; designers choose around it.</param>
/// <param name="Shape">The shape as the job file says it.</param>
/// <param name="Naive">How somebody without a plan measures it: in this order.</param>
/// <param name="More">What else can be measured, for somebody with a plan.</param>
/// <param name="IsHeldOut">Never looked at while anything in the tool was chosen. (The angle bracket once was such; the choice of checks in the plan has seen it since.)</param>
internal sealed record Family(string Name, IReadOnlyList<(string Size, double About)> Typical, string Shape, IReadOnlyList<Measurable> Naive, IReadOnlyList<Measurable> More, bool IsHeldOut = false)
{
    /// <summary>Sizes that put something into the middle of something else, and where that is; designers do so in most cases.</summary>
    public IReadOnlyList<(string Size, Func<IReadOnlyDictionary<string, double>, double> Middle)> Middles { get; init; } = [];

    /// <summary>Diameters that are mostly made for a tube or a rod.</summary>
    public IReadOnlyList<string> Tubes { get; init; } = [];

    /// <summary>Made in a mould, in which half of them shrank from what was drawn.</summary>
    public bool IsMoulded { get; init; }

    /// <summary>What there can be.</summary>
    public Func<IReadOnlyDictionary<string, double>, bool> MakesSense { get; init; } = _ => true;

    private readonly Dictionary<string, Measurable> _measurables = Naive.Concat(More).ToDictionary(m => Key(m.Text), StringComparer.Ordinal);

    /// <summary>By what a job says of it, the order of the two faces apart; null for what nobody wrote down here.</summary>
    public Measurable? Measurable(string text) => _measurables.GetValueOrDefault(Key(text));

    private static string Key(string text) => string.Join(' ', text.Split([':', ' ', ',', '[', ']'], StringSplitOptions.RemoveEmptyEntries).Order(StringComparer.Ordinal));
}

/// <summary>The families and their mix: each is drawn as often as any other.</summary>
internal static class Families
{
    private static double[] One(double d) => [d];

    /// <summary>All of them, those that were drawn up later last.</summary>
    public static IReadOnlyList<Family> All => [.. First, .. LaterFamilies.All];

    private static IReadOnlyList<Family> First { get; } =
    [
        new("bush with a collar", [("od", 18), ("bore", 10), ("len", 26), ("collar_d", 28), ("collar_t", 4)], """
              - {boss: collar, diameter: collar_d, height: collar_t}
              - {boss: tube, stands_on: collar.top, diameter: od, height: len}
              - {hole: bore, from: tube.top, diameter: bore, through: whole part}
            """,
        [
            new("outside: tube.side", 'o', s => s["od"]), new("inside: bore.wall", 'i', s => s["bore"], s => One(s["bore"])), new("outside: [tube.side, bore.wall]", 'o', s => (s["od"] - s["bore"]) / 2),
            new("outside: [collar.bottom, tube.top]", 'o', s => s["collar_t"] + s["len"]), new("outside: [collar.bottom, collar.top]", 'o', s => s["collar_t"]), new("depth: [tube.top, collar.top]", 'd', s => s["len"]),
            new("outside: collar.side", 'o', s => s["collar_d"]), new("outside: [collar.side, bore.wall]", 'o', s => (s["collar_d"] - s["bore"]) / 2), new("outside: [tube.side, collar.side]", 'o', s => (s["od"] + s["collar_d"]) / 2),
        ],
        [
            new("depth: [collar.bottom, tube.top]", 'd', s => s["collar_t"] + s["len"]), new("step: [tube.top, collar.top]", 's', s => s["len"]), new("depth: [collar.bottom, collar.top]", 'd', s => s["collar_t"]),
        ]),
        new("plate with two holes", [("long", 60), ("wide", 24), ("t", 4), ("pitch", 40), ("hole", 5)], """
              - {plate: base, thickness: t, outline: {rectangle: [long, wide], middle_at: [0, 0]}}
              - row: holes
                count: 2
                pitch: pitch
                along: right
                middle_at: [0, 0]
                of: {hole: hole, from: base.top, diameter: hole, through: base}
            """,
        [
            new("outside: base.rim, across: right", 'o', s => s["long"]), new("outside: base.rim, across: back", 'o', s => s["wide"]), new("outside: [base.top, base.bottom]", 'o', s => s["t"]),
            new("inside: hole#1.wall", 'i', s => s["hole"], s => One(s["hole"])), new("inside: hole#2.wall", 'i', s => s["hole"], s => One(s["hole"])),
            new("inside: [hole#1.wall, hole#2.wall]", 'i', s => s["pitch"] + s["hole"], s => [s["hole"], s["hole"]]), new("outside: [hole#1.wall, hole#2.wall]", 'o', s => s["pitch"] - s["hole"]),
            new("outside: [hole#1.wall, base.rim#4]", 'o', s => (s["long"] - s["pitch"] - s["hole"]) / 2), new("outside: [hole#2.wall, base.rim#2]", 'o', s => (s["long"] - s["pitch"] - s["hole"]) / 2),
        ],
        [
            new("outside: [hole#1.wall, base.rim#2]", 'o', s => (s["long"] + s["pitch"] - s["hole"]) / 2), new("outside: [hole#2.wall, base.rim#4]", 'o', s => (s["long"] + s["pitch"] - s["hole"]) / 2),
            new("outside: [hole#1.wall, base.rim#1]", 'o', s => (s["wide"] - s["hole"]) / 2), new("outside: [hole#1.wall, base.rim#3]", 'o', s => (s["wide"] - s["hole"]) / 2),
            new("outside: [hole#2.wall, base.rim#1]", 'o', s => (s["wide"] - s["hole"]) / 2), new("outside: [hole#2.wall, base.rim#3]", 'o', s => (s["wide"] - s["hole"]) / 2),
            new("outside: [base.rim#2, base.rim#4]", 'o', s => s["long"]), new("outside: [base.rim#1, base.rim#3]", 'o', s => s["wide"]),
        ]),
        new("knob with a D-bore", [("knob_d", 32), ("knob_h", 14), ("stem_d", 12), ("stem_h", 10), ("bore", 6), ("flat", 2.4), ("deep", 12)], """
              - {boss: stem, diameter: stem_d, height: stem_h}
              - {boss: knob, stands_on: stem.top, diameter: knob_d, height: knob_h}
              - {hole: bore, from: stem.bottom, diameter: bore, depth: deep, flat: {from_axis: flat, toward: right}}
            """,
        [
            new("outside: knob.side", 'o', s => s["knob_d"]), new("outside: stem.side", 'o', s => s["stem_d"]), new("outside: [stem.bottom, knob.top]", 'o', s => s["stem_h"] + s["knob_h"]),
            new("outside: [knob.bottom, knob.top]", 'o', s => s["knob_h"]), new("depth: [knob.bottom, stem.bottom]", 'd', s => s["stem_h"]), new("inside: [bore.wall, bore.flat]", 'i', s => s["bore"] / 2 + s["flat"], s => [s["bore"]]),
            new("outside: [stem.side, bore.wall]", 'o', s => (s["stem_d"] - s["bore"]) / 2), new("depth: [stem.bottom, bore.end]", 'd', s => s["deep"]), new("outside: [knob.side, stem.side]", 'o', s => (s["knob_d"] + s["stem_d"]) / 2),
        ],
        [
            new("inside: bore.wall", 'i', s => s["bore"], s => One(s["bore"])), new("depth: [bore.end, knob.bottom]", 'd', s => Math.Abs(s["deep"] - s["stem_h"])), new("depth: [bore.end, knob.top]", 'd', s => s["stem_h"] + s["knob_h"] - s["deep"]),
            new("outside: [knob.side, bore.wall]", 'o', s => (s["knob_d"] - s["bore"]) / 2), new("outside: [knob.side, bore.flat]", 'o', s => s["knob_d"] / 2 - s["flat"]), new("outside: [stem.side, bore.flat]", 'o', s => s["stem_d"] / 2 - s["flat"]),
            new("depth: [knob.top, stem.bottom]", 'd', s => s["stem_h"] + s["knob_h"]), new("depth: [knob.bottom, knob.top]", 'd', s => s["knob_h"]),
            new("depth: [knob.top, stem.top]", 'd', s => s["knob_h"]), new("depth: [stem.top, stem.bottom]", 'd', s => s["stem_h"]), new("depth: [bore.end, stem.top]", 'd', s => Math.Abs(s["deep"] - s["stem_h"])),
        ]),
        new("lever with two eyes", [("reach", 50), ("eye", 10), ("big_hole", 8), ("small_hole", 5), ("t", 6), ("hub", 16), ("hub_h", 12)], """
              - {plate: arm, thickness: t, outline: {belt: [{disc: [0, 0], radius: hub/2}, {disc: [reach, 0], radius: eye/2}]}}
              - {boss: hub, diameter: hub, height: hub_h}
              - {hole: big, from: hub.top, diameter: big_hole, through: whole part}
              - {hole: small, from: arm.top, at: [reach, 0], diameter: small_hole, through: arm}
            """,
        [
            new("outside: [arm.top, arm.bottom]", 'o', s => s["t"]), new("outside: hub.side", 'o', s => s["hub"]), new("outside: [hub.top, arm.bottom]", 'o', s => s["hub_h"]), new("step: [hub.top, arm.top]", 's', s => s["hub_h"] - s["t"]),
            new("inside: big.wall", 'i', s => s["big_hole"], s => One(s["big_hole"])), new("inside: small.wall", 'i', s => s["small_hole"], s => One(s["small_hole"])), new("outside: arm.rim, across: right", 'o', s => s["reach"] + s["hub"] / 2 + s["eye"] / 2),
            new("outside: [big.wall, small.wall]", 'o', s => s["reach"] - (s["big_hole"] + s["small_hole"]) / 2), new("inside: [big.wall, small.wall]", 'i', s => s["reach"] + (s["big_hole"] + s["small_hole"]) / 2, s => [s["big_hole"], s["small_hole"]]),
            new("outside: [small.wall, arm.rim#3]", 'o', s => (s["eye"] - s["small_hole"]) / 2), new("outside: [big.wall, hub.side]", 'o', s => (s["hub"] - s["big_hole"]) / 2),
        ],
        [
            new("depth: [arm.top, hub.top]", 'd', s => s["hub_h"] - s["t"]), new("depth: [arm.bottom, hub.top]", 'd', s => s["hub_h"]), new("depth: [arm.bottom, arm.top]", 'd', s => s["t"]), new("outside: arm.rim#3", 'o', s => s["eye"]), new("outside: arm.rim#1", 'o', s => s["hub"]),
            new("outside: [hub.side, small.wall]", 'o', s => s["reach"] + s["hub"] / 2 - s["small_hole"] / 2), new("outside: [arm.rim#1, small.wall]", 'o', s => s["reach"] + s["hub"] / 2 - s["small_hole"] / 2), new("outside: [arm.rim#3, big.wall]", 'o', s => s["reach"] + s["eye"] / 2 - s["big_hole"] / 2),
            new("outside: [arm.rim#2, small.wall]", 'o', s => (s["eye"] - s["small_hole"]) / 2), new("outside: [arm.rim#4, small.wall]", 'o', s => (s["eye"] - s["small_hole"]) / 2), new("outside: [arm.rim#1, big.wall]", 'o', s => (s["hub"] - s["big_hole"]) / 2),
            new("outside: [arm.rim#2, big.wall]", 'o', s => (s["hub"] - s["big_hole"]) / 2), new("outside: [arm.rim#4, big.wall]", 'o', s => (s["hub"] - s["big_hole"]) / 2),
            new("outside: [arm.rim#1, arm.rim#3]", 'o', s => s["reach"] + (s["hub"] + s["eye"]) / 2), new("outside: [arm.rim#3, hub.side]", 'o', s => s["reach"] + (s["hub"] + s["eye"]) / 2), new("outside: [arm.rim#1, hub.side]", 'o', s => s["hub"]),
            new("inside: [hub.side, small.wall]", 'i', s => s["reach"] - s["hub"] / 2 + s["small_hole"] / 2, s => One(s["small_hole"])), new("inside: [arm.rim#1, small.wall]", 'i', s => s["reach"] - s["hub"] / 2 + s["small_hole"] / 2, s => One(s["small_hole"])), new("outside: [arm.rim#2, hub.side]", 'o', s => s["hub"]), new("outside: [arm.rim#4, hub.side]", 'o', s => s["hub"]), new("inside: [arm.rim#3, hub.side]", 'i', s => s["reach"] - (s["hub"] + s["eye"]) / 2),
        ]),
        new("angle bracket", [("wide", 30), ("leg", 26), ("tall", 34), ("t", 4), ("hole", 5), ("hole_x", 16)], """
              - {block: foot, long: leg, deep: wide, tall: t, corner_at: [0, 0, 0]}
              - {block: wall, long: t, deep: wide, tall: tall, corner_at: [0, 0, 0]}
              - {hole: eye, from: foot.top, at: [hole_x, wide/2], diameter: hole, through: foot}
            """,
        [
            new("outside: [foot.front, foot.back]", 'o', s => s["wide"]), new("outside: [wall.left, foot.right]", 'o', s => s["leg"]), new("outside: [foot.bottom, wall.top]", 'o', s => s["tall"]), new("outside: [foot.bottom, foot.top]", 'o', s => s["t"]),
            new("outside: [wall.left, wall.right]", 'o', s => s["t"]), new("inside: eye.wall", 'i', s => s["hole"], s => One(s["hole"])), new("outside: [eye.wall, foot.right]", 'o', s => s["leg"] - s["hole_x"] - s["hole"] / 2),
            new("outside: [eye.wall, wall.left]", 'o', s => s["hole_x"] - s["hole"] / 2), new("outside: [eye.wall, foot.front]", 'o', s => (s["wide"] - s["hole"]) / 2), new("depth: [wall.top, foot.top]", 'd', s => s["tall"] - s["t"]),
        ],
        [
            new("outside: [foot.left, foot.right]", 'o', s => s["leg"]), new("outside: [wall.front, wall.back]", 'o', s => s["wide"]), new("outside: [foot.front, wall.back]", 'o', s => s["wide"]), new("outside: [foot.back, wall.front]", 'o', s => s["wide"]),
            new("outside: [eye.wall, foot.left]", 'o', s => s["hole_x"] - s["hole"] / 2), new("outside: [eye.wall, foot.back]", 'o', s => (s["wide"] - s["hole"]) / 2), new("outside: [eye.wall, wall.front]", 'o', s => (s["wide"] - s["hole"]) / 2),
            new("outside: [eye.wall, wall.back]", 'o', s => (s["wide"] - s["hole"]) / 2), new("inside: [eye.wall, wall.right]", 'i', s => s["hole_x"] - s["t"] + s["hole"] / 2, s => One(s["hole"])), new("depth: [foot.right, wall.right]", 'd', s => s["leg"] - s["t"]),
            new("depth: [foot.bottom, wall.top]", 'd', s => s["tall"]), new("depth: [foot.bottom, foot.top]", 'd', s => s["t"]), new("outside: [foot.left, wall.right]", 'o', s => s["t"]), new("outside: [wall.bottom, wall.top]", 'o', s => s["tall"]), new("outside: [foot.top, wall.bottom]", 'o', s => s["t"]),
            new("depth: [wall.left, foot.right]", 'd', s => s["leg"]), new("depth: [wall.bottom, wall.top]", 'd', s => s["tall"]), new("depth: [wall.left, wall.right]", 'd', s => s["t"]),
        ]),
    ];
}
