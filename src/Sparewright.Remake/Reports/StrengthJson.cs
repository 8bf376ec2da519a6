using System.Text.Json;
using Sparewright.Remake.Bearing;
using Sparewright.Solid;
using Sparewright.Strength.Materials;
using Sparewright.Strength.Stresses;

namespace Sparewright.Remake.Reports;

/// <summary>Whether it will hold, for other programs. Lengths in mm, stresses in MPa, times in s.</summary>
public static class StrengthJson
{
    /// <summary>Members of one object.</summary>
    public static void WriteMembers(Utf8JsonWriter json, StrengthFound found)
    {
        json.WriteString("material", found.Material.Name);
        json.WriteString("wayUp", Word(found.Up));
        json.WriteNumber("cells", found.Needs.Cells);
        json.WriteNumber("cellMm", found.Needs.CellMm);
        json.WriteNumber("memoryBytesAtMost", found.Needs.MostBytes);
        json.WriteStartArray("cases");
        foreach (CaseFound of in found.Cases) Case(json, of);
        json.WriteEndArray();
        json.WriteStartObject("bestWayUp");
        json.WriteString("up", Word(found.Ways[0].Up));
        Number(json, "margin", found.Ways[0].Margin);
        Number(json, "marginNow", found.Ways.First(w => w.Up == found.Up).Margin);
        json.WriteStartArray("ways");
        foreach (WayUp way in found.Ways)
        {
            json.WriteStartObject();
            json.WriteString("up", Word(way.Up));
            Number(json, "margin", way.Margin);
            Number(json, "marginError", way.Least.Margin.PlusMinus);
            json.WriteEndObject();
        }

        json.WriteEndArray();
        json.WriteEndObject();
        CureReport.Write(json, found);
        if (found.Old is { } old) Old(json, old);
        else json.WriteNull("oldPart");
        json.WriteStartArray("assumptions");
        json.WriteStringValue(StrengthReport.Assumptions);
        foreach (string caution in StrengthReport.Cautions(found)) json.WriteStringValue(caution);
        json.WriteEndArray();
        json.WriteString("surer", StrengthReport.Surer(found));
        json.WriteNumber("seconds", found.Seconds);
        json.WriteBoolean("needsAttention", found.NeedsAttention);
    }

    private static void Case(Utf8JsonWriter json, CaseFound of)
    {
        json.WriteStartObject();
        json.WriteString("name", of.Load.Name);
        Number(json, "margin", of.Margin.Value);
        Number(json, "marginError", of.Margin.PlusMinus);
        Number(json, "tsaiWu", of.Margin.TsaiWu);
        Number(json, "hoffman", of.Margin.Hoffman);
        Number(json, "shortTerm", of.ShortTerm.Factor);
        Number(json, "shortTermError", of.ShortTerm.Factor * StrengthReport.ShareOf(of.Margin));
        json.WriteStartObject("weakest");
        Point(json, "at", of.Solved.Weakest.Point.At);
        json.WriteString("element", of.Element);
        json.WriteString("mode", StrengthReport.Words(of.Margin.Mode));
        json.WriteNumber("maxPrincipalMPa", of.Solved.Weakest.Stress.Principal.First);
        json.WriteNumber("stressPlusMinus", of.Solved.StressPlusMinus);
        json.WriteString("resolution", of.Solved.Resolution switch { Resolution.NotResolved => "not resolved", Resolution.Coarse => "coarse", Resolution.Resolved => "resolved", _ => "flat" });
        json.WriteEndObject();
        if (of.Next is { } next) Next(json, next);
        else json.WriteNull("next");
        Allowed(json, of.Allowables.Against(of.Margin.Mode));
        json.WriteNumber("displacementMm", of.Solved.DisplacementMm);
        json.WriteNumber("displacementErrorMm", of.Solved.DisplacementPlusMinusMm);
        json.WriteStartArray("closedGaps");
        foreach (ClosedGap gap in of.ClosedGaps)
        {
            json.WriteStartObject();
            json.WriteString("first", gap.First);
            json.WriteString("second", gap.Second);
            Point(json, "at", gap.At);
            json.WriteNumber("mm", gap.Mm);
            json.WriteEndObject();
        }

        json.WriteEndArray();
        json.WriteNumber("elements", of.Solved.Elements);
        json.WriteNumber("seconds", of.Solved.Seconds);
        OpinionReport.Write(json, of);
        json.WriteStartArray("remarks");
        foreach (string remark in StrengthReport.Remarks(of)) json.WriteStringValue(remark);
        json.WriteEndArray();
        json.WriteEndObject();
    }

    private static void Next(Utf8JsonWriter json, NextPlace next)
    {
        json.WriteStartObject("next");
        Point(json, "at", next.At);
        json.WriteString("element", next.Element);
        json.WriteString("mode", StrengthReport.Words(next.Margin.Mode));
        Number(json, "margin", next.Margin.Value);
        Number(json, "marginError", next.Margin.PlusMinus);
        json.WriteEndObject();
    }

    private static void Allowed(Utf8JsonWriter json, AllowedStrength allowed)
    {
        json.WriteStartObject("allowed");
        json.WriteNumber("allowedMPa", allowed.MPa);
        json.WriteNumber("strengthMPa", allowed.Strength.Value);
        json.WriteNumber("spread", allowed.Strength.Spread);
        json.WriteString("status", Word(allowed.Strength.Status));
        json.WriteString("source", allowed.Strength.Source);
        json.WriteStartArray("factors");
        foreach (KnockDown factor in allowed.Factors)
        {
            json.WriteStartObject();
            json.WriteString("name", factor.Name);
            json.WriteNumber("factor", factor.Factor);
            json.WriteString("status", Word(factor.Status));
            json.WriteEndObject();
        }

        json.WriteEndArray();
        json.WriteNumber("dividedBy", allowed.Safety.Factor);
        json.WriteEndObject();
    }

    private static void Old(Utf8JsonWriter json, OldPart old)
    {
        json.WriteStartObject("oldPart");
        json.WriteString("material", old.Material.Name);
        json.WriteBoolean("guessed", old.Guessed);
        json.WriteStartArray("cases");
        foreach (OldPlace place in old.Places)
        {
            json.WriteStartObject();
            json.WriteString("name", place.Case);
            Point(json, "at", place.At);
            json.WriteString("element", place.Element);
            Number(json, "reserve", place.Reserve.Factor);
            Number(json, "reserveError", place.Reserve.Factor * place.PlusMinus);
            if (place.Agrees is { } agrees) json.WriteBoolean("agreesWithTheBreak", agrees);
            else json.WriteNull("agreesWithTheBreak");
            json.WriteEndObject();
        }

        json.WriteEndArray();
        json.WriteEndObject();
    }

    private static string Word<T>(T value) where T : struct, Enum => value.ToString().ToLowerInvariant();

    /// <summary>JSON knows no infinity: what has no end is null.</summary>
    private static void Number(Utf8JsonWriter json, string name, double value)
    {
        if (double.IsFinite(value)) json.WriteNumber(name, value);
        else json.WriteNull(name);
    }

    private static void Point(Utf8JsonWriter json, string name, Point3 p)
    {
        json.WriteStartArray(name);
        json.WriteNumberValue(p.X);
        json.WriteNumberValue(p.Y);
        json.WriteNumberValue(p.Z);
        json.WriteEndArray();
    }
}
