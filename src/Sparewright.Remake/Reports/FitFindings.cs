using System.Globalization;
using Sparewright.Fit;
using Sparewright.Fit.Capability;
using Sparewright.Fit.Counterparts;
using Sparewright.Fit.Drawn;
using Sparewright.Fit.Odds;
using Sparewright.Part.Record;
using Sparewright.Reconcile.Findings;
using Sparewright.Remake.Fits;
using Sparewright.Remake.Outputs;

namespace Sparewright.Remake.Reports;

/// <summary>The odds that everything fits and the sizes to draw, as parts of a report.</summary>
internal static class FitFindings
{
    private const int MostDoubts = 4, MostCures = 3;

    /// <summary>Doubts that cost less are not worth a line.</summary>
    private const double WorthSaying = 0.01;

    public static IEnumerable<ReportPart> Of(FoundFits found, bool inches)
    {
        yield return new ReportPart.Heading("Fits");
        if (found.Each.Count == 0)
        {
            yield return new ReportPart.Line("The job names nothing that the part fits on or into. Write it under `counterparts`: a rod, a pin, a screw, with what the caliper shows.", Tone.LookHere);
            yield break;
        }

        yield return new ReportPart.Table(["counterpart", "itself", "meets", "wanted clearance", "expected, printed", "odds"], [.. found.Each.Select(e => Row(e, inches))]);
        bool enough = found.AllTogether >= found.WantedOdds;
        yield return new ReportPart.Line($"All together: {OddsInWords.Percent(found.AllTogether)}{(enough ? ", and" : ";")} {OddsInWords.Percent(found.WantedOdds)} {(enough ? "were" : "are")} wanted. Drawn as measured it would be {OddsInWords.Percent(found.Drawn.Before.AllTogether.Value)}.", enough ? Tone.Good : Tone.LookHere);
        foreach (ReportPart part in Process(found)) yield return part;
        foreach (ExpectedFit fit in found.Each)
        {
            if (fit.Press is { IsRefused: true } press)
                yield return new ReportPart.Line($"{fit.Name}: refused as a press fit: {press.Words}.", Tone.LookHere);
            foreach (string remark in fit.Met.Remarks) yield return new ReportPart.Line($"{fit.Name}: {remark}.");
            if (fit.Met.Counterpart.Kind == CounterpartKind.Insert && found.Process.Setting.Process == ProcessKind.Vpp)
                yield return new ReportPart.Line($"{fit.Name}: a heat-set insert needs a plastic that melts; cured resin takes none. Take a nut in a pocket, or glue an insert made for it.", Tone.LookHere);
        }

        if (found.Drawn.Changes.Count > 0)
        {
            yield return new ReportPart.Heading("Sizes to draw");
            yield return new ReportPart.Table(["size", "as measured", "to draw", "change", "for"], [.. found.Drawn.Changes.Select(c => SizeRow(c, found, inches))]);
        }

        DoubtCost[] costly = [.. found.Costs.Where(c => c.Costs >= WorthSaying).Take(MostDoubts)];
        if (costly.Length > 0 && !enough)
        {
            yield return new ReportPart.Heading("What costs the odds");
            yield return new ReportPart.Table(["not known", "odds if it were"], [.. costly.Select(c => new ReportPart.Row(Tone.Plain, Words(c.Doubt), OddsInWords.Percent(c.OddsIfKnown)))]);
            Cure[] cures = [.. found.Cures.Where(c => c.OddsAfter > found.AllTogether + WorthSaying).OrderByDescending(c => c.OddsAfter >= found.WantedOdds).ThenByDescending(c => c.OddsAfter >= found.WantedOdds ? 0 : c.OddsAfter).Take(MostCures)];
            if (cures.Length > 0)
                yield return new ReportPart.Table(["what would help", "takes", "odds after it"], [.. cures.Select(c => new ReportPart.Row(Tone.Plain, Words(c), Takes(c), OddsInWords.Percent(c.OddsAfter)))]);
            if (cures is [var cheapest, ..])
                yield return new ReportPart.Line(cheapest.OddsAfter >= found.WantedOdds
                    ? $"The cheapest cure: {Words(cheapest)}; it takes {Takes(cheapest)}, and the odds would be {OddsInWords.Percent(cheapest.OddsAfter)}."
                    : $"No single cure is enough. The best one: {Words(cheapest)}; it takes {Takes(cheapest)}, and the odds would be {OddsInWords.Percent(cheapest.OddsAfter)}. Then look again.");
        }

        if (found.Costs.Count == 0 && !enough) yield return new ReportPart.Line("What costs the odds and what would help: `sparewright fit`, with the job.");
        yield return new ReportPart.Line("Windows of clearance and where they come from: docs/reference/fits.md. Print the places that must fit first, small and cheap, before the whole part.");
    }

