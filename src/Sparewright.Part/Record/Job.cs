using System.Collections.Immutable;
using Sparewright.Measure;
using Sparewright.Part.Shape;
using Sparewright.Part.Sizes;

namespace Sparewright.Part.Record;

/// <summary>How the old part was made.</summary>
public enum MadeBy { Unknown, Moulding, Printing, Machining, Casting }

/// <summary>Where the part lives.</summary>
public sealed record Surroundings(bool Sun, bool Wet, double? HottestDegC);

/// <summary>
/// Whether its failure could injure. A yes puts a caution on every output and needs an acknowledgement typed in words.
/// </summary>
/// <param name="Why">Which entry of the stop list, or the user's own words.</param>
/// <param name="Acknowledged">What the user typed, or null.</param>
public sealed record Injury(bool Could, string? Why, string? Acknowledged, Place Place)
{
    /// <summary>The words that whoever remakes such a part must type themselves.</summary>
    public const string Acknowledgement = "I know that this part could injure someone if it fails, and nobody has approved it";
}

/// <summary>How it is going to be printed.</summary>
public sealed record PrintPlan(string? Machine, double? NozzleMm, double? LayerMm, Direction? WayUp, string? Material, string? TryFirst)
{
    /// <summary>Nothing is said of it.</summary>
    public static PrintPlan Unsaid { get; } = new(null, null, null, null, null, null);

    /// <summary>Sizes that are drawn so, in mm, whatever else would be best for the fits: a trial of the part settled them.</summary>
    public IReadOnlyDictionary<string, double> DrawnMm { get; init; } = ImmutableDictionary<string, double>.Empty;

    /// <summary>Where that stands.</summary>
    public Place DrawnPlace { get; init; } = Place.None;

    /// <summary>Sizes are changed for the fits only as far as the wanted odds ask; otherwise to where the odds are best.</summary>
    public bool ChangesLeast { get; init; }

    /// <summary>Where the material is said.</summary>
    public Place MaterialPlace { get; init; } = Place.None;
}

/// <summary>What the number of spares follows from.</summary>
public sealed record SparesPlan(int PartsInUse, double FailsEachPerYear, double Years, double ChanceOfRunningOut);

/// <summary>A whole job as its file says it, checked: every name means something, every expression can be computed.</summary>
public sealed record Job(
    string PartName,
    string? About,
    MadeBy MadeBy,
    string? MadeOf,
    string? Broke,
    IReadOnlyList<ElementName> BrokeAt,
    Surroundings? Lives,
    Injury CouldInjure,
    IReadOnlyDictionary<string, Instrument> Instruments,
    SizeTable Sizes,
    IReadOnlyList<Feature> Shape,
    IReadOnlyList<Reading> Readings,
    IReadOnlyList<Counterpart> Counterparts,
    double? WantedOdds,
    IReadOnlyList<Load> Loads,
    PrintPlan? Print,
    IReadOnlyList<TestBars> TestBars,
    SparesPlan? Spares)
{
    /// <summary>What trial prints showed, in the order of the file.</summary>
    public IReadOnlyList<Trial> Trials { get; init; } = [];

    /// <summary>Faces that lean so that the part could leave its mould; its caliper readings know of them too.</summary>
    public IReadOnlyList<Draft> Drafts { get; init; } = [];
}
