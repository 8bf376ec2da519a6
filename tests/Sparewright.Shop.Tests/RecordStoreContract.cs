using Xunit;
using static Sparewright.Shop.Tests.TestShop;

namespace Sparewright.Shop.Tests;

/// <summary>What every store of instruments, machines, materials and trials keeps to.</summary>
public class RecordStoreContract(Postgres postgres)
{
    public static TheoryData<string> Kinds => TestShop.Kinds;

    [Theory]
    [MemberData(nameof(Kinds))]
    public async Task A_record_has_all_its_revisions_and_none_is_overwritten(string kind)
    {
        await using TestShop shop = await OpenAsync(kind, postgres);
        var caliper = new RecordName(RecordKind.Instrument, "caliper, 150 mm");
        ShopRecord first = Good(await shop.Data.Records.KeepAsync(caliper, 0, "resolution: 0.01\n"));
        ShopRecord second = Good(await shop.Data.Records.KeepAsync(caliper, 1, "resolution: 0.01\nzero_error: 0.02\n"));
        Assert.Equal(StoreProblemKind.ChangedMeanwhile, (await shop.Data.Records.KeepAsync(caliper, 1, "mine")).Problem!.Kind);
        Assert.Equal(StoreProblemKind.ChangedMeanwhile, (await shop.Data.Records.KeepAsync(caliper, 0, "mine")).Problem!.Kind);
        await shop.ReopenAsync();
        Assert.Equal([second, first], Good(await shop.Data.Records.RevisionsAsync(caliper)));
        Assert.Equal([second], Good(await shop.Data.Records.RecordsAsync(RecordKind.Instrument)));
        Assert.Empty(Good(await shop.Data.Records.RecordsAsync(RecordKind.Machine)));
    }

    [Theory]
    [MemberData(nameof(Kinds))]
    public async Task Trials_belong_to_their_job(string kind)
    {
        await using TestShop shop = await OpenAsync(kind, postgres);
        JobId one = Good(await shop.Jobs.BeginAsync("1", "begun")).Job, other = Good(await shop.Jobs.BeginAsync("2", "begun")).Job;
        ShopRecord b = Good(await shop.Data.Records.KeepAsync(new(RecordKind.Trial, "b.yaml", one), 0, "b")), a = Good(await shop.Data.Records.KeepAsync(new(RecordKind.Trial, "a.yaml", one), 0, "a"));
        Good(await shop.Data.Records.KeepAsync(new(RecordKind.Trial, "a.yaml", other), 0, "other"));
        Assert.Equal([a, b], Good(await shop.Data.Records.RecordsAsync(RecordKind.Trial, one)));
        Assert.Equal(StoreProblemKind.Missing, (await shop.Data.Records.KeepAsync(new(RecordKind.Trial, "a", new JobId("nosuchjob")), 0, "x")).Problem!.Kind);
    }

    [Theory]
    [MemberData(nameof(Kinds))]
    public async Task Coupons_belong_to_their_machine_material_and_setting(string kind)
    {
        await using TestShop shop = await OpenAsync(kind, postgres);
        var bench = new ProcessName("bench printer", "ASA", "nozzle 0.4 mm, layer 0.2 mm");
        var empty = new KeptCoupon(bench, new(2026, 5, 31), "caliper", new Dictionary<int, IReadOnlyList<string>>());
        ShelvedCoupon first = Good(await shop.Data.Coupons.KeepAsync(empty.Reading(16, ["7.81", "0.3075 in"]), 0));
        ShelvedCoupon second = Good(await shop.Data.Coupons.KeepAsync(first.Coupon.Reading(17, ["9.80"]), first.Number));
        ShelvedCoupon later = Good(await shop.Data.Coupons.KeepAsync(empty with { On = new(2026, 6, 30) }, 0));
        Good(await shop.Data.Coupons.KeepAsync(empty with { Process = bench with { Material = "PLA" } }, 0));
        // Somebody else entered something meanwhile: nothing of it is written over.
        Assert.Equal(StoreProblemKind.ChangedMeanwhile, (await shop.Data.Coupons.KeepAsync(first.Coupon.Reading(17, ["9.99"]), first.Number)).Problem!.Kind);
        await shop.ReopenAsync();

        IReadOnlyList<ShelvedCoupon> own = Good(await shop.Data.Coupons.OfAsync(new(" Bench Printer", "asa", "nozzle 0.4 mm, layer 0.2 mm")));
        Assert.Equal([later.Coupon.On, second.Coupon.On], own.Select(c => c.Coupon.On));
        Assert.Equal((2, "caliper"), (own[1].Number, own[1].Coupon.With));
        Assert.Equal(["16: 7.81; 0.3075 in", "17: 9.80"], own[1].Coupon.Reads.OrderBy(r => r.Key).Select(r => $"{r.Key}: {string.Join("; ", r.Value)}"));
        Assert.Empty(own[0].Coupon.Reads);
        ShelvedCoupon without = Good(await shop.Data.Coupons.KeepAsync(own[1].Coupon.Reading(16, []), own[1].Number));
        Assert.Equal([17], without.Coupon.Reads.Keys);
        Assert.Empty(Good(await shop.Data.Coupons.OfAsync(bench with { Settings = "nozzle 0.6 mm" })));
    }

    [Theory]
    [MemberData(nameof(Kinds))]
    public async Task What_cannot_be_kept_is_refused(string kind)
    {
        await using TestShop shop = await OpenAsync(kind, postgres);
        Assert.Equal(StoreProblemKind.Refused, (await shop.Data.Records.KeepAsync(new(RecordKind.Material, ""), 0, "x")).Problem!.Kind);
        Assert.Equal(StoreProblemKind.Refused, (await shop.Data.Records.KeepAsync(new(RecordKind.Material, "a\nb"), 0, "x")).Problem!.Kind);
        Assert.Equal(StoreProblemKind.Refused, (await shop.Data.Records.KeepAsync(new(RecordKind.Material, "PLA"), 0, new string('x', 1_000_001))).Problem!.Kind);
        Assert.Equal(StoreProblemKind.Refused, (await shop.Jobs.BeginAsync("half \ud800 a character", "begun")).Problem!.Kind);
        Assert.Equal(StoreProblemKind.Refused, (await shop.Jobs.BeginAsync(new string('ä', 600_000), "begun")).Problem!.Kind);
        Assert.Equal(StoreProblemKind.Missing, (await shop.Data.Records.RevisionsAsync(new(RecordKind.Material, "PLA"))).Problem!.Kind);
        // What can be seen and what cannot, in a text or a name, is kept as it is or made fit for a line.
        JobHead odd = Good(await shop.Jobs.BeginAsync("\0\u0001\uffff", "two\nlines\0"));
        await shop.ReopenAsync();
        Assert.Equal(("\0\u0001\uffff", "two lines"), (Good(await shop.Jobs.HeadAsync(odd.Job)).Latest.Text, odd.Latest.What));
    }
}
