using System.Globalization;
using Sparewright.Measure.Quantities;
using Sparewright.Measure.Uncertainty;
using Sparewright.Reconcile.Explain;
using Sparewright.Reconcile.Findings;
using Sparewright.Reconcile.Next;
using Sparewright.Reconcile.Nominals;
using Sparewright.Reconcile.Readings;
using Sparewright.Remake.Outputs;

namespace Sparewright.Remake.Reports;

/// <summary>What the readings came to, as parts of a report.</summary>
internal static class Findings
{
    private const int MostDeciders = 4, MostNarrowed = 3;

    public static IEnumerable<ReportPart> Of(Reconciled reconciled, LengthUnit unit)
    {
        yield return new ReportPart.Heading("Sizes");
        yield return new ReportPart.Table(["size", "value", "±", "decided by", "status", "meant, perhaps"], [.. reconciled.Sizes.Select(s => SizeRow(s, unit))]);
        if (reconciled.Unit is { } multiples)
            yield return new ReportPart.Line(string.Create(CultureInfo.InvariantCulture, $"Most of the {multiples.Lengths} lengths that are known well enough are multiples of {multiples.Words}, at a first look."));
        if (reconciled.Shrink is { } shrink)
            yield return new ReportPart.Line(string.Create(CultureInfo.InvariantCulture, $"The lengths look like round values that shrank by {100 * shrink.Share:0.00} % in the mould ({OddsInWords.Percent(shrink.Odds)}); the sizes are what was measured."));
        foreach (CorrelatedSizes pair in reconciled.Correlations)
            yield return new ReportPart.Line(string.Create(CultureInfo.InvariantCulture, $"{pair.First} and {pair.Second} hang together (correlation {pair.Correlation:0.0}): {pair.Words}."));
        if (reconciled.Contradictions.Count > 0)
        {
            yield return new ReportPart.Heading(reconciled.Contradictions.Count == 1 ? "A contradiction" : "Contradictions");
            foreach (string size in reconciled.SettledAgainst)
                yield return new ReportPart.Line($"It may be `{size}` that was settled wrongly: were it open, all readings would agree. Open it again if so: sparewright reopen JOB {size}.", Tone.LookHere);
            if (reconciled.CommonShift is { } common) yield return new ReportPart.Line($"A{common.Words(SizeText.Fine(common.Mm, common.StandardUncertaintyMm, unit))[1..]}.", Tone.LookHere);
            else if (reconciled.TooManyWrong is { } many) yield return new ReportPart.Line(many, Tone.LookHere);
            foreach (Contradiction contradiction in reconciled.Contradictions)
            {
                yield return new ReportPart.Line(Words(contradiction, unit), Tone.LookHere);
                foreach (ReconciledReading reading in reconciled.Readings.Where(r => contradiction.Ids.Contains(r.Reading.Id) && r.Explanations.Count > 0))
                    yield return new ReportPart.Line($"{reading.Reading.Id}: {Words(reading.Explanations, unit, reading.Unit)}");
            }
        }

        if (reconciled.Undecided.Count > 0)
        {
            yield return new ReportPart.Heading("Not decided");
            foreach (UndecidedSizes undecided in reconciled.Undecided) yield return new ReportPart.Line(Words(undecided), Tone.LookHere);
        }

        foreach (ReconciledReading reading in reconciled.Readings.Where(r => r.Verdict == ReadingVerdict.ComparedAndDiffers))
            yield return new ReportPart.Line($"{reading.Reading.Id} ({reading.Says}) was only compared, and it differs{(reading.Adjusted is { } adjusted ? $": the part as drawn has {LengthsShown.WithUnit(adjusted, unit)}" : "")}.", Tone.LookHere);
        foreach (ReconciledReading reading in reconciled.Readings.Where(r => r.WhyNotUsed is not null)) yield return new ReportPart.Line($"{reading.Reading.Id} ({reading.Says}): {reading.WhyNotUsed}.");
        foreach (ReconciledReading reading in reconciled.Readings.Where(r => r is { Unit.Kind: QuantityKind.Mass or QuantityKind.Volume, Verdict: ReadingVerdict.Agrees })) yield return new ReportPart.Line(OfWhole(reading));
        foreach (ZeroShift shift in reconciled.ZeroShifts) yield return new ReportPart.Line(Words(shift, unit));
        foreach (SharedErrorFound error in reconciled.SharedErrors) yield return new ReportPart.Line(Words(error, unit));
        foreach (ReconciledReading reading in reconciled.Readings.Where(r => r.RepeatsApart))
            yield return new ReportPart.Line($"{reading.Reading.Id} ({reading.Says}): its repeats lie too far apart to be of one value. One of them was misread, or belongs to another reading.", Tone.LookHere);
        if (reconciled.Readings.Count == 0 && reconciled.Plan.Count > 0)
        {
            yield return new ReportPart.Heading("What to measure, in this order");
            yield return new ReportPart.Table(["no.", "reading", "about", "what for"], [.. reconciled.Plan.Select((p, k) => new ReportPart.Row(Tone.Plain, (k + 1).ToString(CultureInfo.InvariantCulture), p.Text, LengthsShown.WithUnit(p.AboutMm, unit), p.Why))]);
        }
        else if (reconciled.Next.Count > 0)
        {
            yield return new ReportPart.Heading("What to measure next");
            yield return new ReportPart.Table(["reading", "about", "what for", "± after it"], [.. reconciled.Next.Select(n => NextRow(n, reconciled, unit))]);
        }

        if (reconciled.Global.DegreesOfFreedom > 0)
            yield return new ReportPart.Line(string.Create(CultureInfo.InvariantCulture,
                $"All deciding readings together: chi² {reconciled.Global.ChiSquare:0.0} on {reconciled.Global.DegreesOfFreedom:0} degree{(reconciled.Global.DegreesOfFreedom == 1 ? "" : "s")} of freedom; readings this far apart come by chance in {100 * reconciled.Global.P:0.#} of 100 jobs."));
    }

