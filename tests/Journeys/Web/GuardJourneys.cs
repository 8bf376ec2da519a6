using System.Text.RegularExpressions;
using Xunit;

namespace Sparewright.Journeys.Web;

/// <summary>A shop with a job in it, somebody who was let in and somebody who was not.</summary>
public sealed class GuardedShop : IAsyncLifetime
{
    internal OpenShop Shop { get; private set; } = null!;

    internal Stranger Known { get; private set; } = null!;

    internal Stranger Unknown => new(Shop);

    /// <summary>One address of each kind: pages, the line's two halves, a file of ours, one of the framework's, an endpoint.</summary>
    internal IReadOnlyList<(string Method, string Path, string[] Lines)> Kinds { get; private set; } = [];

    public async ValueTask InitializeAsync()
    {
        Shop = await OpenShop.OpenAsync(Tool.Example("vent-knuckle"));
        Known = new Stranger(Shop);
        await Known.ComeInAsync();
        string page = (await Known.AskAsync("GET", "/")).Text;
        string File(string pattern) => "/" + Regex.Match(page, $"(?:href|src)=\"({pattern})\"").Groups[1].Value;
        Kinds =
        [
            ("GET", "/", []), ("GET", "/jobs/000000000000/readings", []), ("GET", "/nowhere", []),
            ("GET", File("card[^\"]*css"), []), ("GET", File("_framework/blazor[^\"]*js"), []), ("GET", "/lettering/0", []), ("GET", "/jobs/000000000000/mesh/x", []),
            ("POST", "/_blazor/negotiate?negotiateVersion=1", ["Content-Length: 0"]),
            ("GET", "/_blazor", ["Upgrade: websocket", "Sec-WebSocket-Version: 13", "Sec-WebSocket-Key: dGhlIHNhbXBsZSBub25jZQ=="]),
        ];
    }

    public async ValueTask DisposeAsync() => await Shop.DisposeAsync();
}

/// <summary>Who is let into the shop, and who is not: over bare sockets, with every header there is to forge.</summary>
public sealed class GuardJourneys(GuardedShop guarded) : IClassFixture<GuardedShop>
{
    private string Own => $"http://{guarded.Known.Host}";

    private string Port => guarded.Known.Host.Split(':')[1];

    /// <summary>What foreign pages, foreign names and browsers on foreign pages send. P stands for the shop's port, OWN for its origin.</summary>
    public static TheoryData<string> Foreign() =>
    [
        // Names that are not ours but may lead here (DNS rebinding).
        "Host: evil.example", "Host: evil.example:P", "Host: 127.0.0.1.evil.example:P", "Host: localhost.evil.example:P", "Host: localhost.:P", "Host: evil.localhost:P", "Host: 127.0.0.2:P",
        "Host: 127.1:P", "Host: 2130706433:P", "Host: 0x7f000001:P", "Host: 0.0.0.0:P", "Host: [::]:P", "Host: [::ffff:127.0.0.1]:P", "Host: 192.168.0.1:P", "Host: sparewright:P", "Host: 169.254.169.254",
        // The right name at the wrong door, or none.
        "Host: localhost", "Host: 127.0.0.1", "Host: localhost:1", "Host: localhost:80", "Host: [::1]", "Host: ", "Host: :P", "Host: none", "Host: localhost:P\r\nHost: evil.example",
        "Host: user@localhost:P", "Host: localhost:P/evil", "Host: localhost:P, evil.example",
        // Pages elsewhere.
        "Origin: http://evil.example", "Origin: https://evil.example", "Origin: http://evil.example:P", "Origin: null", "Origin: ", "Origin: http://localhost", "Origin: http://localhost:1", "Origin: http://localhost:80",
        "Origin: https://localhost:P", "Origin: http://127.0.0.1:P", "Origin: http://[::1]:P", "Origin: http://localhost:P.evil.example", "Origin: http://localhost:P@evil.example", "Origin: http://evil.example/?OWN",
        "Origin: OWN/", "Origin: OWN http://evil.example", "Origin: OWN\r\nOrigin: http://evil.example", "Origin: file://", "Origin: chrome-extension://abcdef", "Origin: ws://localhost:P", "Origin: localhost:P",
        // What a browser says of where a request comes from.
        "Origin: OWN\r\nSec-Fetch-Site: cross-site", "Origin: OWN\r\nSec-Fetch-Site: same-site", "Origin: OWN\r\nSec-Fetch-Site: none\r\nSec-Fetch-Site: cross-site", "Origin: OWN\r\nSec-Fetch-Site: ",
        "Origin: OWN\r\nSec-Fetch-Site: elsewhere", "Origin: OWN\r\nSec-Fetch-Site: cross-site\r\nSec-Fetch-Mode: cors\r\nSec-Fetch-Dest: empty", "Origin: OWN\r\nSec-Fetch-Site: cross-site\r\nSec-Fetch-Mode: no-cors\r\nSec-Fetch-Dest: script",
        "Origin: OWN\r\nSec-Fetch-Site: cross-site\r\nSec-Fetch-Mode: no-cors\r\nSec-Fetch-Dest: image", "Origin: OWN\r\nSec-Fetch-Site: cross-site\r\nSec-Fetch-Mode: navigate\r\nSec-Fetch-Dest: iframe",
        "Origin: OWN\r\nSec-Fetch-Site: same-site\r\nSec-Fetch-Mode: websocket\r\nSec-Fetch-Dest: websocket", "Origin: http://evil.example\r\nSec-Fetch-Site: cross-site\r\nSec-Fetch-Mode: navigate\r\nSec-Fetch-Dest: document",
        "Sec-Fetch-Site: cross-site", "Sec-Fetch-Site: same-site\r\nSec-Fetch-Mode: no-cors\r\nSec-Fetch-Dest: style",
    ];

