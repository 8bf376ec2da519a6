using System.Text.Json;

namespace Sparewright.BlindRemakes.Printing;

/// <summary>All that came of one errand, as a line of text: long runs are made in pieces and told together.</summary>
/// <param name="IsUsual">Whether its clearances are those that the usual words of a fit mean.</param>
/// <param name="Part">One print of the part, which everybody makes who has it in the end.</param>
/// <param name="Stated">By how it was gone about.</param>
/// <param name="Outcomes">Likewise; empty when the tool could say nothing.</param>
internal sealed record ErrandRecord(string Parts, string Printers, bool IsUsual, bool IsHeldOut, Cost Part, IReadOnlyDictionary<string, IReadOnlyList<Stated>> Stated, IReadOnlyDictionary<string, Outcome> Outcomes, IReadOnlyList<Bevels> Bevels)
{
    public string Line() => JsonSerializer.Serialize(this);

    public static ErrandRecord Of(string line) => JsonSerializer.Deserialize<ErrandRecord>(line)!;
}
