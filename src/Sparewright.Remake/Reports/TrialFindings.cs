using System.Globalization;
using System.Text.Json;
using Sparewright.Fit;
using Sparewright.Fit.Capability;
using Sparewright.Fit.Counterparts;
using Sparewright.Fit.Drawn;
using Sparewright.Fit.Ladder;
using Sparewright.Measure.Quantities;
using Sparewright.Reconcile.Findings;
using Sparewright.Remake.Fits;
using Sparewright.Remake.Outputs;
using Sparewright.Remake.Trials;

namespace Sparewright.Remake.Reports;

/// <summary>What trials taught, for people and for programs.</summary>
internal static class TrialFindings
{
    /// <summary>What stands below the fits: what is measured by now, and which trials do not count.</summary>
    public static IEnumerable<ReportPart> InShort(FoundFits found, LengthUnit unit)
    {
        foreach (var kind in found.Trials.Evidence.GroupBy(e => e.Kind).OrderBy(k => k.Key))
        {
            double at = (kind.Min(e => e.DrawnMm) + kind.Max(e => e.DrawnMm)) / 2;
            NormalLength bias = found.Process[kind.Key].Bias(at);
            yield return new ReportPart.Line($"Measured by this job's trials: {FitWords.Plural(kind.Key)} of about {LengthsShown.WithUnit(at, unit)} come out {(bias.MeanMm < 0 ? "smaller" : "larger")} than drawn by {SizeText.Fine(Math.Abs(bias.MeanMm), bias.StandardDeviationMm, unit)} ({Pieces(kind.Count())}).");
        }

        foreach (ReportPart part in Unused(found.Trials)) yield return part;
    }

    public static IEnumerable<ReportPart> Of(FoundTrials found, LengthUnit unit)
    {
        yield return new ReportPart.Heading("What the trials taught");
        if (found.Kinds.Count == 0) yield return new ReportPart.Line("Nothing yet that counts for this part.", Tone.LookHere);
        else
        {
            yield return new ReportPart.Table(["surface", "pieces", "at", "comes out larger by", "before", "from print to print"], [.. found.Kinds.Select(k => new ReportPart.Row(Tone.Plain, k.Kind.Words(), Number(k.Pieces), LengthsShown.WithUnit(k.AtMm, unit),
                SizeText.Fine(k.Bias.MeanMm, k.Bias.StandardDeviationMm, unit), SizeText.Fine(k.BiasBefore.MeanMm, k.BiasBefore.StandardDeviationMm, unit), LengthsShown.WithUnit(k.SpreadMm, unit)))]);
        }

        foreach (ReportPart part in Unused(found.Now.Trials)) yield return part;
        foreach (Drift day in found.Days.Where(d => d.StandsOut))
            yield return new ReportPart.Line($"On {Day(day.On)} {FitWords.Plural(day.Kind)} came out {(day.Shift.MeanMm < 0 ? "smaller" : "larger")} than all days before made one expect, by {SizeText.Fine(Math.Abs(day.Shift.MeanMm), day.Shift.StandardDeviationMm, unit)} ({Pieces(day.Pieces)}): chance alone would show that less than once in a hundred days. Has the printer, the material or a setting changed? Then it is another process: say so with `machine`, `material`, `nozzle` or `layer`.", Tone.LookHere);
        if (found.Days.Count > 0 && !found.Days.Any(d => d.StandsOut)) yield return new ReportPart.Line("No day stands out from those before it.", Tone.Good);
        foreach (AnsweredLadder ladder in found.Ladders)
            foreach (ReportPart part in Of(ladder, unit)) yield return part;

        yield return new ReportPart.Heading("The fits now");
        yield return new ReportPart.Table(["counterpart", "odds before", "odds now", "room for scatter"], [.. found.Now.Each.Select(e => new ReportPart.Row(Tone.Plain, e.Name, OddsInWords.Percent(found.Before.Each.First(b => b.Name == e.Name).Odds.Value), OddsInWords.Percent(e.Odds.Value), Room(found, e.Name)))]);
        if (found.Rooms.Count > 0)
            yield return new ReportPart.Line("Room for scatter is P_mk (ISO 22514-3): how many times three standard deviations from print to print go between the mean clearance and the nearer end of its window; with 1 or more scatter alone hardly ever spoils the fit.");
        bool enough = found.Now.AllTogether >= found.Now.WantedOdds;
        yield return new ReportPart.Line($"All together: {OddsInWords.Percent(found.Before.AllTogether)} before, {OddsInWords.Percent(found.Now.AllTogether)} now; {OddsInWords.Percent(found.Now.WantedOdds)} {(enough ? "were" : "are")} wanted.", enough ? Tone.Good : Tone.LookHere);
        if (found.Revision is { } revision)
        {
            yield return new ReportPart.Heading("The next revision");
            yield return new ReportPart.Table(["size", "was drawn", "draw now", "why"], [.. revision.Sizes.Select(r => new ReportPart.Row(Tone.Plain, r.Size, LengthsShown.WithUnit(r.WasMm, unit), r.Moves ? LengthsShown.WithUnit(r.DrawMm, unit) : "as it was", r.Why))]);
            yield return new ReportPart.Line("Written into the job, where it says how it is printed; nothing else in it is changed. The part is drawn so from now on.");
        }
        else if (found.Now.Drawn.Changes.Count > 0)
            yield return new ReportPart.Table(["size", "to draw now", "to draw before"], [.. found.Now.Drawn.Changes.Select(c => new ReportPart.Row(Tone.Plain, c.Size, LengthsShown.WithUnit(Drawn(found.Now, c.Size), unit), LengthsShown.WithUnit(Drawn(found.Before, c.Size), unit)))]);
        yield return new ReportPart.Line(Next(found));
    }

