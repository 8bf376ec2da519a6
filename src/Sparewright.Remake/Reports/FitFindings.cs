using System.Globalization;
using Sparewright.Fit;
using Sparewright.Fit.Counterparts;
using Sparewright.Fit.Drawn;
using Sparewright.Fit.Odds;
using Sparewright.Measure.Quantities;
using Sparewright.Part.Record;
using Sparewright.Reconcile.Findings;
using Sparewright.Remake.Fits;
using Sparewright.Remake.Outputs;

namespace Sparewright.Remake.Reports;

/// <summary>The odds that everything fits and the sizes to draw, as parts of a report.</summary>
internal static class FitFindings
{
    public static IEnumerable<ReportPart> Of(FoundFits found, LengthUnit unit)
    {
        yield return new ReportPart.Heading("Fits");
        if (found.Each.Count == 0)
        {
            yield return new ReportPart.Line("The job names nothing that the part fits on or into. Write it under `counterparts`: a rod, a pin, a screw, with what the caliper shows.", Tone.LookHere);
            yield break;
        }

        yield return new ReportPart.Table(["counterpart", "itself", "meets", "wanted clearance", "expected, printed", "odds"], [.. found.Each.Select(e => Row(e, unit))]);
        bool enough = found.AllTogether >= found.WantedOdds;
        yield return new ReportPart.Line($"All together: {OddsInWords.Percent(found.AllTogether)}{(enough ? ", and" : ";")} {OddsInWords.Percent(found.WantedOdds)} {(enough ? "were" : "are")} wanted. Drawn as measured it would be {OddsInWords.Percent(found.Drawn.Before.AllTogether.Value)}.", enough ? Tone.Good : Tone.LookHere);
        yield return new ReportPart.Line(FitWords.Printer(found), found.IsAssumed ? Tone.LookHere : Tone.Good);
        foreach (ExpectedFit fit in found.Each)
        {
            if (fit.Press is { IsRefused: true } press)
                yield return new ReportPart.Line($"{fit.Name}: refused as a press fit: {press.Words}.", Tone.LookHere);
            foreach (string remark in fit.Met.Remarks) yield return new ReportPart.Line($"{fit.Name}: {remark}.");
            if (FitWords.NoInsert(fit, found) is { } none) yield return new ReportPart.Line($"{fit.Name}: {none}.", Tone.LookHere);
        }

        foreach (ReportPart part in ToDraw(found, unit)) yield return part;

        if (found.Job.Job.Print?.DrawnMm.Keys.Order(StringComparer.Ordinal).ToArray() is { Length: > 0 } settled)
            yield return new ReportPart.Line($"Settled by a trial of the part, and drawn so whatever else would be best: {string.Join(", ", settled)} (`print`, `drawn`).");

        DoubtCost[] costly = [.. FitWords.Costly(found)];
        if (costly.Length > 0 && !enough)
        {
            yield return new ReportPart.Heading("What costs the odds");
            yield return new ReportPart.Table(["not known", "odds if it were"], [.. costly.Select(c => new ReportPart.Row(Tone.Plain, FitWords.Of(c.Doubt), OddsInWords.Percent(c.OddsIfKnown)))]);
            Cure[] cures = [.. FitWords.Best(found)];
            if (cures.Length > 0)
                yield return new ReportPart.Table(["what would help", "takes", "odds after it"], [.. cures.Select(c => new ReportPart.Row(Tone.Plain, FitWords.Of(c), FitWords.Takes(c), OddsInWords.Percent(c.OddsAfter)))]);
            if (FitWords.Cheapest(found) is { Length: > 0 } cheapest) yield return new ReportPart.Line(cheapest);
            if (FitWords.InOneGo(found) is { Length: > 0 } copies) yield return new ReportPart.Line(copies);
        }

        if (found.Costs.Count == 0 && !enough) yield return new ReportPart.Line("What costs the odds and what would help: `sparewright fit`, with the job.");
        yield return new ReportPart.Line("Windows of clearance and where they come from: docs/reference/fits.md. `sparewright coupon` shows what a printer does to every kind of surface, for this job and the next ones; `sparewright ladder` proves a single fit, and says whether it pays.");
    }

