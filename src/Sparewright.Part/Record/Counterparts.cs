using Sparewright.Part.Shape;
using Sparewright.Part.Sizes;

namespace Sparewright.Part.Record;

/// <summary>How a pair is meant to go together.</summary>
public enum FitWord { Slides, Turns, Snug, Press }

/// <summary>What kind of thing the part fits on or into.</summary>
public enum CounterpartKind { Rod, Shaft, Pin, Tube, Hose, Hole, Screw, WoodScrew, Nut, Insert, Bearing, Plate, Groove, SnapArm, Holes }

/// <summary>How a counterpart and the part come together.</summary>
public enum Meeting
{
    /// <summary>It goes into a hole, slot or pocket of the part.</summary>
    GoesInto,

    /// <summary>It goes through the part.</summary>
    GoesThrough,

    /// <summary>It goes over the part: the part is inside.</summary>
    GoesOver,

    /// <summary>Its holes line up with those of the part.</summary>
    Meets,
}

/// <summary>How big a counterpart is at the place that matters, and how that is known.</summary>
/// <param name="Place">Of what says it.</param>
public abstract record OwnSize(Place Place)
{
    /// <summary>As a display said it, once or repeatedly, uncorrected.</summary>
    public sealed record Measured(IReadOnlyList<double> ReadsMm, Place Place) : OwnSize(Place);

    /// <summary>A nominal diameter, thickness or width.</summary>
    /// <param name="ToleranceClass">An ISO 286 class such as h11.</param>
    /// <param name="PlusMinusMm">Its ±, which holds in 95 of 100 cases.</param>
    public sealed record Told(SizeExpression Nominal, string? ToleranceClass, double? PlusMinusMm, Place Place) : OwnSize(Place);

    /// <summary>A screw thread: M4 (ISO 261) or ST3.5 (ISO 1478).</summary>
    public sealed record OfThread(string Thread, Place Place) : OwnSize(Place);

    /// <summary>A wood screw's number in the inch series.</summary>
    public sealed record OfGauge(int Number, Place Place) : OwnSize(Place);

    /// <summary>A rolling bearing by the number on it, as 608.</summary>
    public sealed record OfBearing(string Designation, Place Place) : OwnSize(Place);
}

/// <summary>How far the holes of a counterpart are apart: neighbours of a row, or the diameter of the circle on which a ring's centres lie.</summary>
public abstract record OwnPitch(Place Place)
{
    /// <summary>Read as it stands, centre to centre.</summary>
    public sealed record Measured(IReadOnlyList<double> ReadsMm, Place Place) : OwnPitch(Place);

    /// <summary>Read between the near walls of two holes, over their far walls, or both: both together give the centres whatever the diameters are.</summary>
    /// <param name="WebReadsMm">Outside jaws, over the web between them; may be empty.</param>
    /// <param name="SpanReadsMm">Inside jaws, over the far walls; may be empty.</param>
    public sealed record BetweenWalls(IReadOnlyList<double> WebReadsMm, IReadOnlyList<double> SpanReadsMm, Place Place) : OwnPitch(Place);

    /// <summary>A nominal pitch.</summary>
    /// <param name="PlusMinusMm">Its ±, which holds in 95 of 100 cases.</param>
    public sealed record Told(SizeExpression Nominal, double? PlusMinusMm, Place Place) : OwnPitch(Place);
}

/// <summary>The clearance that the user wants, mm; negative is interference.</summary>
public sealed record WantedClearance(double LeastMm, double GreatestMm);

/// <summary>What makes a snap arm hold: a hook that gives way while it passes. Lengths in mm.</summary>
/// <param name="OutMm">How far the hook stands out of its arm.</param>
/// <param name="Arms">How many such arms pass at once, on opposite sides: one, or two.</param>
/// <param name="LongMm">From the arm's root to its hook; null where nobody says.</param>
/// <param name="ThickMm">Of the arm at its root, in the direction that it bends; likewise.</param>
/// <param name="Strain">How far its root may be stretched, as a share of its length; null where nobody says.</param>
public sealed record SnapHook(double OutMm, int Arms, double? LongMm, double? ThickMm, double? Strain);

/// <summary>Something that the part fits on or into.</summary>
/// <param name="Size">Null only for a pattern of holes that does not say it.</param>
/// <param name="Pitch">Of a pattern of holes only.</param>
/// <param name="Where">Which feature or element of the part it meets.</param>
/// <param name="Changes">The size that the fit decides.</param>
/// <param name="Fit">How the pair goes together, where that is said by a word of the reference.</param>
/// <param name="Clearance">The same in numbers of the user's own, or by a word of his own; at most one of the two is there.</param>
/// <param name="With">The instrument that it was read with, where said.</param>
public sealed record Counterpart(string Name, CounterpartKind Kind, OwnSize? Size, OwnPitch? Pitch, Meeting How, ElementName Where, string? Changes,
    FitWord? Fit, WantedClearance? Clearance, string? With, Place Place)
{
    /// <summary>The user's own word for the fit, of which <see cref="Clearance"/> is what it means; null where none was used.</summary>
    public string? OwnWord { get; init; }

    /// <summary>Of a snap arm of which more is said than its width.</summary>
    public SnapHook? Hook { get; init; }

    /// <summary>Where <see cref="Changes"/> is written; otherwise where the counterpart is.</summary>
    public Place ChangesPlace { get; init; } = Place;
}

/// <summary>The words by which a job names kinds of counterpart.</summary>
public static class CounterpartKinds
{
    public static string Name(this CounterpartKind kind) => kind switch
    {
        CounterpartKind.WoodScrew => "wood screw",
        CounterpartKind.SnapArm => "snap arm",
        _ => kind.ToString().ToLowerInvariant(),
    };

    /// <summary>False for what has a width rather than a diameter.</summary>
    public static bool IsRound(this CounterpartKind kind) => kind is not (CounterpartKind.Nut or CounterpartKind.Plate or CounterpartKind.Groove or CounterpartKind.SnapArm);
}