    public static void WriteMembers(Utf8JsonWriter json, FoundTrials found)
    {
        WriteShort(json, found.Now.Trials);
        json.WriteStartArray("surfaces");
        foreach (LearntKind kind in found.Kinds)
        {
            json.WriteStartObject();
            json.WriteString("kind", kind.Kind.Words());
            json.WriteString("status", "measured");
            json.WriteNumber("pieces", kind.Pieces);
            json.WriteNumber("atMm", kind.AtMm);
            Write(json, "biasMm", kind.Bias);
            Write(json, "biasBeforeMm", kind.BiasBefore);
            json.WriteNumber("spreadMm", kind.SpreadMm);
            json.WriteEndObject();
        }

        json.WriteEndArray();
        json.WriteStartArray("ladders");
        foreach (AnsweredLadder ladder in found.Ladders) Write(json, ladder);
        json.WriteEndArray();
        json.WriteStartArray("days");
        foreach (Drift day in found.Days)
        {
            json.WriteStartObject();
            json.WriteString("kind", day.Kind.Words());
            json.WriteString("on", Day(day.On));
            json.WriteNumber("pieces", day.Pieces);
            Write(json, "shiftMm", day.Shift);
            json.WriteNumber("chance", day.Chance);
            json.WriteBoolean("standsOut", day.StandsOut);
            json.WriteEndObject();
        }

        json.WriteEndArray();
        json.WriteStartArray("counterparts");
        foreach (ExpectedFit fit in found.Now.Each)
        {
            json.WriteStartObject();
            json.WriteString("name", fit.Name);
            json.WriteNumber("odds", fit.Odds.Value);
            json.WriteNumber("oddsBefore", found.Before.Each.First(b => b.Name == fit.Name).Odds.Value);
            if (found.Rooms.FirstOrDefault(r => r.Counterpart == fit.Name) is { } room)
            {
                if (double.IsFinite(room.Indices.Cp)) json.WriteNumber("pm", room.Indices.Cp);
                else json.WriteNull("pm");
                json.WriteNumber("pmk", room.Indices.Cpk);
            }

            json.WriteEndObject();
        }

        json.WriteEndArray();
        if (found.Revision is { } revision)
        {
            json.WriteStartArray("revision");
            foreach (RevisedSize size in revision.Sizes)
            {
                json.WriteStartObject();
                json.WriteString("size", size.Size);
                json.WriteNumber("was", size.WasMm);
                json.WriteNumber("draw", size.DrawMm);
                json.WriteBoolean("moves", size.Moves);
                json.WriteString("why", size.Why);
                json.WriteEndObject();
            }

            json.WriteEndArray();
        }

        json.WriteStartObject("drawn");
        foreach (SizeChange change in found.Now.Drawn.Changes) json.WriteNumber(change.Size, Drawn(found.Now, change.Size));
        json.WriteEndObject();
        json.WriteNumber("allTogether", found.Now.AllTogether);
        json.WriteNumber("allTogetherBefore", found.Before.AllTogether);
        json.WriteNumber("wantedOdds", found.Now.WantedOdds);
        json.WriteString("next", Next(found));
    }

