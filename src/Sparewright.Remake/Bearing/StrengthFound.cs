using Sparewright.Part.Record;
using Sparewright.Part.Shape;
using Sparewright.Solid;
using Sparewright.Strength.Cases;
using Sparewright.Strength.Margins;
using Sparewright.Strength.Materials;

namespace Sparewright.Remake.Bearing;

/// <summary>One load case of the print, answered.</summary>
/// <param name="Element">The names of the face at the weakest place.</param>
/// <param name="Picture">The margin on the surface, where it was asked for.</param>
/// <param name="ShortTerm">How many times the load could grow until it goes at once, by the bare strengths with nothing taken off.</param>
public sealed record CaseFound(Load Load, SolvedCase Solved, string Element, Margin Margin, Allowables Allowables, Reserve ShortTerm, MarginPicture? Picture)
{
    /// <summary>How far the material is taken to be stretched once, as a share of its length.</summary>
    public required Sourced StrainOnce { get; init; }

    /// <summary>Screws that the load pulls out of the part, by the formula alone.</summary>
    public IReadOnlyList<PulledScrew> Screws { get; init; } = [];

    /// <summary>The weakest place apart from that, judged as closely; null where there is none.</summary>
    public NextPlace? Next { get; init; }

    /// <summary>Gaps so narrow that the cells closed them.</summary>
    public IReadOnlyList<ClosedGap> ClosedGaps { get; init; } = [];
}

/// <summary>Two faces, by their names, that the cells took as grown together although there is so much air between them.</summary>
public sealed record ClosedGap(string First, string Second, Point3 At, double Mm);

/// <summary>Where a part would be weakest if its weakest place were mended.</summary>
/// <param name="Element">The names of the face there.</param>
public sealed record NextPlace(string Element, Point3 At, Margin Margin);

/// <summary>The least margin of all loads as it is compared: on one coarser grid with one window.</summary>
/// <param name="StressPlusMinus">The ± of the stress at that place as a share of it.</param>
/// <param name="Element">The names of the face that it is at.</param>
public sealed record LeastMargin(Margin Margin, double StressPlusMinus, string Element)
{
    private double PlusMinusShare => Margin.PlusMinus / Margin.Value;

    /// <summary>How many times as much it is as another, and the ± of that. Where both come up against the same strength, how well that is known does not matter.</summary>
    public (double Times, double PlusMinus) Over(LeastMargin other, bool sameMaterial)
    {
        double times = Margin.Value / other.Margin.Value;
        bool sameStrength = sameMaterial && Margin.Mode == other.Margin.Mode;
        return (times, times * (sameStrength ? Both(StressPlusMinus, other.StressPlusMinus) : Both(PlusMinusShare, other.PlusMinusShare)));
    }

    /// <summary>The ± of a product or quotient of two, all as shares.</summary>
    internal static double Both(double a, double b) => Math.Sqrt(a * a + b * b);
}

/// <summary>A self-tapping screw that a load pulls along its axis.</summary>
/// <param name="AllowedN">What the shear between the layers allows its thread, with everything taken off.</param>
/// <param name="ShortTermN">The same with nothing taken off.</param>
/// <param name="PlusMinus">The ± of both as a share of them: from where between hole and thread it shears, and from the strength.</param>
/// <param name="LeastEngagedMm">So much thread in plastic is common practice.</param>
public sealed record PulledScrew(string Counterpart, string Hole, double AskedN, double AllowedN, double ShortTermN, double PlusMinus, double EngagedMm, double LeastEngagedMm);

/// <summary>A way up on the printer, and the least margin of all cases with it.</summary>
public sealed record WayUp(Direction Up, LeastMargin Least)
{
    public double Margin => Least.Margin.Value;
}

/// <summary>Where the old part was weakest under one of the loads.</summary>
/// <param name="Reserve">By its material's short-term strength.</param>
/// <param name="PlusMinus">The ± of the reserve as a share of it: of stress and strength.</param>
/// <param name="PlaceMm">The weakest place is known to so many mm.</param>
/// <param name="Named">What the job says of where it broke: each element, or each feature that its words name, with its distance from the weakest place in mm.</param>
/// <param name="Said">The job says it by elements (<c>broke_at</c>); words alone are not judged.</param>
public sealed record OldPlace(string Case, string Element, Point3 At, Reserve Reserve, double PlusMinus, double PlaceMm, IReadOnlyList<(string Name, double Mm)> Named, bool Said)
{
    /// <summary>A break is taken to agree with a weakest place so near.</summary>
    public const double NearMm = 5;

    /// <summary>Whether all elements that the job names lie near; null where it names none.</summary>
    public bool? Agrees => Said && Named.Count > 0 ? Named.All(n => n.Mm <= NearMm) : null;
}

/// <summary>The old, moulded part under the same loads.</summary>
/// <param name="Guessed">The job does not say what it was made of.</param>
public sealed record OldPart(MouldedMaterial Material, bool Guessed, IReadOnlyList<OldPlace> Places);

/// <summary>Whether the print will hold, as far as it was computed, and where the old part was weakest.</summary>
/// <param name="Up">The way up that the margins are for.</param>
/// <param name="UpIsSaid">False where the job does not say it and up was taken.</param>
/// <param name="Ways">The three ways that the layers can lie along the job's axes, best first, on a coarser grid than the cases.</param>
/// <param name="Old">Null where the old part was not moulded.</param>
public sealed record StrengthFound(OpenedJob Job, PrintMaterial Material, Direction Up, bool UpIsSaid, IReadOnlyList<CaseFound> Cases, IReadOnlyList<WayUp> Ways, OldPart? Old, double Seconds)
{
    /// <summary>What would better the least margin, in the order of <see cref="Cure.BestFirst"/>; null where every margin holds with its ±, so that none was looked for.</summary>
    public IReadOnlyList<Cure>? Cures { get; init; }

    /// <summary>What each case took at most, as told before it was solved.</summary>
    public required SolvingNeeds Needs { get; init; }

    /// <summary>The case with the least margin.</summary>
    public CaseFound Governing => Cases.MinBy(c => c.Margin.Value)!;

    /// <summary>A margin below 1, or a screw that is asked for more than it is allowed: somebody should look.</summary>
    public bool NeedsAttention => Cases.Any(c => c.Margin.Value < 1 || c.Screws.Any(s => s.AskedN > s.AllowedN));
}
