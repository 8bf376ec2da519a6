using Sparewright.Measure;
using Sparewright.Measure.Quantities;
using Sparewright.Part.Shape;
using Sparewright.Part.Sizes;

namespace Sparewright.Part.Record;

/// <summary>One entry of the ledger: what was measured, and what the display said.</summary>
/// <param name="Id">Its own name, or r1, r2 … by its place in the list.</param>
/// <param name="With">The instrument's name, where said.</param>
public abstract record Reading(string Id, string? With, Place Place)
{
    /// <summary>On which copy of the part it was taken, where there are several; null for the old part itself.</summary>
    public string? Copy { get; init; }
}

/// <summary>A reading with caliper jaws, depth rod or step faces.</summary>
/// <param name="First">The first element; alone, a round one (its diameter) or a side measured <paramref name="Across"/> a direction.</param>
/// <param name="ReadsMm">What the display said, once or repeatedly, in mm, uncorrected.</param>
/// <param name="Worn">The surface is worn: the part was at least this big (or a hole at most this big).</param>
/// <param name="AcrossBreak">Taken over a glued break.</param>
public sealed record CaliperReading(string Id, ReadingWay Way, ElementName First, ElementName? Second, Direction? Across,
    IReadOnlyList<double> ReadsMm, bool Worn, bool AcrossBreak, string? OnFragment, SizeExpression? AtHeight, string? With, Place Place) : Reading(Id, With, Place)
{
    /// <summary>Which break it was taken over, where there are several; null for the only one.</summary>
    public string? Break { get; init; }

    /// <summary>Diameters of the gauge pins that stood in the holes, mm: one for each hole, or one for all; none where the jaws touched the walls themselves.</summary>
    public IReadOnlyList<double> OverPinsMm { get; init; } = [];

    /// <summary>By how much the instrument may have stood askew, degrees.</summary>
    public double TiltDegrees { get; init; }

    /// <summary>What was measured gives way under the jaws.</summary>
    public bool Soft { get; init; }

    /// <summary>The faces of the job that lean by their draft.</summary>
    public IReadOnlyList<Draft> Drafts { get; init; } = [];
}

/// <summary>
/// Faces that lean a little, so that the part could leave its mould. The shape draws them straight, as they are at one height; farther along, the material between them gets thinner, and holes and pockets wider.
/// </summary>
/// <param name="Angle">From the way that the mould opened, degrees; may be a size.</param>
/// <param name="Thins">Where to: the way in which the mould opened.</param>
/// <param name="SizesAt">Where the sizes hold: the job's coordinate along that way.</param>
public sealed record Draft(IReadOnlyList<ElementName> Faces, SizeExpression Angle, Direction Thins, SizeExpression SizesAt)
{
    /// <summary>Whether an element is one of these faces, or a piece of one.</summary>
    public bool IsOf(ElementName element) => Faces.Any(f => element.Text == f.Text || element.Text.StartsWith(f.Text + "#", StringComparison.Ordinal));
}

/// <summary>An angle between two flat faces, in the corner that they make; or of a cone, from side to side.</summary>
/// <param name="First">A flat element; alone, a cone.</param>
/// <param name="ReadsDegrees">What the protractor showed, once or repeatedly, uncorrected.</param>
public sealed record AngleReading(string Id, ElementName First, ElementName? Second, IReadOnlyList<double> ReadsDegrees, string? With, Place Place) : Reading(Id, With, Place);

/// <summary>The radius of an arc, by a chord across it and by how far it rises over that chord.</summary>
/// <param name="Of">A round element.</param>
/// <param name="ChordReadsMm">The chord as shown, mm, uncorrected.</param>
/// <param name="SagittaReadsMm">The rise as shown, mm, uncorrected.</param>
public sealed record SagittaReading(string Id, ElementName Of, IReadOnlyList<double> ChordReadsMm, IReadOnlyList<double> SagittaReadsMm, string? With, Place Place) : Reading(Id, With, Place);

/// <summary>The pitch of a thread, over several turns of it.</summary>
/// <param name="Pitch">The size that is the pitch.</param>
/// <param name="ReadsMm">From one crest to the one so many turns farther, as shown, mm, uncorrected.</param>
public sealed record ThreadPitchReading(string Id, SizeExpression Pitch, int Turns, IReadOnlyList<double> ReadsMm, string? With, Place Place) : Reading(Id, With, Place);

/// <summary>A reading of a counterpart: a distance on it that a size of the part was made to match, its hole pitch or the distance of its rods.</summary>
/// <param name="Matches">The size that it decides, from axis to axis.</param>
/// <param name="ReadsMm">The distance as shown, mm, uncorrected.</param>
/// <param name="WithinMm">By how much the two may differ and still go together.</param>
public sealed record CounterpartReading(string Id, string Counterpart, SizeExpression Matches, IReadOnlyList<double> ReadsMm, double WithinMm, string? With, Place Place) : Reading(Id, With, Place)
{
    /// <summary>By how much a part and what it fits usually differ where nobody says it, mm. Common practice, no source.</summary>
    public const double UsualWithinMm = 0.2;
}

/// <summary>A radius tried with gauge leaves: bigger than the first, smaller than the second.</summary>
public sealed record GaugeLeafReading(string Id, string Round, double BiggerThanMm, double SmallerThanMm, string? With, Place Place) : Reading(Id, With, Place);

/// <summary>The weight of the whole part or of a fragment, with the material's density (g/cm³) and its ±.</summary>
public sealed record WeightReading(string Id, string Of, IReadOnlyList<double> ReadsGrams, double Density, double DensityPlusMinus, string? With, Place Place) : Reading(Id, With, Place)
{
    /// <summary>What stands for the whole part where a fragment's name may stand.</summary>
    public const string Whole = "whole";
}

/// <summary>The weights of all the fragments of the part, each weighed by itself: together that of the whole.</summary>
/// <param name="Fragments">Every fragment, and what the display said of it, once or repeatedly.</param>
public sealed record FragmentWeightsReading(string Id, IReadOnlyList<(string Fragment, IReadOnlyList<double> ReadsGrams)> Fragments, double Density, double DensityPlusMinus, string? With, Place Place) : Reading(Id, With, Place);

/// <summary>The water that the whole part or a fragment displaces.</summary>
/// <param name="Unit">cm³ where the rise of the water was read, grams where a scale under the vessel showed what the part, hanging in the water, adds.</param>
public sealed record DisplacementReading(string Id, string Of, IReadOnlyList<double> Reads, Unit Unit, string? With, Place Place) : Reading(Id, With, Place);
