using System.Diagnostics;
using Xunit;

[assembly: AssemblyFixture(typeof(Sparewright.Shop.Tests.Postgres))]

namespace Sparewright.Shop.Tests;

/// <summary>A PostgreSQL server of the tests' own, from Debian's packages, on a socket in a temporary folder. It starts when it is first asked for.</summary>
public sealed class Postgres : IAsyncLifetime
{
    private readonly string _folder = Directory.CreateTempSubdirectory("shop-pg-").FullName;
    private readonly SemaphoreSlim _starting = new(1, 1);
    private bool _runs;
    private int _databases;

    /// <summary>The address of a fresh database.</summary>
    public async Task<string> NewDatabaseAsync()
    {
        await _starting.WaitAsync();
        try
        {
            if (!_runs) Start();
            _runs = true;
            string name = $"shop{++_databases}";
            Run(Program("createdb"), "-h", _folder, name);
            return $"Host={_folder};Database={name};Username={User}";
        }
        finally
        {
            _starting.Release();
        }
    }

    public ValueTask InitializeAsync() => ValueTask.CompletedTask;

    public ValueTask DisposeAsync()
    {
        if (_runs) Run(Program("pg_ctl"), "-D", $"{_folder}/data", "-m", "immediate", "stop");
        Directory.Delete(_folder, recursive: true);
        _starting.Dispose();
        return ValueTask.CompletedTask;
    }

    /// <summary>The server refuses to run as root; Debian's package makes a user for it.</summary>
    private static string User => Environment.UserName == "root" ? "postgres" : Environment.UserName;

    private static string Program(string name) => Directory.GetDirectories("/usr/lib/postgresql").Order(StringComparer.Ordinal).Select(d => $"{d}/bin/{name}").Last(File.Exists);

    private void Start()
    {
        if (User == "postgres") Run("/bin/chown", "-R", "postgres", _folder);
        Run(Program("initdb"), "-D", $"{_folder}/data", "--auth=trust", "--data-checksums", "--no-sync");
        Run(Program("pg_ctl"), "-D", $"{_folder}/data", "-w", "-l", $"{_folder}/log", "-o", $"-k {_folder} -c listen_addresses=''", "start");
    }

    private void Run(string program, params string[] arguments)
    {
        bool other = User == "postgres" && !program.EndsWith("chown", StringComparison.Ordinal);
        var start = new ProcessStartInfo(other ? "/usr/sbin/runuser" : program) { WorkingDirectory = _folder };
        foreach (string argument in other ? ["-u", "postgres", "--", program, .. arguments] : arguments) start.ArgumentList.Add(argument);
        using Process process = Process.Start(start)!;
        process.WaitForExit();
        Assert.Equal(0, process.ExitCode);
    }
}
