using System.Diagnostics;
using System.Globalization;

namespace Sparewright.StoreSoak;

/// <summary>A PostgreSQL server of our own, from Debian's packages, on a socket in a temporary folder.</summary>
public sealed class PostgresServer : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("shop-pg-").FullName;
    private readonly Lock _lock = new();
    private readonly string[] _settings;
    private Process? _begun;
    private int _databases;

    /// <param name="settings">As in "fsync=off".</param>
    public PostgresServer(params string[] settings)
    {
        _settings = settings;
        if (User == "postgres") Run("/bin/chown", "-R", "postgres", _folder);
        Run(Program("initdb"), "-D", Data, "--auth=trust", "--data-checksums", "--no-sync");
        Start();
    }

    private string Data => $"{_folder}/data";

    /// <summary>The server refuses to run as root; Debian's package makes a user for it.</summary>
    private static string User => Environment.UserName == "root" ? "postgres" : Environment.UserName;

    /// <summary>The address of a fresh database.</summary>
    public string NewDatabase()
    {
        // Two at once would disturb each other's copying of the template.
        lock (_lock)
        {
            string name = string.Create(CultureInfo.InvariantCulture, $"shop{++_databases}");
            Run(Program("createdb"), "-h", _folder, name);
            return $"Host={_folder};Database={name};Username={User}";
        }
    }

    /// <summary>Runs SQL as its owner.</summary>
    public void Sql(string database, string sql) => Run(Program("psql"), "-q", "-h", _folder, "-d", database, "-c", sql);

    /// <summary>Ends the server and all its processes as a power cut would, but for what the kernel still holds.</summary>
    public void Kill()
    {
        int postmaster = int.Parse(File.ReadLines($"{Data}/postmaster.pid").First(), CultureInfo.InvariantCulture);
        int[] all = [postmaster, .. ChildrenOf(postmaster)];
        foreach (int id in all)
        {
            try
            {
                using Process process = Process.GetProcessById(id);
                process.Kill();
            }
            catch (Exception e) when (e is ArgumentException or InvalidOperationException)
            {
                // It had ended by itself.
            }
        }

        // Whoever began it, we or runuser, takes note of its end; otherwise its successor would take it for running.
        _begun!.WaitForExit();
        while (all.Any(IsThere)) Thread.Sleep(5);
    }

    public void Start()
    {
        _begun?.Dispose();
        _begun = Begin("log", Program("postgres"), ["-D", Data, "-k", _folder, "-c", "listen_addresses=", .. _settings.SelectMany(s => (string[])["-c", s])]);
        for (int tries = 0; tries < 1200; tries++)
        {
            using Process ready = Begin("ready", Program("pg_isready"), ["-h", _folder]);
            ready.WaitForExit();
            if (ready.ExitCode == 0) return;
            if (_begun.HasExited) break;
            Thread.Sleep(50);
        }

        throw new InvalidOperationException($"the server does not start: {File.ReadAllText(Path.Combine(_folder, "log"))}");
    }

    public void Dispose()
    {
        if (_begun is { HasExited: false })
        {
            Run(Program("pg_ctl"), "-D", Data, "-m", "immediate", "stop");
            _begun.WaitForExit();
        }

        _begun?.Dispose();
        Directory.Delete(_folder, recursive: true);
    }

    private static bool IsThere(int id)
    {
        try
        {
            // A zombie has ended too: only its parent has not noticed.
            return !File.ReadAllText($"/proc/{id}/stat").Contains(") Z ", StringComparison.Ordinal);
        }
        catch (IOException)
        {
            return false;
        }
    }

    private static IEnumerable<int> ChildrenOf(int parent) =>
        from folder in Directory.GetDirectories("/proc")
        where int.TryParse(Path.GetFileName(folder), NumberStyles.None, CultureInfo.InvariantCulture, out _)
        let id = int.Parse(Path.GetFileName(folder), CultureInfo.InvariantCulture)
        where ParentOf(id) == parent
        select id;

    private static int ParentOf(int id)
    {
        try
        {
            string stat = File.ReadAllText($"/proc/{id}/stat");
            return int.Parse(stat[(stat.LastIndexOf(')') + 2)..].Split(' ')[1], CultureInfo.InvariantCulture);
        }
        catch (IOException)
        {
            return -1;
        }
    }

    private static string Program(string name) =>
        Directory.Exists("/usr/lib/postgresql") && Directory.GetDirectories("/usr/lib/postgresql").Order(StringComparer.Ordinal).Select(d => $"{d}/bin/{name}").LastOrDefault(File.Exists) is { } path
            ? path
            : throw new InvalidOperationException($"{name} is not here: scripts/setup --tests installs postgresql");

    private void Run(string program, params string[] arguments)
    {
        using Process process = Begin("said", program, arguments);
        process.WaitForExit();
        if (process.ExitCode != 0) throw new InvalidOperationException($"{program} ended with {process.ExitCode}: {File.ReadAllText(Path.Combine(_folder, "said"))}");
    }

    /// <summary>Starts a program as the server's user, what it says going into a file: a server that inherits a pipe keeps whoever reads it waiting.</summary>
    private Process Begin(string said, string program, string[] arguments)
    {
        bool asOther = User == "postgres" && program != "/bin/chown";
        var start = new ProcessStartInfo("/bin/sh") { WorkingDirectory = _folder };
        foreach (string argument in (string[])["-c", $"exec \"$0\" \"$@\" >>'{Path.Combine(_folder, said)}' 2>&1", .. asOther ? ["/usr/sbin/runuser", "-u", "postgres", "--", program, .. arguments] : (string[])[program, .. arguments]])
            start.ArgumentList.Add(argument);
        return Process.Start(start)!;
    }
}
