using Sparewright.Part.Shape;

namespace Sparewright.Part.Record;

public enum HowOften { Once, NowAndThen, Many, Always }

public enum LoadKind { Push, Pull, Twist }

/// <summary>What pushes, pulls or twists the part in use, and what holds it meanwhile.</summary>
/// <param name="Amount">Newtons, or newton metres for a twist.</param>
public sealed record Load(string Name, LoadKind Kind, ElementName At, double Amount, Direction Toward, IReadOnlyList<ElementName> Screwed,
    IReadOnlyList<ElementName> RestsOn, IReadOnlyList<ElementName> HeldFast, HowOften Times, Place Place);