    [Theory]
    [MemberData(nameof(Foreign))]
    public async Task Nothing_foreign_reaches_anything_even_with_the_cookie(string headers)
    {
        string[] lines = headers.Replace("OWN", Own, StringComparison.Ordinal).Replace(":P", $":{Port}", StringComparison.Ordinal).Split("\r\n");
        foreach (var (method, path, usual) in guarded.Kinds)
        {
            Answer answer = await guarded.Known.AskAsync(method, path, [.. usual, .. lines]);
            Assert.True(answer.Status is 400 or 403, $"{method} {path} with {headers}: {answer.Status}");
            Assert.DoesNotContain("connectionToken", answer.Text, StringComparison.Ordinal);
            Assert.DoesNotContain("blazor", answer.Text, StringComparison.Ordinal);
            Assert.Empty(answer.Header("Set-Cookie"));
        }
    }

    [Fact]
    public async Task The_shops_own_pages_reach_all_of_it()
    {
        foreach (var (method, path, usual) in guarded.Kinds)
        {
            Answer answer = await guarded.Known.AskAsync(method, path, [.. usual, $"Origin: {Own}", "Sec-Fetch-Site: same-origin"]);
            Assert.Equal(path.Contains("nowhere", StringComparison.Ordinal) || path.Contains("mesh", StringComparison.Ordinal) ? 404 : usual.Length == 3 ? 101 : 200, answer.Status);
        }
    }

    [Fact]
    public async Task A_link_elsewhere_leads_to_a_page_and_to_nothing_else()
    {
        string[] followed = ["Sec-Fetch-Site: cross-site", "Sec-Fetch-Mode: navigate", "Sec-Fetch-Dest: document"];
        Assert.Equal(200, (await guarded.Known.AskAsync("GET", "/", followed)).Status);
        Assert.Equal(403, (await guarded.Known.AskAsync("POST", "/", [.. followed, "Content-Length: 0"])).Status);
        Assert.Equal(403, (await guarded.Known.AskAsync("HEAD", "/", followed)).Status);
    }

