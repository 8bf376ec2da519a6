namespace Sparewright.BlindRemakes.Printing;

/// <summary>A block with a slot for a blade, held by its height: for the kinds of surface that no other family shows. Nothing in the tool was chosen by it.</summary>
internal static class LatchBlock
{
    public static Family Family { get; } = new("latch block", [("long", 36), ("wide", 24), ("tall", 12), ("gap", 4), ("deep", 7)], """
          - {block: body, long: long, deep: wide, tall: tall, corner_at: [0, 0, 0]}
          - {slot: gap, from: body.top, between: [[long/2, -1], [long/2, wide + 1]], width: gap, ends: square, depth: deep}
        """,
        [
            new("outside: [body.left, body.right]", 'o', s => s["long"]), new("outside: [body.front, body.back]", 'o', s => s["wide"]), new("outside: [body.bottom, body.top]", 'o', s => s["tall"]),
            new("inside: [gap.side#1, gap.side#2]", 'i', s => s["gap"]), new("depth: [body.top, gap.floor]", 'd', s => s["deep"]),
        ], [], IsHeldOut: true)
    {
        MakesSense = s => s["deep"] < s["tall"] - 2,
    };
}
