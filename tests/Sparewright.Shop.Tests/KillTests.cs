using Sparewright.StoreSoak;
using Xunit;

namespace Sparewright.Shop.Tests;

/// <summary>A short run of what bench/StoreSoak does at length.</summary>
public sealed class KillTests
{
    [Fact]
    public async Task Nothing_acknowledged_is_lost_when_the_program_is_killed()
    {
        KillReport report = await KillRounds.RunAsync(12, 7, null);
        TestContext.Current.SendDiagnosticMessage($"{report}");
        Assert.True(report.IsGood, $"{report}");
        Assert.True(report.Acknowledged > 12, $"{report}");
    }

    [Fact]
    public async Task Nothing_acknowledged_is_lost_when_the_program_or_the_server_is_killed()
    {
        using var server = new PostgresServer();
        KillReport report = await KillRounds.RunAsync(8, 7, server);
        TestContext.Current.SendDiagnosticMessage($"{report}");
        Assert.True(report.IsGood, $"{report}");
        Assert.True(report.Acknowledged > 8, $"{report}");
    }

    [Fact]
    public void Every_acknowledgement_comes_after_a_sync()
    {
        SyncReport report = SyncTrace.Run(100);
        Assert.SkipWhen(report.WhyNot is not null, $"{report}");
        Assert.True(report.IsGood, $"{report}");
        Assert.Equal(100, report.Acknowledged);
    }

    [Theory]
    [InlineData(1, "1 pwrite64(9</s/shop.db-wal>, \"\", 9, 0) = 9", "1 fdatasync(9</s/shop.db-wal>) = 0", "2 write(1<pipe:[1]>, \"ack 1\\n\", 6) = 6")]
    [InlineData(1, "1 pwrite64(9</s/shop.db-wal>, \"\", 9, 0) = 9", "1 fdatasync(9</s/shop.db-wal> <unfinished ...>", "2 futex(x) = 0", "1 <... fdatasync resumed>) = 0", "2 write(1<pipe:[1]>, \"ack 1\\n\", 6) = 6")]
    [InlineData(0, "1 pwrite64(9</s/shop.db-wal>, \"\", 9, 0) = 9", "2 write(1<pipe:[1]>, \"ack 1\\n\", 6) = 6", "1 fdatasync(9</s/shop.db-wal>) = 0")]
    [InlineData(0, "1 fdatasync(9</s/shop.db-wal>) = 0", "1 pwrite64(9</s/shop.db-wal>, \"\", 9, 0) = 9", "2 write(1<pipe:[1]>, \"ack 1\\n\", 6) = 6")]
    [InlineData(0, "1 pwrite64(9</s/shop.db-wal>, \"\", 9, 0) = 9", "1 fdatasync(9</s/shop.db>) = 0", "2 write(1<pipe:[1]>, \"ack 1\\n\", 6) = 6")]
    [InlineData(0, "1 pwrite64(9</s/shop.db-wal>, \"\", 9, 0) = 9", "1 fdatasync(9</s/shop.db-wal>) = -1 EIO (Input/output error)", "2 write(1<pipe:[1]>, \"ack 1\\n\", 6) = 6")]
    [InlineData(0, "1 pwrite64(9</s/shop.db-wal>, \"\", 9, 0) = 9", "1 fdatasync(9</s/shop.db-wal> <unfinished ...>", "2 write(1<pipe:[1]>, \"ack 1\\n\", 6) = 6", "1 <... fdatasync resumed>) = 0")]
    [InlineData(0, "1 fdatasync(9</s/shop.db-wal> <unfinished ...>", "2 pwrite64(9</s/shop.db-wal>, \"\", 9, 0) = 9", "1 <... fdatasync resumed>) = 0", "2 write(1<pipe:[1]>, \"ack 1\\n\", 6) = 6")]
    [InlineData(0, "2 write(1<pipe:[1]>, \"ack 1\\n\", 6) = 6")]
    public void A_trace_without_the_sync_is_noticed(int synced, params string[] trace) => Assert.Equal(new SyncReport(1, synced, null), SyncTrace.Read(trace));
}
