using System.Text.Json;
using Sparewright.Fit.Odds;
using Sparewright.Part.Record;
using Sparewright.Remake.Fits;

namespace Sparewright.Remake.Reports;

/// <summary>The odds that everything fits, for other programs. Lengths in mm.</summary>
internal static class FitJson
{
    public static void WriteMembers(Utf8JsonWriter json, FoundFits found)
    {
        json.WriteStartArray("counterparts");
        foreach (ExpectedFit fit in found.Each)
        {
            json.WriteStartObject();
            json.WriteString("name", fit.Name);
            json.WriteString("kind", fit.Met.Counterpart.Kind.Name());
            json.WriteNumber("odds", fit.Odds.Value);
            json.WriteNumber("oddsError95", fit.Odds.Error95);
            json.WriteNumber("oddsAsMeasured", fit.AsMeasured.Value);
            json.WriteStartObject("clearance");
            json.WriteNumber("mean", fit.Clearance.MeanMm);
            json.WriteNumber("standardDeviation", fit.Clearance.StandardDeviationMm);
            json.WriteNumber("low95", fit.Low95Mm);
            json.WriteNumber("high95", fit.High95Mm);
            json.WriteEndObject();
            if (fit.Met.Window is { } window)
            {
                json.WriteStartObject("window");
                json.WriteNumber("low", window.LowMm);
                json.WriteNumber("high", window.HighMm);
                json.WriteString("why", window.Why);
                json.WriteEndObject();
            }

            if ((fit.Met.Pitch ?? fit.Met.Own) is { } own)
            {
                json.WriteStartObject(fit.Met.Pitch is null ? "own" : "ownPitch");
                json.WriteNumber("mean", own.Length.MeanMm);
                json.WriteNumber("standardDeviation", own.Length.StandardDeviationMm);
                json.WriteString("from", own.Words);
                json.WriteEndObject();
            }

            json.WriteStartArray("meets");
            foreach (var surface in fit.Met.Surfaces) json.WriteStringValue(surface.Name);
            json.WriteEndArray();
            json.WriteStartObject("drawn");
            foreach (var (size, mm) in fit.DrawnMm) json.WriteNumber(size, mm);
            json.WriteEndObject();
            if (fit.Press is { IsRefused: true } press) json.WriteString("refused", press.Words);
            json.WriteStartArray("remarks");
            foreach (string remark in fit.Met.Remarks) json.WriteStringValue(remark);
            json.WriteEndArray();
            json.WriteEndObject();
        }

        json.WriteEndArray();
        if (found.Each.Count == 0) json.WriteNull("allTogether");
        else json.WriteNumber("allTogether", found.AllTogether);
        json.WriteNumber("wantedOdds", found.WantedOdds);
        json.WriteNumber("allTogetherAsMeasured", found.Drawn.Before.AllTogether.Value);
        json.WriteStartObject("process");
        json.WriteString("kind", found.Process.Setting.Process.ToString().ToUpperInvariant());
        json.WriteString("machine", found.Process.Setting.Machine);
        json.WriteString("material", found.Process.Setting.Material);
        json.WriteString("settings", found.Process.Setting.Settings);
        json.WriteBoolean("assumed", found.IsAssumed);
        json.WriteEndObject();
        json.WriteStartObject("drawn");
        foreach (var change in found.Drawn.Changes) json.WriteNumber(change.Size, Math.Round(found.Fits.DrawnMm[change.Size] + change.ByMm, 9));
        json.WriteEndObject();
        json.WriteStartObject("drawnForThePrinter");
        foreach (var change in found.Others.Changes) json.WriteNumber(change.Size, Math.Round(found.Reconciled.Shape.Sizes[change.Size].Value + change.ByMm, 9));
        json.WriteEndObject();
        json.WriteStartArray("bevelled");
        foreach (var edge in found.Relief)
        {
            json.WriteStartObject();
            json.WriteString("wall", edge.Wall);
            json.WriteString("bed", edge.Bed);
            json.WriteNumber("leg", edge.Relief.LegMm);
            json.WriteString("for", edge.Counterpart);
            json.WriteEndObject();
        }

        json.WriteEndArray();
        json.WriteStartArray("costs");
        foreach (DoubtCost cost in found.Costs)
        {
            json.WriteStartObject();
            Write(json, cost.Doubt);
            json.WriteNumber("oddsIfKnown", cost.OddsIfKnown);
            json.WriteEndObject();
        }

        json.WriteEndArray();
        json.WriteStartArray("cures");
        foreach (Cure cure in found.Cures)
        {
            json.WriteStartObject();
            json.WriteString("cure", cure.Kind switch { CureKind.Reading => "reading", CureKind.Gauges => "gauges", CureKind.Coupon => "coupon", _ => "trial print" });
            Write(json, cure.Of);
            if (cure.Counterpart is { } counterpart) json.WriteString("gaugesOf", counterpart);
            json.WriteNumber("pieces", cure.Pieces);
            json.WriteNumber("minutes", cure.Minutes);
            json.WriteNumber("grams", cure.Grams);
            json.WriteNumber("oddsAfter", cure.OddsAfter);
            json.WriteEndObject();
        }

        json.WriteEndArray();
        json.WriteStartArray("copies");
        foreach (Copies copies in found.Copies)
        {
            json.WriteStartObject();
            json.WriteNumber("number", copies.Number);
            json.WriteNumber("odds", copies.Odds);
            if (found.PartMm3 is { } mm3)
            {
                json.WriteNumber("minutes", copies.Takes(mm3).Minutes);
                json.WriteNumber("grams", copies.Takes(mm3).Grams);
            }

            json.WriteEndObject();
        }

        json.WriteEndArray();
    }

    private static void Write(Utf8JsonWriter json, Doubt doubt)
    {
        var (of, name) = doubt switch
        {
            Doubt.OfBias(var kind) => ("bias", kind.ToString()),
            Doubt.OfSpread(var kind) => ("spread", kind.ToString()),
            Doubt.OfCounterpart(var counterpart) => ("counterpart", counterpart),
            Doubt.OfReading(var size) => ("reading", size),
            _ => throw new InvalidOperationException("unknown doubt"),
        };
        json.WriteString("of", of);
        json.WriteString("name", name);
    }
}
