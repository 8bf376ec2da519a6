using System.Text.Json;
using Sparewright.Part.Record;
using Sparewright.Reconcile.Findings;
using Sparewright.Reconcile.Nominals;
using Sparewright.Reconcile.Readings;

namespace Sparewright.Reconcile;

/// <summary>
/// The reconciled sizes and readings for other programs; lengths in mm, angles in degrees. A number that does not exist (the ± of an undecided size) is null.
/// </summary>
public static class ReconcileJson
{
    /// <summary>Writes one object's members: sizes, unit, shrink, readings, global, contradictions, zeroShifts, next, plan, undecided.</summary>
    public static void WriteMembers(Utf8JsonWriter json, Reconciled reconciled)
    {
        json.WriteStartObject("sizes");
        foreach (ReconciledSize size in reconciled.Sizes) Write(json, size);
        json.WriteEndObject();

        if (reconciled.Unit is { } unit)
        {
            json.WriteStartObject("unit");
            json.WriteNumber("mm", unit.UnitMm);
            json.WriteString("words", unit.Words);
            json.WriteNumber("phi", unit.Phi);
            json.WriteNumber("lengths", unit.Lengths);
            json.WriteEndObject();
        }
        else
        {
            json.WriteNull("unit");
        }

        if (reconciled.Shrink is { } shrink)
        {
            json.WriteStartObject("shrink");
            json.WriteNumber("share", shrink.Share);
            json.WriteNumber("standardUncertainty", shrink.StandardUncertainty);
            json.WriteNumber("odds", shrink.Odds);
            json.WriteEndObject();
        }
        else
        {
            json.WriteNull("shrink");
        }

        json.WriteStartArray("correlations");
        foreach (CorrelatedSizes pair in reconciled.Correlations)
        {
            json.WriteStartObject();
            WriteStrings(json, "sizes", [pair.First, pair.Second]);
            json.WriteNumber("correlation", pair.Correlation);
            json.WriteEndObject();
        }

        json.WriteEndArray();

        json.WriteStartArray("readings");
        foreach (ReconciledReading reading in reconciled.Readings) Write(json, reading);
        json.WriteEndArray();

        json.WriteStartObject("global");
        json.WriteNumber("chi2", reconciled.Global.ChiSquare);
        json.WriteNumber("degreesOfFreedom", reconciled.Global.DegreesOfFreedom);
        json.WriteNumber("p", reconciled.Global.P);
        json.WriteEndObject();

        json.WriteBoolean("disagreeTogether", reconciled.DisagreeTogether);
        json.WriteBoolean("contradictionOpen", reconciled.ContradictionOpen);
        json.WriteStartArray("contradictions");
        foreach (Contradiction contradiction in reconciled.Contradictions)
        {
            json.WriteStartObject();
            WriteStrings(json, "readings", contradiction.Ids);
            json.WriteNumber("wrong", contradiction.HowManyWrong);
            json.WriteNumber("odds", contradiction.Odds);
            json.WriteNumber("w", contradiction.W);
            json.WriteNumber("redundancy", contradiction.Redundancy);
            json.WriteString("unit", contradiction.Unit.Symbol);
            json.WriteNumber("observed", contradiction.ObservedMm);
            json.WriteNumber("shouldRead", contradiction.ShouldReadMm);
            json.WriteBoolean("setAside", contradiction.SetAside);
            json.WriteString("why", contradiction.Words);
            json.WriteEndObject();
        }

        json.WriteEndArray();

        json.WriteStartArray("zeroShifts");
        foreach (ZeroShift shift in reconciled.ZeroShifts)
        {
            json.WriteStartObject();
            json.WriteString("instrument", shift.Instrument);
            json.WriteString("way", ReadingWords.Way(shift.Way));
            json.WriteNumber("shift", shift.Mm);
            json.WriteNumber("standardUncertainty", shift.StandardUncertaintyMm);
            json.WriteNumber("assumedStandardUncertainty", shift.AssumedMm);
            json.WriteEndObject();
        }

        json.WriteEndArray();

        json.WriteStartArray("settledAgainst");
        foreach (string size in reconciled.SettledAgainst) json.WriteStringValue(size);
        json.WriteEndArray();

        if (reconciled.CommonShift is { } common)
        {
            json.WriteStartObject("commonShift");
            json.WriteString("instrument", common.Instrument);
            json.WriteString("way", ReadingWords.Way(common.Way));
            json.WriteNumber("shift", common.Mm);
            json.WriteNumber("standardUncertainty", common.StandardUncertaintyMm);
            json.WriteStartArray("readings");
            foreach (string id in common.Ids) json.WriteStringValue(id);
            json.WriteEndArray();
            json.WriteEndObject();
        }

        json.WriteStartArray("sharedErrors");
        foreach (SharedErrorFound error in reconciled.SharedErrors)
        {
            json.WriteStartObject();
            json.WriteString("name", error.Name);
            json.WriteString("unit", error.Unit.Symbol);
            json.WriteNumber("value", error.Value);
            json.WriteNumber("standardUncertainty", error.StandardUncertainty);
            json.WriteNumber("assumedStandardUncertainty", error.AssumedStandardUncertainty);
            json.WriteEndObject();
        }

        json.WriteEndArray();

        json.WriteStartArray("next");
        foreach (var next in reconciled.Next)
        {
            json.WriteStartObject();
            json.WriteString("reading", next.Text);
            json.WriteString("why", next.Why);
            WriteNumber(json, "foretold", next.ForetoldMm);
            WriteNumber(json, "nats", next.Nats);
            json.WriteStartObject("narrows");
            foreach (var narrowing in next.Narrows)
            {
                json.WriteStartObject(narrowing.Size);
                json.WriteNumber("from", narrowing.From);
                json.WriteNumber("to", narrowing.To);
                json.WriteEndObject();
            }

            json.WriteEndObject();
            json.WriteEndObject();
        }

        json.WriteEndArray();

        json.WriteStartArray("plan");
        foreach (var planned in reconciled.Plan)
        {
            json.WriteStartObject();
            json.WriteString("reading", planned.Text);
            json.WriteNumber("about", planned.AboutMm);
            json.WriteString("why", planned.Why);
            json.WriteEndObject();
        }

        json.WriteEndArray();

        json.WriteStartArray("undecided");
        foreach (UndecidedSizes undecided in reconciled.Undecided)
        {
            json.WriteStartObject();
            WriteStrings(json, "sizes", undecided.Sizes);
            json.WriteString("why", undecided.Why);
            WriteStrings(json, "measure", undecided.Measure);
            json.WriteEndObject();
        }

        json.WriteEndArray();
    }

