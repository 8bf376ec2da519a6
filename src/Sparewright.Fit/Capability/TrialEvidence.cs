namespace Sparewright.Fit.Capability;

/// <summary>Something that was printed, and what it showed about the printer.</summary>
/// <param name="DrawnMm">The size as drawn, in mm.</param>
/// <param name="On">The day of the print.</param>
public abstract record TrialEvidence(SurfaceKind Kind, double DrawnMm, DateOnly On);

/// <summary>A printed size that was measured.</summary>
/// <param name="PrintedMm">What it measured, corrected, in mm.</param>
/// <param name="UncertaintyMm">Standard uncertainty of this reading by itself: repeats, resolution, the surface.</param>
public sealed record MeasuredTrial(SurfaceKind Kind, double DrawnMm, DateOnly On, double PrintedMm, double UncertaintyMm) : TrialEvidence(Kind, DrawnMm, On)
{
    /// <summary>The instrument; all readings with it share its zero shift.</summary>
    public string Instrument { get; init; } = "";

    /// <summary>Standard uncertainty of what the instrument adds to every reading, in mm.</summary>
    public double InstrumentShiftMm { get; init; }
}

/// <summary>What somebody found who tried a counterpart on a printed gauge or part.</summary>
public enum TrialAnswer
{
    /// <summary>It does not go: too tight.</summary>
    TooTight,

    /// <summary>It goes, whether as wanted or loosely.</summary>
    Goes,

    /// <summary>It goes as wanted.</summary>
    Right,

    /// <summary>It goes, but too loosely.</summary>
    TooLoose,
}

/// <summary>A printed size on which a counterpart was tried: only bounds of the clearance are known from it.</summary>
/// <param name="Counterpart">The counterpart's name: answers with one counterpart share its length.</param>
/// <param name="Length">What is known of its length otherwise.</param>
/// <param name="Window">Where it goes as wanted: below is too tight, above too loose.</param>
public sealed record TriedTrial(SurfaceKind Kind, double DrawnMm, DateOnly On, string Counterpart, NormalLength Length, ClearanceWindow Window, TrialAnswer Answer)
    : TrialEvidence(Kind, DrawnMm, On)
{
    /// <summary>How finely hands tell a fit that goes from one that does not, in mm, as a standard uncertainty.</summary>
    public double FeelMm { get; init; } = 0.01;

    /// <summary>The bounds of the clearance that the answer tells, in mm.</summary>
    public (double LowMm, double HighMm) Bounds => Answer switch
    {
        TrialAnswer.TooTight => (double.NegativeInfinity, Window.LowMm),
        TrialAnswer.Goes => (Window.LowMm, double.PositiveInfinity),
        TrialAnswer.Right => (Window.LowMm, Window.HighMm),
        TrialAnswer.TooLoose => (Window.HighMm, double.PositiveInfinity),
        _ => throw new ArgumentOutOfRangeException(nameof(Answer)),
    };

    /// <summary>1 where a larger printed size means more clearance (holes, slots), −1 where it means less.</summary>
    public int Sense => Kind.IsHollow() ? 1 : -1;
}
