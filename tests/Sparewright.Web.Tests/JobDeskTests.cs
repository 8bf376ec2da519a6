using Sparewright.Shop;
using Xunit;

namespace Sparewright.Web.Tests;

/// <summary>What all windows on a job share.</summary>
public class JobDeskTests
{
    /// <summary>Every time that windows are told they draw all their panes.</summary>
    [Fact]
    public async Task An_entry_is_told_of_once_and_once_more_when_its_solid_is_known()
    {
        await using OpenShop shop = await OpenShop.WithAsync(Jobs.Examples["vent-knuckle"]);
        await shop.Desk.Settled;
        int told = 0;
        shop.Desk.Changed += () => Interlocked.Increment(ref told);
        Kept<JobHead> kept = await shop.Desk.EnterAsync(1, shop.Text.Replace("reads: 54.00", "reads: 54.01", StringComparison.Ordinal), "r10: 54.01");
        Assert.True(kept.IsGood);
        await shop.Desk.Settled;
        Assert.Equal(2, told);
        Assert.Equal(2, shop.Desk.Live.Version);
        Assert.Same(shop.Desk.Head.Latest.Text, shop.Desk.Live.Text);
    }

    [Fact]
    public async Task What_was_not_kept_is_not_followed()
    {
        await using OpenShop shop = await OpenShop.WithAsync(Jobs.Examples["vent-knuckle"]);
        await shop.Desk.EnterAsync(1, shop.Text.Replace("reads: 54.00", "reads: 54.01", StringComparison.Ordinal), "r10: 54.01");
        string there = shop.Text;
        Kept<JobHead> kept = await shop.Desk.EnterAsync(1, there.Replace("reads: 54.01", "reads: 54.02", StringComparison.Ordinal), "r10: 54.02");
        Assert.Equal(StoreProblemKind.ChangedMeanwhile, kept.Problem!.Kind);
        Assert.Equal(there, shop.Desk.Live.Text);
        Assert.Equal(there, shop.Text);
    }
}