    private static void Write(Utf8JsonWriter json, ReconciledSize size)
    {
        json.WriteStartObject(size.Name);
        json.WriteNumber("estimate", size.Estimate);
        WriteNumber(json, "standardUncertainty", size.StandardUncertainty);
        WriteNumber(json, "low95", size.Low95);
        WriteNumber(json, "high95", size.High95);
        if (size.Nominal is { } nominal)
        {
            json.WriteStartObject("nominal");
            WriteMembers(json, nominal.Best);
            if (nominal.RunnerUp is { } runnerUp)
            {
                json.WriteStartObject("runnerUp");
                WriteMembers(json, runnerUp);
                json.WriteEndObject();
            }

            json.WriteNumber("none", nominal.NoneOdds);
            json.WriteEndObject();
        }
        else
        {
            json.WriteNull("nominal");
        }

        if (size.SameAs is { } same)
        {
            json.WriteStartObject("sameAs");
            json.WriteString("size", same.Size);
            json.WriteNumber("odds", same.Odds);
            json.WriteEndObject();
        }
        else
        {
            json.WriteNull("sameAs");
        }

        if (size.Centred is { } centred)
        {
            json.WriteStartObject("centred");
            json.WriteString("written", centred.Written);
            json.WriteString("why", centred.Words);
            json.WriteNumber("odds", centred.Odds);
            json.WriteEndObject();
        }
        else
        {
            json.WriteNull("centred");
        }

        WriteStrings(json, "decidedBy", size.DecidedBy);
        json.WriteBoolean("alsoLikely", size.AlsoLikely);
        json.WriteBoolean("settled", size.IsSettled);
        json.WriteString("status", size.Status switch
        {
            SizeStatus.Decided => "decided",
            SizeStatus.Weak => "weak",
            SizeStatus.Fixed => "fixed",
            _ => "undecided",
        });
        json.WriteEndObject();
    }

