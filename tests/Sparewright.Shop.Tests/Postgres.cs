using Sparewright.StoreSoak;
using Xunit;

[assembly: AssemblyFixture(typeof(Sparewright.Shop.Tests.Postgres))]

namespace Sparewright.Shop.Tests;

/// <summary>One server for all tests; it starts when it is first asked for.</summary>
public sealed class Postgres : IDisposable
{
    private readonly Lazy<PostgresServer> _server = new(() => new PostgresServer());

    public PostgresServer Server => _server.Value;

    /// <summary>The address of a fresh database.</summary>
    public Task<string> NewDatabaseAsync() => Task.Run(_server.Value.NewDatabase);

    public void Dispose()
    {
        if (_server.IsValueCreated) _server.Value.Dispose();
    }
}