    /// <summary>How many answers and measured features count, and what does not.</summary>
    public static void WriteShort(Utf8JsonWriter json, JobTrials trials)
    {
        json.WriteStartObject("trials");
        json.WriteNumber("used", trials.Evidence.Count);
        json.WriteStartArray("measured");
        foreach (SurfaceKind kind in trials.Evidence.Select(e => e.Kind).Distinct().Order()) json.WriteStringValue(kind.Words());
        json.WriteEndArray();
        json.WriteStartArray("notUsed");
        foreach (UnusedTrial unused in trials.Unused)
        {
            json.WriteStartObject();
            json.WriteString("on", Day(unused.On));
            json.WriteString("what", unused.What);
            json.WriteString("why", unused.Why);
            if (unused.Remedy is { } remedy) json.WriteString("remedy", remedy);
            json.WriteEndObject();
        }

        json.WriteEndArray();
        json.WriteEndObject();
    }

    private static void Write(Utf8JsonWriter json, AnsweredLadder ladder)
    {
        json.WriteStartObject();
        json.WriteString("counterpart", ladder.Counterpart);
        if (ladder.Size is { } size) json.WriteString("size", size);
        json.WriteStartArray("gauges");
        foreach (var (mm, answer) in ladder.GaugesMm.Zip(ladder.Result.Answers))
        {
            json.WriteStartObject();
            json.WriteNumber("drawn", mm);
            json.WriteString("answer", Words(answer.Answer));
            json.WriteEndObject();
        }

        json.WriteEndArray();
        json.WriteStartArray("outOfOrder");
        foreach (OutOfOrder pair in ladder.Result.OutOfOrder)
        {
            json.WriteStartObject();
            json.WriteNumber("went", ladder.GaugesMm[pair.Went - 1]);
            json.WriteNumber("didNot", ladder.GaugesMm[pair.DidNot - 1]);
            json.WriteEndObject();
        }

        json.WriteEndArray();
        json.WriteNumber("odds", ladder.Result.Odds);
        json.WriteNumber("wantedOdds", ladder.WantedOdds);
        json.WriteNumber("draw", ladder.DrawMm);
        json.WriteString("next", ladder.Result.OutOfOrder.Count > 0 ? "try again" : ladder.Result.Next switch { LadderStep.PrintThePart => "print the part", LadderStep.OneMoreGauge => "one more gauge", _ => "scatter is left" });
        if (ladder.NextGaugeMm is { } next)
        {
            json.WriteNumber("nextGauge", next);
            json.WriteNumber("oddsAfterNext", ladder.Result.OddsAfterNext);
        }

        json.WriteEndObject();
    }

    private static void Write(Utf8JsonWriter json, string name, NormalLength length)
    {
        json.WriteStartObject(name);
        json.WriteNumber("mean", length.MeanMm);
        json.WriteNumber("standardDeviation", length.StandardDeviationMm);
        json.WriteEndObject();
    }

    private static IEnumerable<ReportPart> Unused(JobTrials trials) => trials.Unused.Select(u =>
        new ReportPart.Line($"Not used, {Day(u.On)}, {u.What}: {u.Why}{(u.Remedy is { } remedy ? $"; {remedy}" : "")}.", u.Remedy is null ? Tone.Plain : Tone.LookHere));

