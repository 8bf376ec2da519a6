namespace Sparewright.Fit.Odds;

/// <summary>One printed size as it enters a clearance. Each has a scatter of its own, unless <see cref="Surface"/> says that two are of one surface; what the printer does to all of its kind they share.</summary>
/// <param name="DrawnMm">The size as drawn, in mm: a diameter, a width, a distance.</param>
/// <param name="Factor">How much of it enters: 1 for a hole's diameter, −1 for an outside that goes into something, ½ for a room on one side.</param>
/// <param name="PerSize">By how much the drawn size changes for each mm of the job's sizes that may be changed; empty when none may.</param>
public sealed record PrintedSize(SurfaceKind Kind, double DrawnMm, double Factor, IReadOnlyDictionary<string, double> PerSize)
{
    public PrintedSize(SurfaceKind kind, double drawnMm, double factor)
        : this(kind, drawnMm, factor, new Dictionary<string, double>())
    {
    }

    /// <summary>The surface's name; printed sizes of one name come out alike. Null: a surface that no other printed size is of.</summary>
    public string? Surface { get; init; }
}

/// <summary>A counterpart's own size as it enters a clearance. Entries of one name are one and the same length.</summary>
public sealed record CounterpartSize(string Name, NormalLength Length, double Factor);

/// <summary>A length of the world outside that is known only through the old part's readings: a reconciled size, in mm for each of which <paramref name="Factor"/> enters.</summary>
public sealed record ReadSize(string Name, double Factor);

/// <summary>A sum of lengths: fixed, printed, of counterparts, and as read from the old part; in mm.</summary>
public sealed record LengthSum(double FixedMm, IReadOnlyList<PrintedSize> Printed, IReadOnlyList<CounterpartSize> Counterparts, IReadOnlyList<ReadSize> Read)
{
    /// <summary>A printed size less a counterpart's: the clearance of a rod in a hole.</summary>
    public static LengthSum Around(PrintedSize hole, string counterpart, NormalLength rod) => new(0, [hole], [new(counterpart, rod, -1)], []);
}

/// <summary>What must hold for one counterpart to fit: lengths that vary together, and bounds for each that may depend on those before it.</summary>
/// <param name="Name">The counterpart's name.</param>
/// <param name="Lengths">In the order in which they are bounded.</param>
public abstract record FitCondition(string Name, IReadOnlyList<LengthSum> Lengths)
{
    /// <summary>Which of the lengths is the clearance that people ask for.</summary>
    public abstract int Shown { get; }

    /// <summary>Between which bounds a length must lie, in mm; empty (low above high) where those before it already make the fit impossible.</summary>
    /// <param name="earlierMm">The values of the lengths before it.</param>
    internal abstract (double LowMm, double HighMm) Bounds(int length, ReadOnlySpan<double> earlierMm);

    /// <summary>The same with other lengths: at other drawn sizes.</summary>
    public abstract FitCondition With(IReadOnlyList<LengthSum> lengths);
}

/// <summary>One clearance within its window: a rod in a bore, a plate in a slot, a boss in a socket.</summary>
public sealed record OneClearance(string Name, LengthSum Clearance, ClearanceWindow Window) : FitCondition(Name, [Clearance])
{
    public override int Shown => 0;

    internal override (double LowMm, double HighMm) Bounds(int length, ReadOnlySpan<double> earlierMm) => (Window.LowMm, Window.HighMm);

    public override FitCondition With(IReadOnlyList<LengthSum> lengths) => this with { Clearance = lengths[0], Lengths = lengths };
}