    private static IEnumerable<ReportPart> Process(FoundFits found)
    {
        ProcessSetting setting = found.Process.Setting;
        string kind = setting.Process == ProcessKind.Vpp ? "vat photopolymerization" : "material extrusion", settings = setting.Settings.Length == 0 ? "" : $"; {setting.Settings}";
        string who = $"({setting.Machine}; {setting.Material}{settings}; {kind})";
        SurfaceKind[] assumed = [.. found.Fits.Case.Kinds.Where(k => found.Process[k].Status == CapabilityStatus.Assumed)];
        if (assumed.Length == 0)
            yield return new ReportPart.Line($"What this printer does was measured {who}.", Tone.Good);
        else
            yield return new ReportPart.Line($"What this printer does to {string.Join(", ", assumed.Select(Plural))} is assumed, not measured {who}. It is a guess about printers in general, and printers differ more than anything else; the odds say so.", Tone.LookHere);
    }

    private static ReportPart.Row Row(ExpectedFit fit, bool inches)
    {
        MetCounterpart met = fit.Met;
        string itself = met.Pitch is { } pitch ? $"{SizeText.Fine(pitch.Length.MeanMm, pitch.Length.StandardDeviationMm, inches)} apart" : SizeText.Fine(met.Own!.Length.MeanMm, met.Own.Length.StandardDeviationMm, inches);
        string meets = met.Surfaces.Count == 1 ? met.Surfaces[0].Name : $"{met.Surfaces[0].Name} and {(met.Surfaces.Count - 1).ToString(CultureInfo.InvariantCulture)} more";
        string wanted = met.Window is { } window ? $"{Span(window, inches)}, {window.Why.Split(':')[0]}" : "all go through at once";
        string expected = $"{(met.Pitch is null ? "" : "off by ")}{SizeText.Fine(fit.Clearance.MeanMm, fit.Clearance.StandardDeviationMm, inches)}";
        return new(Tone.Plain, $"{met.Counterpart.Kind.Name()} {fit.Name}", itself, meets, wanted, expected, OddsInWords.Percent(fit.Odds.Value));
    }

    private static string Span(ClearanceWindow window, bool inches) => inches
        ? $"{SizeText.Length(window.LowMm, true)} to {SizeText.Length(window.HighMm, true)}"
        : string.Create(CultureInfo.InvariantCulture, $"{window.LowMm:0.00} to {window.HighMm:0.00} mm");

    private static ReportPart.Row SizeRow(SizeChange change, FoundFits found, bool inches)
    {
        double before = found.Fits.DrawnMm[change.Size];
        string by = inches ? SizeText.Length(change.ByMm, true) : change.ByMm.ToString("+0.00 mm;-0.00 mm", CultureInfo.InvariantCulture);
        return new(Tone.Plain, change.Size, SizeText.Length(before, inches), SizeText.Length(before + change.ByMm, inches), by, string.Join(", ", found.Each.Where(e => e.DrawnMm.ContainsKey(change.Size)).Select(e => e.Name)));
    }

    private static string Words(Doubt doubt) => doubt switch
    {
        Doubt.OfBias(var kind) => $"by how much this printer makes {Plural(kind)} too large or too small",
        Doubt.OfSpread(var kind) => $"by how much its {Plural(kind)} differ from one another",
        Doubt.OfCounterpart(var name) => $"the {(name.StartsWith("pitch of ", StringComparison.Ordinal) ? name : $"size of {name}")}",
        Doubt.OfReading(var size) => $"the old part's {size}",
        _ => throw new InvalidOperationException("unknown doubt"),
    };

    private static string Words(Cure cure) => cure switch
    {
        { Kind: CureKind.TrialPrint, Of: Doubt.OfBias(var kind) } => $"print and measure {cure.Pieces.ToString(CultureInfo.InvariantCulture)} {Plural(kind)} of such sizes",
        { Kind: CureKind.Gauges, Counterpart: { } counterpart } => $"print {cure.Pieces.ToString(CultureInfo.InvariantCulture)} gauge{(cure.Pieces == 1 ? "" : "s")} for {counterpart} and try it on them",
        { Kind: CureKind.Coupon } => $"print and measure {Cures.FeaturesOfATrial.ToString(CultureInfo.InvariantCulture)} each of such {string.Join(", ", cure.Kinds.Select(Plural))}, in one go",
        { Of: Doubt.OfCounterpart } or { Of: Doubt.OfReading } => $"read {Words(cure.Of)} once more",
        _ => $"learn {Words(cure.Of)}",
    };

    private static string Takes(Cure cure) => cure.Grams > 0 ? string.Create(CultureInfo.InvariantCulture, $"{cure.Minutes:0} min and {cure.Grams:0.#} g") : string.Create(CultureInfo.InvariantCulture, $"{cure.Minutes:0} min");

    private static string Plural(SurfaceKind kind) => kind switch
    {
        SurfaceKind.Outside => "outsides",
        SurfaceKind.HoleUpright => "upright holes",
        SurfaceKind.HoleLying => "lying holes",
        SurfaceKind.Slot => "slots",
        SurfaceKind.Height => "heights",
        SurfaceKind.FirstLayer => "first layers",
        _ => "distances of centres",
    };
}
