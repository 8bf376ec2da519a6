using Sparewright.Measure;
using Sparewright.Part;

namespace Sparewright.Fit.Counterparts;

/// <summary>A length of a counterpart as far as it is known.</summary>
/// <param name="Length">Its mean and standard deviation, mm.</param>
/// <param name="Words">What it is and where it comes from, for people: "11.953 mm, read 3 times with caliper".</param>
/// <param name="Measured">Its budget where it was read with an instrument; null where it is by standard or told.</param>
public sealed record OwnLength(NormalLength Length, string Words, MeasuredLength? Measured = null);

/// <summary>A length, or what must be put right first.</summary>
public readonly record struct FoundLength(OwnLength? Value, Problem? Problem)
{
    public static implicit operator FoundLength(OwnLength value) => new(value, null);

    public static implicit operator FoundLength(Problem problem) => new(null, problem);
}
