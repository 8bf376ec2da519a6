using Sparewright.Part.Shape;
using Sparewright.Part.Sizes;

namespace Sparewright.Part.Record;

/// <summary>How a pair is meant to go together.</summary>
public enum FitWord { Slides, Turns, Snug, Press }

/// <summary>Something that the part fits on or into.</summary>
/// <param name="Kind">As written: rod, pin, screw, wood screw, nut, insert, bearing, plate, holes …</param>
/// <param name="ReadsMm">Its own size as read, in mm; empty when it is by standard.</param>
/// <param name="Diameter">Its own size by standard or as told (mm).</param>
/// <param name="Gauge">Its number in a series (wood screws).</param>
/// <param name="Tolerance">An ISO 286 class such as h11.</param>
/// <param name="PitchReadsMm">Its own hole pitch as read, in mm.</param>
/// <param name="Where">Which feature or element of the part it meets.</param>
/// <param name="How">goes_into | goes_through | through | meet | goes_over, as written.</param>
/// <param name="Changes">The size that the fit decides.</param>
public sealed record Counterpart(string Name, string Kind, IReadOnlyList<double> ReadsMm, SizeExpression? Diameter, int? Gauge, string? Tolerance,
    IReadOnlyList<double> PitchReadsMm, string How, ElementName Where, string? Changes, FitWord? Fit, Place Place);
