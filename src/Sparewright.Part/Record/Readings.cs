using Sparewright.Measure;
using Sparewright.Part.Shape;
using Sparewright.Part.Sizes;

namespace Sparewright.Part.Record;

/// <summary>One entry of the ledger: what was measured, and what the display said.</summary>
/// <param name="Id">Its own name, or r1, r2 … by its place in the list.</param>
/// <param name="With">The instrument's name, where said.</param>
public abstract record Reading(string Id, string? With, Place Place);

/// <summary>A reading with caliper jaws, depth rod or step faces.</summary>
/// <param name="First">The first element; alone, a round one (its diameter) or a side measured <paramref name="Across"/> a direction.</param>
/// <param name="ReadsMm">What the display said, once or repeatedly, in mm, uncorrected.</param>
/// <param name="Worn">The surface is worn: the part was at least this big (or a hole at most this big).</param>
/// <param name="AcrossBreak">Taken over a glued break.</param>
public sealed record CaliperReading(string Id, ReadingWay Way, ElementName First, ElementName? Second, Direction? Across,
    IReadOnlyList<double> ReadsMm, bool Worn, bool AcrossBreak, string? OnFragment, SizeExpression? AtHeight, string? With, Place Place) : Reading(Id, With, Place);

/// <summary>An angle between two flat faces, in the corner that they make; or of a cone, from side to side.</summary>
/// <param name="First">A flat element; alone, a cone.</param>
/// <param name="ReadsDegrees">What the protractor showed, once or repeatedly, uncorrected.</param>
public sealed record AngleReading(string Id, ElementName First, ElementName? Second, IReadOnlyList<double> ReadsDegrees, string? With, Place Place) : Reading(Id, With, Place);

/// <summary>A radius tried with gauge leaves: bigger than the first, smaller than the second.</summary>
public sealed record GaugeLeafReading(string Id, string Round, double BiggerThanMm, double SmallerThanMm, string? With, Place Place) : Reading(Id, With, Place);

/// <summary>The weight of the whole part or of a fragment, with the material's density (g/cm³) and its ±.</summary>
public sealed record WeightReading(string Id, string Of, IReadOnlyList<double> ReadsGrams, double Density, double DensityPlusMinus, string? With, Place Place) : Reading(Id, With, Place);
