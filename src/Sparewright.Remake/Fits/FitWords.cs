using System.Globalization;
using Sparewright.Fit;
using Sparewright.Fit.Capability;
using Sparewright.Fit.Odds;
using Sparewright.Part.Record;
using Sparewright.Reconcile.Findings;

namespace Sparewright.Remake.Fits;

/// <summary>What was found of a job's fits, in words: the same on paper, on the command line and in a window.</summary>
public static class FitWords
{
    private const int MostDoubts = 4, MostCures = 3;

    /// <summary>What changes the odds by less is not worth a line.</summary>
    private const double WorthSaying = 0.01;

    /// <summary>"by how much this printer makes upright holes too large or too small".</summary>
    public static string Of(Doubt doubt) => doubt switch
    {
        Doubt.OfBias(var kind) => $"by how much this printer makes {Plural(kind)} too large or too small",
        Doubt.OfSpread(var kind) => $"by how much its {Plural(kind)} differ from one another",
        Doubt.OfCounterpart(var name) => $"the {(name.StartsWith("pitch of ", StringComparison.Ordinal) ? name : $"size of {name}")}",
        Doubt.OfReading(var size) => $"the old part's {size}",
        _ => throw new InvalidOperationException("unknown doubt"),
    };

    /// <summary>"print 3 gauges for stay and try it on them".</summary>
    public static string Of(Cure cure) => cure switch
    {
        { Kind: CureKind.Gauges, Counterpart: { } counterpart } => $"print {Count(cure.Pieces, "gauge")} for {counterpart} and try it on them",
        { Kind: CureKind.Coupon } => $"print and measure {Cures.FeaturesOfATrial.ToString(CultureInfo.InvariantCulture)} each of such {string.Join(", ", cure.Kinds.Select(Plural))}, in one go",
        { Kind: CureKind.TrialPrint, Of: Doubt.OfBias(var kind) } => $"print and measure {cure.Pieces.ToString(CultureInfo.InvariantCulture)} {Plural(kind)} of such sizes",
        { Of: Doubt.OfCounterpart } or { Of: Doubt.OfReading } => $"read {Of(cure.Of)} once more",
        _ => $"learn {Of(cure.Of)}",
    };

    /// <summary>"22 min and 3.6 g".</summary>
    public static string Takes(Cure cure) => cure.Grams > 0 ? string.Create(CultureInfo.InvariantCulture, $"{cure.Minutes:0} min and {cure.Grams:0.#} g") : string.Create(CultureInfo.InvariantCulture, $"{cure.Minutes:0} min");

    /// <summary>The few doubts that cost the most odds, the costliest first.</summary>
    public static IEnumerable<DoubtCost> Costly(FoundFits found) => found.Costs.Where(c => c.Costs >= WorthSaying).Take(MostDoubts);

    /// <summary>The few cures that are worth a line: those that are enough first, the cheapest of them first; then the others by the odds after them.</summary>
    public static IEnumerable<Cure> Best(FoundFits found) => found.Cures.Where(c => c.OddsAfter > found.AllTogether + WorthSaying)
        .OrderByDescending(c => c.OddsAfter >= found.WantedOdds).ThenByDescending(c => c.OddsAfter >= found.WantedOdds ? 0 : c.OddsAfter).Take(MostCures);

    /// <summary>The cheapest cure in a sentence; empty where there is none.</summary>
    public static string Cheapest(FoundFits found) => Best(found).FirstOrDefault() switch
    {
        null => "",
        var cure when cure.OddsAfter >= found.WantedOdds => $"The cheapest cure: {Of(cure)}; it takes {Takes(cure)}, and the odds would be {OddsInWords.Percent(cure.OddsAfter)}.",
        var cure => $"No single cure is enough. The best one: {Of(cure)}; it takes {Takes(cure)}, and the odds would be {OddsInWords.Percent(cure.OddsAfter)}. Then look again.",
    };

    /// <summary>Several copies in one go, and what they take beside one, as a sentence; empty where they would bring nothing.</summary>
    public static string InOneGo(FoundFits found)
    {
        if (found.InOneGo is not { } most) return "";
        string odds = $"{(most.Odds >= found.WantedOdds ? "are" : "are only")} {OddsInWords.Percent(most.Odds)} that one of them fits";
        string takes = found.PartMm3 is not { } mm3 ? $"They take the plastic of {Count(most.Number, "part")}, and heating up once."
            : string.Create(CultureInfo.InvariantCulture, $"They take about {most.Takes(mm3).Grams:0.#} g and {most.Takes(mm3).Minutes:0} min, one alone {PrintEffort.Of(mm3).Grams:0.#} g and {PrintEffort.Of(mm3).Minutes:0} min.");
        return $"Or print {most.Number.ToString(CultureInfo.InvariantCulture)} copies in one go, all drawn alike, try each and keep the one that fits: the odds {odds}. {takes} It helps against what differs from copy to copy, and needs no measuring; a print at a time uses less plastic, and more rounds.";
    }

    /// <summary>What is known of the printer, and what is only assumed.</summary>
    public static string Printer(FoundFits found)
    {
        ProcessSetting setting = found.Process.Setting;
        string kind = setting.Process == ProcessKind.Vpp ? "vat photopolymerization" : "material extrusion", settings = setting.Settings.Length == 0 ? "" : $"; {setting.Settings}";
        string who = $"({setting.Machine}; {setting.Material}{settings}; {kind})";
        SurfaceKind[] assumed = [.. found.Fits.Case.Kinds.Where(k => found.Process[k].Status == CapabilityStatus.Assumed)];
        return assumed.Length == 0
            ? $"What this printer does was measured {who}."
            : $"What this printer does to {string.Join(", ", assumed.Select(Plural))} is assumed, not measured {who}. It is a guess about printers in general, and printers differ more than anything else; the odds say so.";
    }

    /// <summary>Why a heat-set insert cannot go into this print, and what else can; null where it can, or there is none.</summary>
    public static string? NoInsert(ExpectedFit fit, FoundFits found) => fit.Met.Counterpart.Kind == CounterpartKind.Insert && found.Process.Setting.Process == ProcessKind.Vpp
        ? "a heat-set insert needs a plastic that melts; cured resin takes none. Take a nut in a pocket, or glue an insert made for it"
        : null;

    internal static string Plural(SurfaceKind kind) => kind switch
    {
        SurfaceKind.Outside => "outsides",
        SurfaceKind.HoleUpright => "upright holes",
        SurfaceKind.HoleLying => "lying holes",
        SurfaceKind.Slot => "slots",
        SurfaceKind.Height => "heights",
        SurfaceKind.FirstLayer => "first layers",
        _ => "distances of centres",
    };

    private static string Count(int n, string word) => n == 1 ? $"1 {word}" : string.Create(CultureInfo.InvariantCulture, $"{n} {word}s");
}
