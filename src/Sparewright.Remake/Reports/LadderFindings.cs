using System.Globalization;
using System.Text.Json;
using Sparewright.Measure.Quantities;
using Sparewright.Reconcile.Findings;
using Sparewright.Remake.Fits;
using Sparewright.Remake.Ladders;

namespace Sparewright.Remake.Reports;

/// <summary>Ladders of gauges as they were planned and made, for people and for programs.</summary>
internal static class LadderFindings
{
    /// <param name="worth">Whether the gauges pay, by counterpart; empty where the part's volume is not known.</param>
    public static IEnumerable<ReportPart> Of(FoundFits found, IReadOnlyList<PlannedLadder> planned, IReadOnlyList<MadeLadder> made, IReadOnlyDictionary<string, LadderWorth> worth, string? folder, LengthUnit unit)
    {
        yield return new ReportPart.Heading("Ladders of gauges");
        if (planned.Count == 0)
        {
            yield return new ReportPart.Line("The job names nothing that the part fits on or into. Write it under `counterparts`.", Tone.LookHere);
            yield break;
        }

        foreach (PlannedLadder ladder in planned)
        {
            yield return new ReportPart.Heading(ladder.Counterpart);
            if (ladder.WhyNot is { } whyNot) yield return new ReportPart.Line($"No gauges: {whyNot}.");
            else if (ladder.Steps is not { } steps) yield return new ReportPart.Line($"No gauges are needed: it fits with {OddsInWords.Percent(ladder.OddsNow)}.", Tone.Good);
            else if (steps.HoldsPattern)
            {
                yield return new ReportPart.Line($"One gauge that holds the whole pattern, with {steps.Size} {LengthsShown.WithUnit(steps.DrawnMm[0], unit)}. Put it in place with all that goes through, then measure its holes, the web between them and the span over their far walls, and enter them as a trial.");
                yield return new ReportPart.Line($"That is expected to bring the odds of {ladder.Counterpart} from {OddsInWords.Percent(ladder.OddsNow)} to {OddsInWords.Percent(ladder.OddsExpected)}; {OddsInWords.Percent(ladder.WantedOdds)} would do.", ladder.Settles ? Tone.Good : Tone.LookHere);
            }
            else
            {
                yield return new ReportPart.Table(["gauge", "dots", steps.Size], [.. steps.DrawnMm.Select((mm, k) => new ReportPart.Row(Tone.Plain, Number(k + 1), new string('●', k + 1), LengthsShown.WithUnit(mm, unit)))]);
                string expected = $"Tried with {ladder.Counterpart}, they are expected to bring its odds from {OddsInWords.Percent(ladder.OddsNow)} to {OddsInWords.Percent(ladder.OddsExpected)}; {OddsInWords.Percent(ladder.WantedOdds)} would do.";
                yield return new ReportPart.Line(ladder.Settles ? expected : $"{expected} No number of gauges is expected to reach that: the printer's own scatter is what is left.", ladder.Settles ? Tone.Good : Tone.LookHere);
            }

            if (worth.TryGetValue(ladder.Counterpart, out LadderWorth? pays)) yield return new ReportPart.Line(pays.Words, pays.Pays ? Tone.Good : Tone.LookHere);
        }

        if (made.Count > 0)
        {
            yield return new ReportPart.Heading($"Files in {folder}");
            yield return new ReportPart.Table(["file", "for"], [.. made.SelectMany(m => m.Files).Select(f => new ReportPart.Row(Tone.Plain, f.Name, f.For))]);
            yield return new ReportPart.Line("Print the strip as it stands, in the material and with the settings of the part. Try the counterpart from the loosest gauge (most dots) to the tightest, and note where it goes.");
        }
        else if (planned.Any(p => p.Steps is not null))
        {
            yield return new ReportPart.Line("With --out their strips are made, ready to print.");
        }

        if (found.IsAssumed)
            yield return new ReportPart.Line("What the printer does is assumed, not measured; the gauges are what tells.");
    }

    public static void WriteMembers(Utf8JsonWriter json, IReadOnlyList<PlannedLadder> planned, IReadOnlyList<MadeLadder> made, IReadOnlyDictionary<string, LadderWorth> worth)
    {
        json.WriteStartArray("ladders");
        foreach (PlannedLadder ladder in planned)
        {
            json.WriteStartObject();
            json.WriteString("counterpart", ladder.Counterpart);
            json.WriteNumber("oddsNow", ladder.OddsNow);
            json.WriteNumber("oddsExpected", ladder.OddsExpected);
            json.WriteNumber("wantedOdds", ladder.WantedOdds);
            json.WriteBoolean("settles", ladder.Settles);
            if (ladder.WhyNot is { } whyNot) json.WriteString("whyNot", whyNot);
            if (ladder.Steps is { } steps)
            {
                json.WriteString("size", steps.Size);
                json.WriteBoolean("holdsPattern", steps.HoldsPattern);
                json.WriteStartArray("gauges");
                foreach (double mm in steps.DrawnMm) json.WriteNumberValue(mm);
                json.WriteEndArray();
            }

            if (worth.TryGetValue(ladder.Counterpart, out LadderWorth? pays))
            {
                json.WriteStartObject("worth");
                json.WriteBoolean("pays", pays.Pays);
                json.WriteNumber("gaugeGrams", pays.Gauges.Grams);
                json.WriteNumber("gaugeMinutes", pays.Gauges.Minutes);
                json.WriteNumber("partGrams", pays.Part.Grams);
                json.WriteNumber("partMinutes", pays.Part.Minutes);
                json.WriteNumber("printsSpared", pays.PrintsSpared);
                json.WriteNumber("minutesSpared", pays.MinutesSpared);
                json.WriteNumber("gramsSpared", pays.GramsSpared);
                json.WriteEndObject();
            }

            json.WriteStartArray("files");
            foreach (MadeFile file in made.Where(m => m.Steps.Counterpart == ladder.Counterpart).SelectMany(m => m.Files)) json.WriteStringValue(file.Name);
            json.WriteEndArray();
            json.WriteEndObject();
        }

        json.WriteEndArray();
    }

    private static string Number(int n) => n.ToString(CultureInfo.InvariantCulture);
}
