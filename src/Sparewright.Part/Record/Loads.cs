using Sparewright.Part.Shape;
using Sparewright.Part.Sizes;

namespace Sparewright.Part.Record;

/// <summary>How often a load comes.</summary>
public enum HowOften { Once, NowAndThen, Many, Always }

/// <summary>How long it stays when it comes.</summary>
public enum HowLong { Seconds, Hours, Months, Years }

/// <summary>Where something acts: on elements of the part, or by a counterpart, where that meets the part. Exactly one of the two is there.</summary>
public sealed record ActsAt(IReadOnlyList<ElementName> Elements, string? Counterpart);

/// <summary>One thing that acts on the part.</summary>
public abstract record LoadAction(Place Place)
{
    /// <summary>A force; the word says where it comes from.</summary>
    public sealed record Force(ForceWord Word, ActsAt At, double Newtons, Direction Toward, Place Place) : LoadAction(Place);

    /// <summary>A moment about a direction by the right-hand rule: a twist drags the face round, a bend tilts it.</summary>
    public sealed record Moment(bool Bends, ActsAt At, double NewtonMetres, Direction About, Place Place) : LoadAction(Place);

    /// <summary>Pressure on faces, in bar (0.1 MPa).</summary>
    public sealed record Pressure(IReadOnlyList<ElementName> At, double Bar, Place Place) : LoadAction(Place);

    /// <summary>The part's own weight, and where down is in use.</summary>
    public sealed record OwnWeight(Direction Toward, Place Place) : LoadAction(Place);

    /// <summary>Faces are moved by so much (mm), and that takes whatever force it takes; an arm that snaps in is moved each time.</summary>
    public sealed record Movement(bool Snaps, ActsAt At, SizeExpression HowFar, Direction Toward, Place Place) : LoadAction(Place);

    /// <summary>Round faces are pressed onto or into something: so much bigger in diameter (mm) is the one than the other.</summary>
    public sealed record PressFit(ActsAt At, SizeExpression Interference, Place Place) : LoadAction(Place);
}

public enum ForceWord { Push, Pull, Press, Snap }

/// <summary>What holds the part meanwhile.</summary>
/// <param name="Screwed">Holes with screws in them.</param>
/// <param name="Washer">The diameter of the screws' heads or washers (mm), where said.</param>
/// <param name="RestsOn">Faces that are pushed only.</param>
/// <param name="HeldFast">Faces that are glued or clamped.</param>
/// <param name="HeldBy">Counterparts that push back where they meet the part.</param>
public sealed record Holds(IReadOnlyList<ElementName> Screwed, SizeExpression? Washer, IReadOnlyList<ElementName> RestsOn, IReadOnlyList<ElementName> HeldFast, IReadOnlyList<string> HeldBy)
{
    public bool None => Screwed.Count + RestsOn.Count + HeldFast.Count + HeldBy.Count == 0;
}

/// <summary>One load case: what acts on the part at the same time, what holds it meanwhile, how often and how long.</summary>
public sealed record Load(string Name, IReadOnlyList<LoadAction> Actions, Holds Holds, HowOften Times, HowLong Lasts, Place Place);

/// <summary>How a test bar stood in the printer.</summary>
public enum BarLay
{
    /// <summary>Pulled along its layers.</summary>
    Lying,

    /// <summary>Its layers are pulled apart.</summary>
    Standing,
}

/// <summary>Bars of the user's own, printed and pulled until they broke.</summary>
/// <param name="Material">What they were printed in; null: what the part is printed in.</param>
/// <param name="AreaMm2">The cross-section.</param>
/// <param name="AreaPlusMinusMm2">Its ±, which holds in 95 of 100 cases.</param>
/// <param name="BrokeAtNewtons">One force for each bar.</param>
/// <param name="PlusMinusNewtons">The ± of each force, which holds in 95 of 100 cases.</param>
public sealed record TestBars(string? Material, BarLay Printed, double AreaMm2, double AreaPlusMinusMm2, IReadOnlyList<double> BrokeAtNewtons, double PlusMinusNewtons, Place Place);
