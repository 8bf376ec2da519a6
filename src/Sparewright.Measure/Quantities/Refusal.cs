namespace Sparewright.Measure.Quantities;

/// <summary>Why a text or value from the user was not taken, and what to write instead.</summary>
/// <param name="Reason">What is wrong, as half a sentence: "010 begins with a zero".</param>
/// <param name="Remedy">What to do, as an order: "write 10".</param>
public sealed record Refusal(string Reason, string Remedy)
{
    public override string ToString() => $"{Reason}: {Remedy}";
}
