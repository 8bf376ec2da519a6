using System.Diagnostics;

namespace Sparewright.Bench;

/// <summary>The web door with the example in it, in a process and a data folder of its own.</summary>
internal sealed class ShopProcess : IAsyncDisposable
{
    private readonly string _folder;
    private readonly Process _process;

    private ShopProcess(string folder, Process process, string address) => (_folder, _process, Address) = (folder, process, address);

    /// <summary>The address with the word that lets one in.</summary>
    public string Address { get; }

    public static async Task<ShopProcess> OpenAsync()
    {
        string folder = Directory.CreateTempSubdirectory("sparewright-bench-shop").FullName;
        var start = new ProcessStartInfo(Repository.Shop) { RedirectStandardOutput = true, UseShellExecute = false };
        foreach (string argument in new[] { "--port", "0", "--data", folder, Repository.VentKnuckle }) start.ArgumentList.Add(argument);
        Process process = Process.Start(start) ?? throw new InvalidOperationException($"{Repository.Shop} does not start");
        while (await process.StandardOutput.ReadLineAsync() is { } line)
            if (line.StartsWith("http", StringComparison.Ordinal)) return new(folder, process, line);
        throw new InvalidOperationException("the shop did not open");
    }

    public async ValueTask DisposeAsync()
    {
        _process.Kill();
        await _process.WaitForExitAsync();
        _process.Dispose();
        Directory.Delete(_folder, recursive: true);
    }
}