    [Fact]
    public async Task What_could_change_something_must_say_where_it_comes_from()
    {
        Assert.Equal(403, (await guarded.Known.AskAsync("POST", "/_blazor/negotiate?negotiateVersion=1", "Content-Length: 0")).Status);
        Assert.Equal(403, (await guarded.Known.AskAsync("GET", "/_blazor", "Upgrade: websocket", "Sec-WebSocket-Version: 13", "Sec-WebSocket-Key: dGhlIHNhbXBsZSBub25jZQ==")).Status);
    }

    [Fact]
    public async Task Without_a_pass_nothing_is_served_and_the_page_says_what_to_do()
    {
        foreach (var (method, path, usual) in guarded.Kinds)
        {
            Answer answer = await guarded.Unknown.AskAsync(method, path, [.. usual, $"Origin: {Own}"]);
            Assert.Equal(403, answer.Status);
            Assert.Contains("the address that it printed when it was started", answer.Text, StringComparison.Ordinal);
        }
    }

    [Theory]
    [InlineData("")]
    [InlineData("x")]
    [InlineData("99999999999.AAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAA")]
    [InlineData("FORGED")]
    [InlineData("99999999999")]
    [InlineData("..")]
    public async Task A_forged_pass_is_none(string pass)
    {
        string name = guarded.Known.Cookie.Split('=')[0], right = guarded.Known.Cookie.Split('=')[1];
        // A real signature under a later date.
        if (pass == "FORGED") pass = $"99999999999.{right.Split('.')[1]}";
        Assert.Equal(403, (await guarded.Unknown.AskAsync("GET", "/", $"Cookie: {name}={pass}")).Status);
        Assert.Equal(200, (await guarded.Unknown.AskAsync("GET", "/", $"Cookie: {name}={right}")).Status);
    }

    [Theory]
    [InlineData("?start=")]
    [InlineData("?start=x")]
    [InlineData("?start=WORD&start=WORD")]
    [InlineData("?start=WORDx")]
    [InlineData("?Start2=WORD")]
    public async Task A_wrong_word_lets_nobody_in(string query)
    {
        string word = guarded.Shop.Address.Query.Split('=')[1];
        Answer answer = await guarded.Unknown.AskAsync("GET", "/" + query.Replace("WORD", word, StringComparison.Ordinal));
        Assert.Equal(403, answer.Status);
        Assert.Empty(answer.Header("Set-Cookie"));
    }

