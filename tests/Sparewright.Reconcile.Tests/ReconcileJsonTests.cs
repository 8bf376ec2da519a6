using System.Text.Json;
using Sparewright.Part.Record;
using Sparewright.Reconcile.Findings;
using Xunit;

namespace Sparewright.Reconcile.Tests;

/// <summary>The fields that other programs read, by name and kind.</summary>
public class ReconcileJsonTests
{
    [Fact]
    public void What_was_meant_has_the_fields_of_the_contract()
    {
        Reconciled crank = Jobs.Reconcile(Jobs.Example("line-reel-crank"));
        Reconciled told = crank with
        {
            Shrink = new(0.006, 0.0001, 0.9),
            Sizes = [.. crank.Sizes.Select((s, k) => k == 0 ? s with { Centred = new("arm_long/2", "peg in the middle of arm", 0.8), Nominal = new(new(57.1, "2 1/4 in, shrunk by 0.09 %", 0.9) { ShrunkFromMm = 57.15 }, null, 0.01) } : s)],
        };
        using JsonDocument json = Written(told);
        JsonElement size = json.RootElement.GetProperty("sizes").GetProperty(told.Sizes[0].Name);
        Assert.Equal(("arm_long/2", "peg in the middle of arm", 0.8), (size.GetProperty("centred").GetProperty("written").GetString(), size.GetProperty("centred").GetProperty("why").GetString(), size.GetProperty("centred").GetProperty("odds").GetDouble()));
        Assert.Equal((57.15, "57.1"), (size.GetProperty("nominal").GetProperty("shrunkFrom").GetDouble(), size.GetProperty("nominal").GetProperty("written").GetString()));
        Assert.Equal(0.006, json.RootElement.GetProperty("shrink").GetProperty("share").GetDouble());
        using JsonDocument plain = Written(crank);
        Assert.Equal(JsonValueKind.Null, plain.RootElement.GetProperty("shrink").ValueKind);
        JsonElement inch = plain.RootElement.GetProperty("sizes").GetProperty("flange_d");
        Assert.Equal(("2 1/4 in", JsonValueKind.Null, false), (inch.GetProperty("nominal").GetProperty("written").GetString(), inch.GetProperty("centred").ValueKind, inch.GetProperty("nominal").TryGetProperty("shrunkFrom", out _)));
    }

