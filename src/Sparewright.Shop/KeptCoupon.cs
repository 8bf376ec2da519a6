using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;

namespace Sparewright.Shop;

/// <summary>What makes one process another: machine, material, and the settings that are told apart. Capitals and blanks around do not.</summary>
public sealed record ProcessName(string Machine, string Material, string Settings)
{
    public bool Is(ProcessName other) => Key == other.Key;

    internal string Key => string.Join('\u001f', ((string[])[Machine, Material, Settings]).Select(w => w.Trim().ToUpperInvariant()));
}

/// <summary>The readings of one print of the capability coupon, as they were entered, for every job that is printed by the same process.</summary>
/// <param name="On">The day of the print.</param>
/// <param name="With">The instrument's name; null where there is but one.</param>
/// <param name="Reads">By the number in the coupon's plan what the display said, once or repeatedly, as a job writes it: <c>7.81</c>, <c>0.3075 in</c>.</param>
public sealed record KeptCoupon(ProcessName Process, DateOnly On, string? With, IReadOnlyDictionary<int, IReadOnlyList<string>> Reads)
{
    /// <summary>The same with other readings of one number; none takes it out.</summary>
    public KeptCoupon Reading(int number, IReadOnlyList<string> reads)
    {
        var all = Reads.Where(r => r.Key != number).ToDictionary();
        if (reads.Count > 0) all[number] = reads;
        return this with { Reads = all };
    }

    /// <summary>One print on one day: another coupon of that day replaces it. The words may be long, so that what tells processes apart is their hash.</summary>
    internal RecordName Name => new(RecordKind.Coupon, $"{Day} {Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(Process.Key)))[..24]}");

    private string Day => On.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    internal string Text()
    {
        using var stream = new MemoryStream();
        using (var json = new Utf8JsonWriter(stream, new JsonWriterOptions { Indented = true }))
        {
            json.WriteStartObject();
            json.WriteString("machine", Process.Machine);
            json.WriteString("material", Process.Material);
            json.WriteString("settings", Process.Settings);
            json.WriteString("on", Day);
            if (With is not null) json.WriteString("with", With);
            json.WriteStartObject("reads");
            foreach (var (number, reads) in Reads.OrderBy(r => r.Key))
            {
                json.WriteStartArray(number.ToString(CultureInfo.InvariantCulture));
                foreach (string read in reads) json.WriteStringValue(read);
                json.WriteEndArray();
            }

            json.WriteEndObject();
            json.WriteEndObject();
        }

        return Encoding.UTF8.GetString(stream.ToArray());
    }

    /// <summary>Null for a text that is none of ours: a newer version's, perhaps.</summary>
    internal static KeptCoupon? Read(string text)
    {
        try
        {
            using JsonDocument json = JsonDocument.Parse(text);
            JsonElement root = json.RootElement;
            string Word(string name) => root.GetProperty(name).GetString()!;
            return new(new(Word("machine"), Word("material"), Word("settings")), DateOnly.ParseExact(Word("on"), "yyyy-MM-dd", CultureInfo.InvariantCulture), root.TryGetProperty("with", out JsonElement with) ? with.GetString() : null,
                root.GetProperty("reads").EnumerateObject().ToDictionary(r => int.Parse(r.Name, CultureInfo.InvariantCulture), r => (IReadOnlyList<string>)[.. r.Value.EnumerateArray().Select(v => v.GetString()!)]));
        }
        catch (Exception e) when (e is JsonException or KeyNotFoundException or FormatException or InvalidOperationException)
        {
            return null;
        }
    }
}

/// <summary>A coupon's readings as they stand on the shelf.</summary>
/// <param name="Number">Of its revision.</param>
public sealed record ShelvedCoupon(KeptCoupon Coupon, int Number);

/// <summary>The coupons that were measured for the shop's printers, with all their revisions.</summary>
public sealed class CouponShelf(IRecordStore records)
{
    /// <summary>Those of one process, the newest print first.</summary>
    public async Task<Kept<IReadOnlyList<ShelvedCoupon>>> OfAsync(ProcessName process, CancellationToken cancel = default)
    {
        Kept<IReadOnlyList<ShopRecord>> all = await records.RecordsAsync(RecordKind.Coupon, cancel: cancel).ConfigureAwait(false);
        if (!all.IsGood) return all.Problem;
        return new([.. from r in all.Value let coupon = KeptCoupon.Read(r.Text) where coupon is not null && coupon.Process.Is(process) orderby coupon.On descending select new ShelvedCoupon(coupon, r.Number)], null);
    }

    /// <summary>Keeps readings, the first of a print with <paramref name="basedOn"/> 0. When that is not the latest revision any more it is refused as changed meanwhile.</summary>
    public async Task<Kept<ShelvedCoupon>> KeepAsync(KeptCoupon coupon, int basedOn, CancellationToken cancel = default)
    {
        Kept<ShopRecord> kept = await records.KeepAsync(coupon.Name, basedOn, coupon.Text(), cancel).ConfigureAwait(false);
        return kept.IsGood ? new ShelvedCoupon(coupon, kept.Value.Number) : kept.Problem;
    }
}