    [Fact]
    public async Task The_word_gives_a_cookie_that_scripts_and_other_sites_do_not_get()
    {
        Answer answer = await guarded.Unknown.ComeInAsync();
        Assert.Equal(200, answer.Status);
        string cookie = answer.Header("Set-Cookie");
        Assert.Contains("httponly", cookie, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("samesite=strict", cookie, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("no-store", answer.Header("Cache-Control"), StringComparison.Ordinal);
        // The page that sends on does not name the word.
        Assert.DoesNotContain(guarded.Shop.Address.Query.Split('=')[1], answer.Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Every_kind_of_answer_bears_the_headers()
    {
        var answers = new List<(string What, Answer Answer)>();
        foreach (var (method, path, usual) in guarded.Kinds)
        {
            answers.Add(($"let in: {method} {path}", await guarded.Known.AskAsync(method, path, [.. usual, $"Origin: {Own}"])));
            answers.Add(($"not let in: {method} {path}", await guarded.Unknown.AskAsync(method, path, [.. usual, $"Origin: {Own}"])));
            answers.Add(($"from elsewhere: {method} {path}", await guarded.Known.AskAsync(method, path, [.. usual, "Origin: http://evil.example"])));
        }

        answers.Add(("the word", await guarded.Unknown.ComeInAsync()));
        answers.Add(("a wrong method", await guarded.Known.AskAsync("DELETE", "/", $"Origin: {Own}")));
        answers.Add(("too large", await guarded.Known.AskAsync("POST", "/", $"Origin: {Own}", "Content-Length: 2000000")));
        answers.Add(("unchanged", await guarded.Known.AskAsync("GET", "/lettering/0", $"If-None-Match: {(await guarded.Known.AskAsync("GET", "/lettering/0")).Header("ETag")}")));
        Assert.Equal(304, answers[^1].Answer.Status);
        Assert.Equal(405, answers[^3].Answer.Status);
        foreach (var (what, answer) in answers)
        {
            string policy = answer.Header("Content-Security-Policy");
            string[] rules = [.. policy.Split("; ")];
            Assert.True(policy.Split('\n').Length == 1 && rules.Length > 1, $"{what}: {answer.Status} {policy}");
            foreach (string rule in (string[])["default-src 'self'", "style-src 'self'", "object-src 'none'", "frame-ancestors 'none'", "form-action 'self'", "base-uri 'self'"]) Assert.Contains(rule, rules);
            Assert.DoesNotContain("unsafe", policy, StringComparison.Ordinal);
            Assert.Matches("script-src 'self' 'nonce-[A-Za-z0-9+/]{22}=='", policy);
            Assert.Equal("nosniff", answer.Header("X-Content-Type-Options"));
            Assert.Equal("no-referrer", answer.Header("Referrer-Policy"));
            Assert.Equal("same-origin", answer.Header("Cross-Origin-Opener-Policy"));
            Assert.Equal("same-origin", answer.Header("Cross-Origin-Resource-Policy"));
            Assert.Equal("DENY", answer.Header("X-Frame-Options"));
            Assert.NotEmpty(answer.Header("Permissions-Policy"));
            Assert.NotEmpty(answer.Header("Cache-Control"));
            Assert.Empty(answer.Header("Server"));
            Assert.Empty(answer.Header("Access-Control-Allow-Origin"));
        }
    }

    [Fact]
    public async Task Each_page_has_a_word_of_its_own_for_its_one_inline_script()
    {
        Answer one = await guarded.Known.AskAsync("GET", "/"), other = await guarded.Known.AskAsync("GET", "/");
        static string Nonce(Answer a) => Regex.Match(a.Header("Content-Security-Policy"), "'nonce-([^']+)'").Groups[1].Value;
        Assert.NotEqual(Nonce(one), Nonce(other));
        Assert.Contains($"nonce=\"{Nonce(one)}\"", System.Net.WebUtility.HtmlDecode(one.Text), StringComparison.Ordinal);
        Assert.Single(Regex.Matches(one.Text, "<script(?![^>]*src=)"));
    }

    [Theory]
    [InlineData("POST", "/_blazor/negotiate?negotiateVersion=1", "Content-Length: 1000001")]
    [InlineData("POST", "/", "Content-Length: 999999999999")]
    [InlineData("GET", "/", "Content-Length: 2000000")]
    public async Task A_body_that_is_too_large_is_refused_before_it_is_sent(string method, string path, string length) =>
        Assert.Equal(413, (await guarded.Known.AskAsync(method, path, $"Origin: {Own}", length)).Status);

    [Fact]
    public async Task Headers_that_are_too_large_are_refused() =>
        Assert.Equal(431, (await guarded.Known.AskAsync("GET", "/", $"X-Long: {new string('x', 20_000)}")).Status);

    [Fact]
    public async Task What_is_no_request_is_refused()
    {
        foreach (string request in (string[])["GET / HTTP/1.0\r\n\r\n", "GET /\r\n\r\n", "GET / HTTP/1.1\r\n\r\n", "GET / HTTP/1.1\r\nHost: a\r\n b\r\n\r\n", $"GET http://evil.example/ HTTP/1.1\r\nHost: {guarded.Known.Host}\r\nConnection: close\r\n\r\n"])
            Assert.InRange((await guarded.Known.SendAsync(request)).Status, 400, 499);
    }

    [Fact]
    public async Task No_address_that_is_only_read_changes_a_job()
    {
        byte[] Before() => [.. Directory.EnumerateFiles(guarded.Shop.Data, "*.db*").Order(StringComparer.Ordinal).SelectMany(File.ReadAllBytes)];
        byte[] before = Before();
        foreach (var (_, path, usual) in guarded.Kinds.Where(k => k.Method == "GET")) await guarded.Known.AskAsync("GET", path, [.. usual, $"Origin: {Own}"]);
        Assert.Equal(before, Before());
    }
}
