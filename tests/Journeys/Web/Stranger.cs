using System.Globalization;
using System.Net;
using System.Net.Sockets;
using System.Text;

namespace Sparewright.Journeys.Web;

/// <summary>What a request came to, over a bare socket, so that every header can be set and every byte seen.</summary>
internal sealed record Answer(int Status, IReadOnlyDictionary<string, string> Headers, string Text)
{
    public string Header(string name) => Headers.GetValueOrDefault(name.ToLowerInvariant(), "");
}

/// <summary>Somebody who speaks HTTP with the shop and writes into it what they like.</summary>
internal sealed class Stranger(OpenShop shop)
{
    private static readonly TimeSpan AnswersWithin = TimeSpan.FromSeconds(20);

    /// <summary>The Host that is right.</summary>
    public string Host => shop.Address.Authority;

    /// <summary>The cookie of a browser that was let in; empty for a stranger.</summary>
    public string Cookie { get; private set; } = "";

    /// <summary>Comes in by the address that the shop printed.</summary>
    public async Task<Answer> ComeInAsync()
    {
        Answer answer = await AskAsync("GET", shop.Address.PathAndQuery);
        Cookie = answer.Header("Set-Cookie").Split(';')[0];
        return answer;
    }

    /// <summary>Asks with the right Host and this one's cookie, unless the lines say otherwise.</summary>
    /// <param name="lines">Headers; a line that starts with Host or Cookie stands in place of the usual one, and with nothing behind the colon takes it away only if it says "none".</param>
    public Task<Answer> AskAsync(string method, string path, params string[] lines)
    {
        var headers = new List<string>(lines.Where(l => !l.EndsWith(": none", StringComparison.Ordinal)));
        if (!lines.Any(l => l.StartsWith("Host:", StringComparison.Ordinal))) headers.Insert(0, $"Host: {Host}");
        if (Cookie.Length > 0 && !lines.Any(l => l.StartsWith("Cookie:", StringComparison.Ordinal))) headers.Add($"Cookie: {Cookie}");
        return SendAsync($"{method} {path} HTTP/1.1\r\n{string.Join("\r\n", headers)}\r\nConnection: {(lines.Any(l => l.StartsWith("Upgrade:", StringComparison.Ordinal)) ? "Upgrade" : "close")}\r\n\r\n");
    }

    /// <summary>Sends these very bytes and reads the first answer.</summary>
    public async Task<Answer> SendAsync(string request)
    {
        using var limit = new CancellationTokenSource(AnswersWithin);
        using var line = new TcpClient();
        await line.ConnectAsync(IPAddress.Loopback, shop.Address.Port, limit.Token);
        NetworkStream stream = line.GetStream();
        await stream.WriteAsync(Encoding.Latin1.GetBytes(request), limit.Token);
        var got = new MemoryStream();
        byte[] piece = new byte[16384];
        int count;
        try
        {
            while (!IsWhole(got) && (count = await stream.ReadAsync(piece, limit.Token)) > 0) got.Write(piece, 0, count);
        }
        catch (IOException)
        {
            // The shop hung up while we still wrote; what it said before counts.
        }

        return Read(Encoding.UTF8.GetString(got.ToArray()));
    }

    // The line may stay open behind an answer: its length, its last piece or the upgrade say where it ends.
    private static bool IsWhole(MemoryStream got)
    {
        string text = Encoding.Latin1.GetString(got.GetBuffer(), 0, (int)got.Length);
        int end = text.IndexOf("\r\n\r\n", StringComparison.Ordinal);
        if (end < 0) return false;
        Answer head = Read(text);
        if (head.Status is 101 or 304) return true;
        return head.Header("Content-Length") is { Length: > 0 } length ? got.Length >= end + 4 + long.Parse(length, CultureInfo.InvariantCulture)
            : head.Header("Transfer-Encoding") == "chunked" && text.EndsWith("\r\n0\r\n\r\n", StringComparison.Ordinal);
    }

    private static Answer Read(string text)
    {
        int end = text.IndexOf("\r\n\r\n", StringComparison.Ordinal);
        if (end < 0) return new(0, new Dictionary<string, string>(), text);
        string[] head = text[..end].Split("\r\n");
        var headers = head.Skip(1).Select(l => l.Split(": ", 2)).GroupBy(p => p[0].ToLowerInvariant()).ToDictionary(g => g.Key, g => string.Join('\n', g.Select(p => p[^1])));
        return new(int.Parse(head[0].Split(' ')[1], CultureInfo.InvariantCulture), headers, text[(end + 4)..]);
    }
}
