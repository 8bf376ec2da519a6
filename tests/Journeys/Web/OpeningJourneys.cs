using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Net.Sockets;
using System.Runtime.Versioning;
using Xunit;

namespace Sparewright.Journeys.Web;

/// <summary>The shop opens, closes and says why it does not.</summary>
[SupportedOSPlatform("linux")]
public sealed class OpeningJourneys : IDisposable
{
    private readonly Scratch _scratch = new();

    public void Dispose() => _scratch.Dispose();

    private static async Task<Ran> RunAsync(string[] args, params (string Name, string Value)[] variables)
    {
        var start = new ProcessStartInfo(OpenShop.Executable, args) { RedirectStandardOutput = true, RedirectStandardError = true };
        foreach (var (name, value) in variables) start.Environment[name] = value;
        using Process process = Process.Start(start)!;
        var clock = Stopwatch.StartNew();
        Task<string> output = process.StandardOutput.ReadToEndAsync(), error = process.StandardError.ReadToEndAsync();
        using var limit = new CancellationTokenSource(TimeSpan.FromSeconds(60));
        await process.WaitForExitAsync(limit.Token);
        return new Ran(process.ExitCode, await output, await error, clock.Elapsed);
    }

    [Fact]
    public async Task Ctrl_C_closes_it_even_with_open_lines_and_says_nothing_of_it()
    {
        await using OpenShop shop = await OpenShop.OpenAsync(Tool.Example("vent-knuckle"));
        using var idle = new TcpClient();
        await idle.ConnectAsync(IPAddress.Loopback, shop.Address.Port, TestContext.Current.CancellationToken);
        var (code, time) = await shop.CloseAsync();
        Assert.Equal(130, code);
        // The promise is one second on a machine that has nothing else to do; test machines have.
        Assert.InRange(time.TotalSeconds, 0, 10);
        TestContext.Current.SendDiagnosticMessage($"the shop closed after {time.TotalSeconds:F2} s");
        Assert.Empty(shop.Said.Trim());
    }

    [Fact]
    public async Task A_port_that_is_taken_is_said_with_a_way_out()
    {
        using var other = new TcpListener(IPAddress.Loopback, 0);
        other.Start();
        string port = ((IPEndPoint)other.LocalEndpoint).Port.ToString(CultureInfo.InvariantCulture);
        Ran ran = await RunAsync(["--port", port, "--data", _scratch["data"]]);
        Assert.Equal(3, ran.Code);
        Assert.Contains($"port {port} is taken", ran.Error, StringComparison.Ordinal);
        Assert.Contains("--port", ran.Error, StringComparison.Ordinal);
        Assert.Empty(ran.Out);
    }

    [Fact]
    public async Task A_folder_that_cannot_be_made_is_said_with_a_way_out()
    {
        File.WriteAllText(_scratch["file"], "in the way");
        Ran ran = await RunAsync(["--port", "0", "--data", Path.Combine(_scratch["file"], "data")]);
        Assert.Equal(3, ran.Code);
        Assert.Contains("--data", ran.Error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_kernel_worker_that_is_not_there_is_said_with_a_way_out()
    {
        Ran ran = await RunAsync(["--port", "0", "--data", _scratch["data"]], ("SPAREWRIGHT_KERNEL", _scratch["nowhere"]));
        Assert.Equal(3, ran.Code);
        Assert.Contains("SPAREWRIGHT_KERNEL", ran.Error, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("unknown option --listen", "--listen", "0.0.0.0")]
    [InlineData("--port", "--port", "many")]
    [InlineData("between 0 and 65535", "--port", "70000")]
    [InlineData("between 0 and 65535", "--port", "-1")]
    public async Task A_command_that_is_wrong_is_refused(string says, params string[] args)
    {
        Ran ran = await RunAsync([.. args, "--data", _scratch["data"]]);
        Assert.Equal(2, ran.Code);
        Assert.Contains(says, ran.Error, StringComparison.Ordinal);
        Assert.False(Directory.Exists(_scratch["data"]));
    }

    [Fact]
    public async Task The_command_line_hands_shop_on_to_the_web_door()
    {
        using Process process = Process.Start(new ProcessStartInfo(Path.Combine(Tool.Repository, "sparewright"), ["shop", "--help"]) { RedirectStandardOutput = true })!;
        string help = await process.StandardOutput.ReadToEndAsync(TestContext.Current.CancellationToken);
        await process.WaitForExitAsync(TestContext.Current.CancellationToken);
        Assert.Contains("--no-browser", help, StringComparison.Ordinal);
        Assert.Contains("shop", (await Tool.RunAsync("--help")).Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task No_setting_of_the_framework_opens_it_to_others()
    {
        int foreign = FreePort();
        await using OpenShop shop = await OpenShop.OpenAsync([("Kestrel__Endpoints__Other__Url", $"http://0.0.0.0:{foreign}"), ("ASPNETCORE_URLS", $"http://0.0.0.0:{foreign}"), ("DOTNET_ENVIRONMENT", "Development"), ("ASPNETCORE_ENVIRONMENT", "Development")]);
        using var line = new TcpClient();
        await Assert.ThrowsAnyAsync<SocketException>(() => line.ConnectAsync(IPAddress.Loopback, foreign, TestContext.Current.CancellationToken).AsTask());
        // What listens, by proc(5): addresses in hexadecimal, state 0A, the socket's number; ours are those that the process holds open.
        var sockets = Directory.EnumerateFiles($"/proc/{shop.ProcessId}/fd").Select(f => new FileInfo(f).LinkTarget ?? "").Where(t => t.StartsWith("socket:[", StringComparison.Ordinal)).Select(t => t[8..^1]).ToHashSet();
        string[] listening = [.. new[] { "tcp", "tcp6" }.SelectMany(t => File.ReadLines($"/proc/net/{t}").Skip(1)).Select(l => l.Split(' ', StringSplitOptions.RemoveEmptyEntries)).Where(w => w[3] == "0A" && sockets.Contains(w[9])).Select(w => w[1].Split(':')[0])];
        Assert.NotEmpty(listening);
        Assert.All(listening, address => Assert.Contains(address, (string[])["0100007F", "00000000000000000000000001000000"]));
    }

    [Fact]
    public async Task What_lets_people_in_is_readable_for_its_owner_alone()
    {
        await using OpenShop shop = await OpenShop.OpenAsync();
        const UnixFileMode Others = UnixFileMode.GroupRead | UnixFileMode.GroupWrite | UnixFileMode.OtherRead | UnixFileMode.OtherWrite;
        Assert.Equal(UnixFileMode.None, File.GetUnixFileMode(Path.Combine(shop.Data, "door-key")) & Others);
        Assert.Equal(UnixFileMode.None, File.GetUnixFileMode(Path.Combine(shop.Data, "keys")) & Others);
    }

    [Fact]
    public async Task A_pass_outlives_a_restart_and_the_word_does_not()
    {
        await using OpenShop shop = await OpenShop.OpenAsync();
        var known = new Stranger(shop);
        await known.ComeInAsync();
        Uri old = shop.Address;
        await shop.KillAsync();
        await shop.OpenAgainAsync();
        Assert.Equal(200, (await known.AskAsync("GET", "/")).Status);
        Assert.NotEqual(old, shop.Address);
        Assert.Equal(403, (await new Stranger(shop).AskAsync("GET", old.PathAndQuery)).Status);
    }

    private static int FreePort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }
}