    /// <summary>The budget of each reading, line by line: what each source adds, in which share of the variance, and from where it is known.</summary>
    public static IEnumerable<ReportPart> Budgets(Reconciled reconciled)
    {
        yield return new ReportPart.Heading("Budgets");
        foreach (ReconciledReading reading in reconciled.Readings.Where(r => r.Budget is not null))
        {
            UncertaintyBudget budget = reading.Budget!;
            yield return new ReportPart.Line($"{reading.Reading.Id} ({reading.Says}): standard uncertainty {Shown.TwoDigits(budget.StandardUncertaintyMm)} {reading.Unit.Symbol}, ±{Shown.TwoDigits(budget.ExpandedMm(0.95))} {reading.Unit.Symbol} in 95 of 100 cases.");
            yield return new ReportPart.Table(["source", $"u, {reading.Unit.Symbol}", "of the variance", "how"],
                [.. budget.Lines.Select(line => new ReportPart.Row(Tone.Plain, line.Name, Shown.TwoDigits(line.StandardUncertaintyMm), string.Create(CultureInfo.InvariantCulture, $"{100 * budget.ShareOf(line):0} %"), line.How))]);
        }
    }

    /// <summary>One contradiction in a few sentences: which reading, what it said, what the others say, how sure that is.</summary>
    public static string Words(Contradiction contradiction, LengthUnit unit)
    {
        string numbers = string.Create(CultureInfo.InvariantCulture, $"w {contradiction.W:0.0}, redundancy {contradiction.Redundancy:0.00}");
        string end = !contradiction.IsOpen ? "The part is drawn without it: measure it once more."
            : contradiction.SetAside ? "The contradiction is open: measure them once more." : "It cannot be told which one is wrong, so all of them stay in; contradiction open: measure them once more.";
        string also = unit == LengthUnit.Inch && contradiction.Unit.Kind == QuantityKind.Length ? $" (in inches: {LengthsShown.WithUnit(contradiction.ObservedMm, unit)} instead of {LengthsShown.WithUnit(contradiction.ShouldReadMm, unit)})" : "";
        return $"{contradiction.Words}{also} ({numbers}). {end}";
    }

    /// <summary>How a wrong reading may have come about, each way with its odds: "it would agree if it was 34.01 mm (two digits swapped): 99.8 %; none of these: 0.2 %".</summary>
    /// <param name="of">Of what it should have read.</param>
    public static string Words(IReadOnlyList<Explanation> explanations, LengthUnit unit, Unit of) => string.Join("; ", explanations.Select(e =>
        string.Create(CultureInfo.InvariantCulture, $"{(e.ShouldHaveReadMm is { } mm ? $"it would agree if it was {(of.Kind == QuantityKind.Length ? LengthsShown.WithUnit(mm, unit) : Shown.InUnit(mm, of))} ({e.Why})" : e.Why)}: {OddsInWords.Percent(e.Odds)}")));

    /// <summary>"r26 (weight of the whole part): 15.40 ± 0.36 g; the part as drawn comes to 15.31 g."</summary>
    private static string OfWhole(ReconciledReading reading) =>
        $"{reading.Reading.Id} ({reading.Says}): {Shown.WithPlusMinus(reading.Observed!.Value, reading.Budget!.ExpandedMm(0.95), reading.Unit.Symbol)}{(reading.Adjusted is { } adjusted ? $"; the part as drawn comes to {Shown.InUnit(adjusted, reading.Unit)}" : "")}.";