    private static void WriteMembers(Utf8JsonWriter json, NominalCandidate candidate)
    {
        json.WriteNumber("value", candidate.Value);
        json.WriteString("written", candidate.Written);
        json.WriteString("why", candidate.Why);
        json.WriteNumber("odds", candidate.Odds);
        if (candidate.ShrunkFromMm is { } from) json.WriteNumber("shrunkFrom", from);
    }

    private static void Write(Utf8JsonWriter json, ReconciledReading reading)
    {
        json.WriteStartObject();
        json.WriteString("id", reading.Reading.Id);
        json.WriteString("what", reading.Says);
        json.WriteString("unit", reading.Unit.Symbol);
        WriteNumber(json, "observed", reading.Observed);
        WriteNumber(json, "adjusted", reading.Adjusted);
        WriteNumber(json, "residual", reading.Residual);
        WriteNumber(json, "w", reading.W);
        WriteNumber(json, "redundancy", reading.Redundancy);
        json.WriteBoolean("decides", reading.Redundancy is not null);
        if (reading.WhyNotUsed is { } why) json.WriteString("whyNotUsed", why);
        json.WriteBoolean("unchecked", reading.IsUnchecked);
        json.WriteBoolean("repeatsApart", reading.RepeatsApart);
        json.WriteBoolean("grossError", reading.Verdict == ReadingVerdict.SetAside);
        json.WriteString("verdict", reading.Verdict switch
        {
            ReadingVerdict.Agrees => "agrees",
            ReadingVerdict.SetAside => "set aside",
            ReadingVerdict.Suspect => "suspect",
            ReadingVerdict.Compared => "compared only",
            _ => "compared only, and differs",
        });
        json.WriteStartArray("explanations");
        foreach (var explanation in reading.Explanations)
        {
            json.WriteStartObject();
            json.WriteString("why", explanation.Why);
            WriteNumber(json, "value", explanation.ShouldHaveReadMm);
            json.WriteNumber("odds", explanation.Odds);
            json.WriteEndObject();
        }

        json.WriteEndArray();
        if (reading.Budget is { } budget)
        {
            json.WriteNumber("standardUncertainty", budget.StandardUncertaintyMm);
            json.WriteStartArray("budget");
            foreach (var line in budget.Lines)
            {
                json.WriteStartObject();
                json.WriteString("name", line.Name);
                json.WriteNumber("standardUncertainty", line.StandardUncertaintyMm);
                json.WriteString("how", line.How);
                json.WriteEndObject();
            }

            json.WriteEndArray();
        }

        if (reading.Reading is WeightReading weight)
        {
            json.WriteNumber("grams", weight.ReadsGrams.Average());
            json.WriteNumber("gramsPerCm3", weight.Density);
        }

        if (reading.Reading is GaugeLeafReading leaf)
        {
            json.WriteNumber("biggerThan", leaf.BiggerThanMm);
            json.WriteNumber("smallerThan", leaf.SmallerThanMm);
        }

        json.WriteEndObject();
    }

    private static void WriteNumber(Utf8JsonWriter json, string name, double? value)
    {
        if (value is { } number && double.IsFinite(number)) json.WriteNumber(name, number);
        else json.WriteNull(name);
    }

    private static void WriteStrings(Utf8JsonWriter json, string name, IEnumerable<string> values)
    {
        json.WriteStartArray(name);
        foreach (string value in values) json.WriteStringValue(value);
        json.WriteEndArray();
    }
}
