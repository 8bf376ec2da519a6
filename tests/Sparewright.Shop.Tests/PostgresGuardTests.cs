using Sparewright.StoreSoak;
using Xunit;
using static Sparewright.Shop.Tests.TestShop;

namespace Sparewright.Shop.Tests;

/// <summary>A server that may lose what it acknowledged, a password where others read it, a way that others listen on: refused. A server that is gone: said.</summary>
public class PostgresGuardTests(Postgres postgres)
{
    [Theory]
    [InlineData("fsync")]
    [InlineData("full_page_writes")]
    public async Task A_server_that_does_not_guard_what_it_writes_is_refused(string setting)
    {
        using var server = new PostgresServer($"{setting}=off");
        StoreProblem told = (await ShopData.OpenPostgresAsync(server.NewDatabase(), TimeProvider.System)).Problem!;
        Assert.Equal(StoreProblemKind.Unavailable, told.Kind);
        Assert.Contains($"{setting} off", told.What, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_database_that_acknowledges_before_it_has_synced_is_refused()
    {
        string address = await postgres.NewDatabaseAsync();
        string name = address.Split("Database=")[1].Split(';')[0];
        await using (ShopData shop = Good(await ShopData.OpenPostgresAsync(address, TimeProvider.System))) Good(await shop.Jobs.BeginAsync("0", "begun"));
        postgres.Server.Sql(name, $"alter database {name} set synchronous_commit = off");
        // Connections that lie ready know nothing of it; each new one is asked.
        Npgsql.NpgsqlConnection.ClearAllPools();
        StoreProblem told = (await ShopData.OpenPostgresAsync(address, TimeProvider.System)).Problem!;
        Assert.Contains("synchronous_commit off", told.What, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("Host=/tmp;Database=x;Username=y;Password=hush", "holds a password")]
    [InlineData("Host=db.example.org;Database=x;Username=y", "is not guarded")]
    [InlineData("Host=db.example.org;Database=x;Username=y;SSL Mode=Require", "is not guarded")]
    [InlineData("Host=/tmp,db.example.org;Database=x;Username=y", "is not guarded")]
    [InlineData("Hots=here", "cannot be read")]
    [InlineData("Host=/nowhere/at/all;Database=x;Username=y", "does not answer")]
    public async Task Such_an_address_will_not_do(string address, string says)
    {
        StoreProblem told = (await ShopData.OpenPostgresAsync(address, TimeProvider.System)).Problem!;
        Assert.Contains(says, told.What, StringComparison.Ordinal);
        Assert.DoesNotContain("hush", $"{told}", StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_server_that_goes_and_comes_back_is_said_and_used_again()
    {
        using var server = new PostgresServer();
        await using ShopData shop = Good(await ShopData.OpenPostgresAsync(server.NewDatabase(), TimeProvider.System));
        JobHead head = Good(await shop.Jobs.BeginAsync("0", "begun"));
        server.Kill();
        Assert.Equal(StoreProblemKind.Unavailable, (await shop.Jobs.EnterAsync(head.Job, 1, "1", "one")).Problem!.Kind);
        Assert.Equal(StoreProblemKind.Unavailable, (await shop.Jobs.HeadAsync(head.Job)).Problem!.Kind);
        server.Start();
        Assert.Equal(head, Good(await shop.Jobs.HeadAsync(head.Job)));
        Assert.Equal(2, Good(await shop.Jobs.EnterAsync(head.Job, 1, "1", "one")).Latest.Number);
    }

    [Fact]
    public async Task A_user_who_may_only_add_will_do_once_the_tables_are_there()
    {
        string address = await postgres.NewDatabaseAsync();
        string name = address.Split("Database=")[1].Split(';')[0];
        await (Good(await ShopData.OpenPostgresAsync(address, TimeProvider.System))).DisposeAsync();
        postgres.Server.Sql(name, "create role keeper login; grant select, insert on all tables in schema public to keeper; grant update (latest) on job to keeper; grant update (removed_at, seal) on photograph to keeper");
        await using ShopData shop = Good(await ShopData.OpenPostgresAsync($"{address[..address.IndexOf("Username", StringComparison.Ordinal)]}Username=keeper", TimeProvider.System));
        JobHead head = Good(await shop.Jobs.BeginAsync("0", "begun"));
        Good(await shop.Jobs.EnterAsync(head.Job, 1, "1", "one"));
        Good(await shop.Jobs.AddPhotographAsync(head.Job, "x.png", "image/png", 1, 1, new byte[10]));
        Good(await shop.Jobs.RemovePhotographAsync(head.Job, 1));
        Assert.Equal("0", Good(await shop.Jobs.UndoAsync(head.Job, 2)).Latest.Text);
    }

    [Fact]
    public async Task Rows_changed_by_hand_are_noticed_and_most_cannot_be()
    {
        string address = await postgres.NewDatabaseAsync();
        string name = address.Split("Database=")[1].Split(';')[0];
        await using ShopData shop = Good(await ShopData.OpenPostgresAsync(address, TimeProvider.System));
        JobHead head = Good(await shop.Jobs.BeginAsync("0", "begun"));
        Assert.Contains("never changed", Assert.Throws<InvalidOperationException>(() => postgres.Server.Sql(name, "update revision set what = 'x'")).Message, StringComparison.Ordinal);
        postgres.Server.Sql(name, "alter table revision disable trigger user; update revision set what = 'x'");
        StoreProblem told = (await shop.Jobs.HeadAsync(head.Job)).Problem!;
        Assert.Equal(StoreProblemKind.Unavailable, told.Kind);
        Assert.Contains("damaged", told.What, StringComparison.Ordinal);
    }
}