    /// <summary>"Zero shift of caliper, inside: -0.012 ± 0.031 mm, by the readings (assumed: 0 ± 0.051 mm)"; taken into account, so nothing is left to correct.</summary>
    public static string Words(ZeroShift shift, LengthUnit unit) =>
        $"Zero shift of {shift.Instrument}, {ReadingWords.Way(shift.Way)}: {SizeText.Fine(shift.Mm, shift.StandardUncertaintyMm, unit)}, by the readings (assumed: {SizeText.Fine(0, shift.AssumedMm, unit)}). The sizes take it into account.";

    /// <summary>"Gap of the break, left to right: 0.21 ± 0.08 mm, by the readings (assumed: 0.00 ± 0.20 mm)"; taken into account.</summary>
    public static string Words(SharedErrorFound error, LengthUnit unit)
    {
        string Fine(double value, double u) => error.Unit.Kind == QuantityKind.Length ? SizeText.Fine(value, u, unit) : Shown.WithPlusMinus(value, Normal.Quantile(0.975) * u, error.Unit.Symbol);
        return $"{char.ToUpperInvariant(error.Name[0])}{error.Name[1..]}: {Fine(error.Value, error.StandardUncertainty)}, by the readings (assumed: {Fine(0, error.AssumedStandardUncertainty)}). The sizes take it into account.";
    }

    public static string Words(UndecidedSizes undecided)
    {
        string measure = undecided.Measure.Count == 0 ? "" : $" What would decide it: {string.Join("; or ", undecided.Measure)}.";
        return $"{string.Join(", ", undecided.Sizes)}: not measured, drawn as supposed; {undecided.Why}.{measure}";
    }

    private static ReportPart.Row NextRow(NextReading next, Reconciled reconciled, LengthUnit unit) => new(Tone.Plain, next.Text,
        next.ForetoldMm is { } mm ? LengthsShown.WithUnit(mm, unit) : "", next.Why,
        string.Join(", ", next.Narrows.Take(MostNarrowed).Select(n =>
        {
            ReconciledSize size = reconciled.Sizes.First(s => s.Name == n.Size);
            return $"{n.Size} {SizeText.Narrowed(size, n.To, unit)}";
        })));

    /// <summary>"34 mm 97 %, or 34.1 mm 2 %", "7.5 mm, M4 countersunk head (DIN 965: the older) 93 %": proposals only; the part is drawn at what was measured.</summary>
    internal static string Meant(ReconciledSize size, LengthUnit unit)
    {
        string One(NominalCandidate c) => $"{c.Text(unit)}{(c.ShrunkFromMm is not null ? $" ({c.Why})" : NamesStandard(c) ? $", {c.Why}" : "")} {OddsInWords.Percent(c.Odds)}";
        string value = size.Nominal switch
        {
            null => "",
            { RunnerUp: { Odds: >= 0.05 } next } nominal => $"{One(nominal.Best)}, or {One(next)}",
            var nominal => One(nominal.Best),
        };
        string same = size.SameAs is { } other ? $"the same as {other.Size} {OddsInWords.Percent(other.Odds)}" : "";
        string centred = size.Centred is { } middle ? $"{middle.Written}, {middle.Words} {OddsInWords.Percent(middle.Odds)}" : "";
        return string.Join("; ", new[] { value, same, centred }.Where(s => s.Length > 0));
    }

    /// <summary>Hardware is called by its standard, in brackets; grids are plain words, and the value shows them. Where a round value would do as well, it says enough.</summary>
    private static bool NamesStandard(NominalCandidate candidate) => candidate.Why.Contains('(', StringComparison.Ordinal) && !candidate.Why.Contains(", or ", StringComparison.Ordinal);

    private static ReportPart.Row SizeRow(ReconciledSize size, LengthUnit unit)
    {
        string by = size.DecidedBy.Count <= MostDeciders ? string.Join(" ", size.DecidedBy) : string.Join(" ", size.DecidedBy.Take(MostDeciders)) + " …";
        string status = size.Status switch
        {
            _ when size.IsSettled => "settled",
            SizeStatus.Decided => "decided",
            SizeStatus.Weak => "weak: hardly checked",
            SizeStatus.Fixed => "fixed by the job",
            _ => "not measured",
        };
        return new(size.Status == SizeStatus.Undecided ? Tone.LookHere : Tone.Plain, size.Name, SizeText.Value(size, unit), SizeText.PlusMinus(size, unit), by, status, Meant(size, unit));
    }
}