    private static IEnumerable<ReportPart> Of(AnsweredLadder ladder, LengthUnit unit)
    {
        yield return new ReportPart.Heading($"Gauges for {ladder.Counterpart}");
        yield return new ReportPart.Table(["gauge", ladder.Size ?? "drawn", "answer"], [.. ladder.GaugesMm.Zip(ladder.Result.Answers).Select((g, k) => new ReportPart.Row(Tone.Plain, Number(k + 1), LengthsShown.WithUnit(g.First, unit), Words(g.Second.Answer)))]);
        foreach (OutOfOrder pair in ladder.Result.OutOfOrder)
            yield return new ReportPart.Line($"These answers contradict each other: it goes in gauge {Number(pair.Went)} ({LengthsShown.WithUnit(ladder.GaugesMm[pair.Went - 1], unit)}) and not in the looser gauge {Number(pair.DidNot)} ({LengthsShown.WithUnit(ladder.GaugesMm[pair.DidNot - 1], unit)}). Look at both for strings and blobs, and try again.", Tone.LookHere);
        yield return new ReportPart.Line(Step(ladder, unit), ladder.Result is { Next: LadderStep.PrintThePart, OutOfOrder.Count: 0 } ? Tone.Good : Tone.LookHere);
    }

    private static string Step(AnsweredLadder ladder, LengthUnit unit)
    {
        LadderResult result = ladder.Result;
        string odds = $"{OddsInWords.Percent(result.Odds)}, and {OddsInWords.Percent(ladder.WantedOdds)} would do", at = $"{ladder.Size ?? "drawn at"} {LengthsShown.WithUnit(ladder.DrawMm, unit)}";
        if (result.OutOfOrder.Count > 0) return $"Until then its odds, at {at}, are {odds}.";
        string where = result.NextLiesBetween switch
        {
            (null, { } looser) => $"tighter than gauge {Number(looser)}",
            ({ } tighter, null) => $"looser than gauge {Number(tighter)}",
            ({ } tighter, { } looser) => $"between {Number(tighter)} and {Number(looser)}",
            _ => "",
        };
        return result.Next switch
        {
            LadderStep.PrintThePart => $"This fit is settled: at {at} its odds are {odds}.",
            LadderStep.OneMoreGauge => $"One more gauge {where}, at {LengthsShown.WithUnit(ladder.NextGaugeMm!.Value, unit)}, would bring its odds from {OddsInWords.Percent(result.Odds)} to {OddsInWords.Percent(result.OddsAfterNext)}; {OddsInWords.Percent(ladder.WantedOdds)} would do.",
            _ => $"Another gauge would hardly help: the printer's own scatter is what is left. At {at} its odds are {odds}.",
        };
    }

    private static string Next(FoundTrials found) =>
        found.Ladders.Any(l => l.Result.OutOfOrder.Count > 0) ? "Next: try the gauges again whose answers contradict each other."
        : found.Now.AllTogether >= found.Now.WantedOdds ? "Next: print the part."
        : found.Ladders.FirstOrDefault(l => l.Result.Next == LadderStep.OneMoreGauge) is { } ladder ? $"Next: one more gauge for {ladder.Counterpart}."
        : "Next: look among the fits for what costs the odds now, and what would help.";

    private static double Drawn(FoundFits found, string size) => Math.Round(found.Fits.DrawnMm[size] + (found.Drawn.Changes.FirstOrDefault(c => c.Size == size)?.ByMm ?? 0), 9);

    private static string Room(FoundTrials found, string counterpart) =>
        found.Rooms.FirstOrDefault(r => r.Counterpart == counterpart) is { } room ? room.Indices.Cpk.ToString("0.0", CultureInfo.InvariantCulture) : "not measured";

    private static string Words(TrialAnswer answer) => answer switch { TrialAnswer.TooTight => "too tight", TrialAnswer.TooLoose => "too loose", _ => "goes" };

    private static string Pieces(int n) => n == 1 ? "1 piece" : $"{Number(n)} pieces";

    private static string Day(DateOnly day) => day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    private static string Number(int n) => n.ToString(CultureInfo.InvariantCulture);
}