    [Fact]
    public void Sizes_readings_and_tests_have_the_fields_of_the_contract()
    {
        // Without its gauge leaves, so that a size stays open.
        Job job = Jobs.Example("vent-knuckle");
        Reconciled reconciled = Jobs.Reconcile(job with { Readings = [.. job.Readings.Where(r => r is not GaugeLeafReading)] });
        using JsonDocument json = Written(reconciled);
        JsonElement root = json.RootElement;

        Assert.Equal(reconciled.Sizes.Select(s => s.Name), root.GetProperty("sizes").EnumerateObject().Select(p => p.Name));
        JsonElement bore = root.GetProperty("sizes").GetProperty("bore_d");
        Assert.Equal(reconciled.Size("bore_d").Estimate, bore.GetProperty("estimate").GetDouble());
        Assert.Equal(reconciled.Size("bore_d").StandardUncertainty, bore.GetProperty("standardUncertainty").GetDouble());
        Assert.Equal(bore.GetProperty("high95").GetDouble() - bore.GetProperty("low95").GetDouble(), 2 * 1.959964 * bore.GetProperty("standardUncertainty").GetDouble(), 1e-6);
        Assert.Equal(reconciled.Size("bore_d").Nominal!.Best.Value, bore.GetProperty("nominal").GetProperty("value").GetDouble());
        Assert.Equal(reconciled.Size("bore_d").DecidedBy, bore.GetProperty("decidedBy").EnumerateArray().Select(e => e.GetString()));
        Assert.Equal("decided", bore.GetProperty("status").GetString());

        JsonElement open = root.GetProperty("sizes").GetProperty("edge_r");
        Assert.Equal("undecided", open.GetProperty("status").GetString());
        foreach (string field in (string[])["standardUncertainty", "low95", "high95"]) Assert.Equal(JsonValueKind.Null, open.GetProperty(field).ValueKind);
        Assert.Equal("weak", root.GetProperty("sizes").GetProperty("seat").GetProperty("status").GetString());

        var readings = root.GetProperty("readings").EnumerateArray().ToDictionary(r => r.GetProperty("id").GetString()!);
        Assert.Equal(reconciled.Readings.Select(r => r.Reading.Id), readings.Keys);
        JsonElement wrong = readings["r15"];
        Assert.True(wrong.GetProperty("grossError").GetBoolean());
        Assert.True(wrong.GetProperty("redundancy").GetDouble() >= 0.5);
        Assert.Equal(wrong.GetProperty("adjusted").GetDouble() - wrong.GetProperty("observed").GetDouble(), wrong.GetProperty("residual").GetDouble(), 1e-12);
        Assert.True(Math.Abs(wrong.GetProperty("w").GetDouble()) > 10);
        Assert.Equal(JsonValueKind.Array, wrong.GetProperty("explanations").ValueKind);
        Assert.Single(readings.Values, r => r.GetProperty("grossError").GetBoolean());
        // A reading that nothing checks has no test.
        Assert.Equal(JsonValueKind.Null, readings["r4"].GetProperty("w").ValueKind);
        Assert.True(readings["r4"].GetProperty("unchecked").GetBoolean());

        JsonElement global = root.GetProperty("global");
        Assert.Equal(reconciled.Global.ChiSquare, global.GetProperty("chi2").GetDouble());
        Assert.Equal(reconciled.Global.DegreesOfFreedom, global.GetProperty("degreesOfFreedom").GetInt32());
        Assert.Equal(reconciled.Global.P, global.GetProperty("p").GetDouble());
        Assert.Equal(reconciled.Next.Select(n => n.Text), root.GetProperty("next").EnumerateArray().Select(n => n.GetProperty("reading").GetString()));
        Assert.Equal(reconciled.Next[0].Narrows[0].To, root.GetProperty("next")[0].GetProperty("narrows").GetProperty(reconciled.Next[0].Narrows[0].Size).GetProperty("to").GetDouble());
        Assert.Equal(reconciled.Reading("r15").Explanations.Select(e => e.Why), root.GetProperty("readings").EnumerateArray().First(r => r.GetProperty("id").GetString() == "r15").GetProperty("explanations").EnumerateArray().Select(e => e.GetProperty("why").GetString()));

        JsonElement undecided = Assert.Single(root.GetProperty("undecided").EnumerateArray());
        Assert.Equal("edge_r", Assert.Single(undecided.GetProperty("sizes").EnumerateArray()).GetString());
        Assert.Contains("`edge_r`", undecided.GetProperty("why").GetString());
        Assert.NotEqual(0, undecided.GetProperty("measure").GetArrayLength());
    }

    [Fact]
    public void The_budget_of_a_reading_adds_up_in_squares()
    {
        using JsonDocument json = Written(Jobs.Reconcile(Jobs.Example("vent-knuckle")));
        foreach (JsonElement reading in json.RootElement.GetProperty("readings").EnumerateArray())
        {
            if (!reading.TryGetProperty("budget", out JsonElement budget)) continue;
            double squares = budget.EnumerateArray().Sum(l => Math.Pow(l.GetProperty("standardUncertainty").GetDouble(), 2));
            Assert.Equal(reading.GetProperty("standardUncertainty").GetDouble(), Math.Sqrt(squares), 1e-12);
        }
    }

    private static JsonDocument Written(Reconciled reconciled)
    {
        using var stream = new MemoryStream();
        using (var json = new Utf8JsonWriter(stream))
        {
            json.WriteStartObject();
            ReconcileJson.WriteMembers(json, reconciled);
            json.WriteEndObject();
        }

        return JsonDocument.Parse(stream.ToArray());
    }
}
