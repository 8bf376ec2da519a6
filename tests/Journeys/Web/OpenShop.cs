using System.Diagnostics;
using System.Globalization;
using System.Text;
using Xunit;

namespace Sparewright.Journeys.Web;

/// <summary>The web door as its users open it: a process of its own on a free port, with its own data folder, which can be killed and opened again on the same port and data.</summary>
internal sealed class OpenShop : IAsyncDisposable
{
    private static readonly TimeSpan OpensWithin = TimeSpan.FromSeconds(60);

    private readonly DirectoryInfo _folder;
    private readonly StringBuilder _said = new();
    private Process _process;

    private OpenShop(DirectoryInfo folder, Process process) => (_folder, _process) = (folder, process);

    public static string Executable { get; } = Tool.Build("web", "Sparewright.Web");

    /// <summary>The address with the word that lets one in.</summary>
    public Uri Address { get; private set; } = null!;

    /// <summary>The shop's own origin, such as http://localhost:40123.</summary>
    public string Origin => Address.GetLeftPart(UriPartial.Authority);

    public string Data => Path.Combine(_folder.FullName, "data");

    public int ProcessId => _process.Id;

    /// <summary>What the shop said on its standard error so far.</summary>
    public string Said
    {
        get
        {
            lock (_said) return _said.ToString();
        }
    }

    /// <summary>Opens a shop with the jobs of some folders in it.</summary>
    public static Task<OpenShop> OpenAsync(params string[] jobs) => OpenAsync([], jobs);

    /// <param name="variables">Environment variables beside the usual ones.</param>
    public static async Task<OpenShop> OpenAsync((string Name, string Value)[] variables, params string[] jobs)
    {
        DirectoryInfo folder = Directory.CreateTempSubdirectory("sparewright-shop-");
        var shop = new OpenShop(folder, Start(variables, ["--port", "0", "--data", Path.Combine(folder.FullName, "data"), .. jobs]));
        await shop.ListenAsync();
        return shop;
    }

    /// <summary>The whole address of a page of the shop.</summary>
    public string Page(string path) => $"{Origin}/{path.TrimStart('/')}";

    /// <summary>Ends the shop at once, as a power cut would: SIGKILL.</summary>
    public async Task KillAsync()
    {
        _process.Kill();
        await _process.WaitForExitAsync();
    }

    /// <summary>Asks the shop to close, as Ctrl-C does; the exit code, and how long it took.</summary>
    public async Task<(int Code, TimeSpan Time)> CloseAsync()
    {
        var clock = Stopwatch.StartNew();
        await Tool.SignalAsync(_process, "INT");
        await _process.WaitForExitAsync();
        return (_process.ExitCode, clock.Elapsed);
    }

    /// <summary>Opens the shop again on the same port and data.</summary>
    public async Task OpenAgainAsync()
    {
        _process.Dispose();
        _process = Start([], ["--port", Address.Port.ToString(CultureInfo.InvariantCulture), "--data", Data]);
        await ListenAsync();
    }

    public async ValueTask DisposeAsync()
    {
        if (!_process.HasExited) await KillAsync();
        _process.Dispose();
        _folder.Delete(recursive: true);
    }

    private static Process Start((string Name, string Value)[] variables, string[] args)
    {
        var start = new ProcessStartInfo(Executable, args) { RedirectStandardInput = true, RedirectStandardOutput = true, RedirectStandardError = true, UseShellExecute = false };
        foreach (var (name, value) in variables) start.Environment[name] = value;
        return Process.Start(start)!;
    }

    private async Task ListenAsync()
    {
        Process process = _process;
        process.ErrorDataReceived += (_, line) =>
        {
            lock (_said) _said.AppendLine(line.Data);
        };
        process.BeginErrorReadLine();
        using var limit = new CancellationTokenSource(OpensWithin);
        string? line;
        do line = await process.StandardOutput.ReadLineAsync(limit.Token);
        while (line is not null && !line.StartsWith("http://", StringComparison.Ordinal));
        Address = new Uri(line ?? throw new InvalidOperationException($"the shop did not open: {Said}"));
        // Nobody reads what it says from here on, and a full pipe would stop it.
        _ = process.StandardOutput.ReadToEndAsync();
    }
}

/// <summary>A shop with the example in it, for all who only look.</summary>
public sealed class ExampleShop : IAsyncLifetime
{
    internal OpenShop Shop { get; private set; } = null!;

    public async ValueTask InitializeAsync() => Shop = await OpenShop.OpenAsync(Tool.Example("vent-knuckle"));

    public async ValueTask DisposeAsync() => await Shop.DisposeAsync();
}