    private static ReportPart.Row Row(ExpectedFit fit, LengthUnit unit)
    {
        MetCounterpart met = fit.Met;
        string itself = met.Pitch is { } pitch ? $"{SizeText.Fine(pitch.Length.MeanMm, pitch.Length.StandardDeviationMm, unit)} apart" : SizeText.Fine(met.Own!.Length.MeanMm, met.Own.Length.StandardDeviationMm, unit);
        string meets = met.Surfaces.Count == 1 ? met.Surfaces[0].Name : $"{met.Surfaces[0].Name} and {(met.Surfaces.Count - 1).ToString(CultureInfo.InvariantCulture)} more";
        string wanted = met.Window is { } window ? $"{Span(window, unit)}, {window.Why.Split(':')[0]}" : "all go through at once";
        string expected = $"{(met.Pitch is null ? "" : "off by ")}{SizeText.Fine(fit.Clearance.MeanMm, fit.Clearance.StandardDeviationMm, unit)}";
        return new(Tone.Plain, $"{met.Counterpart.Kind.Name()} {fit.Name}", itself, meets, wanted, expected, OddsInWords.Percent(fit.Odds.Value));
    }

    private static string Span(ClearanceWindow window, LengthUnit unit) => unit == LengthUnit.Inch
        ? $"{LengthsShown.WithUnit(window.LowMm, unit)} to {LengthsShown.WithUnit(window.HighMm, unit)}"
        : string.Create(CultureInfo.InvariantCulture, $"{window.LowMm:0.00} to {window.HighMm:0.00} mm");

    /// <summary>What is drawn otherwise than it was measured, line by line, and why.</summary>
    private static IEnumerable<ReportPart> ToDraw(FoundFits found, LengthUnit unit)
    {
        if (found.ByMm.Count + found.Relief.Count == 0) yield break;
        yield return new ReportPart.Heading("Sizes to draw");
        if (found.ByMm.Count > 0)
            yield return new ReportPart.Table(["size", "as measured", "to draw", "change", "for"], [.. found.Drawn.Changes.Concat(found.Others.Changes).Select(c => SizeRow(c, found, unit))]);
        foreach (SizeChange change in found.Drawn.Changes)
            yield return new ReportPart.Line($"{change.Size}: {ChangeWords.Of(found.Drawn.Case, change.Size, unit)}.");
        foreach (SizeChange change in found.Others.Changes)
            yield return new ReportPart.Line($"{change.Size}: {ChangeWords.Of(found.Process, found.Others, change.Size, unit)}.");
        foreach (var edge in found.Relief.GroupBy(e => (e.Counterpart, e.Relief.LegMm)))
            yield return new ReportPart.Line($"Bevel of {LengthsShown.WithUnit(edge.Key.LegMm, unit)} where {string.Join(", ", edge.Select(e => e.Wall))} {(edge.Count() == 1 ? "begins" : "begin")} on {edge.First().Bed}, which lies on the bed: {ChangeWords.Of(edge.First(), unit)}.");
    }

    private static ReportPart.Row SizeRow(SizeChange change, FoundFits found, LengthUnit unit)
    {
        double before = found.Reconciled.Shape.Sizes[change.Size].Value;
        string by = unit == LengthUnit.Inch ? (change.ByMm < 0 ? "" : "+") + LengthsShown.WithUnit(change.ByMm, unit) : change.ByMm.ToString("+0.00 mm;-0.00 mm", CultureInfo.InvariantCulture);
        return new(Tone.Plain, change.Size, LengthsShown.WithUnit(before, unit), LengthsShown.WithUnit(before + change.ByMm, unit), by, found.Drawn.Changes.Contains(change) ? string.Join(", ", found.Each.Where(e => e.DrawnMm.ContainsKey(change.Size)).Select(e => e.Name)) : "this printer");
    }
}
