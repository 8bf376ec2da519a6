using System.Buffers.Text;
using System.Globalization;
using System.Security.Cryptography;
using System.Text;

namespace Sparewright.Web.Guarding;

/// <summary>
/// Keeps other users of this machine out. The address that is printed at the start bears a random word, good until the shop closes; a browser that brings it gets a pass, a cookie that
/// lasts a month, and is sent on without the word. Without a pass nothing is served. Passes are signed with a key that is kept with the shop's data, so that open windows outlive a restart.
/// </summary>
internal sealed class DoorKey(byte[] key, TimeProvider clock)
{
    private const string KeyFile = "door-key", Parameter = "start";
    private const int KeyBytes = 32;

    private static readonly TimeSpan PassLasts = TimeSpan.FromDays(30);

    private readonly string _startWord = Base64Url.EncodeToString(RandomNumberGenerator.GetBytes(KeyBytes));

    /// <summary>The key of a shop whose data lie in a folder; made when there is none yet, readable for its owner alone.</summary>
    /// <exception cref="IOException">The folder cannot be written to.</exception>
    /// <exception cref="UnauthorizedAccessException">The folder cannot be written to.</exception>
    public static DoorKey Of(string dataFolder, TimeProvider clock)
    {
        string path = Path.Combine(dataFolder, KeyFile);
        if (File.Exists(path) && File.ReadAllBytes(path) is { Length: KeyBytes } kept) return new(kept, clock);
        byte[] key = RandomNumberGenerator.GetBytes(KeyBytes);
        OwnFile.Write(path, key);
        return new(key, clock);
    }

    /// <summary>An address that lets a browser in.</summary>
    public string Address(string url) => $"{url.TrimEnd('/')}/?{Parameter}={_startWord}";

    public Task BeforeAsync(HttpContext context, RequestDelegate next)
    {
        HttpRequest request = context.Request;
        if (HttpMethods.IsGet(request.Method) && request.Query[Parameter] is [{ } brought])
        {
            if (!IsSame(brought, _startWord)) return Refusing.WithAsync(context, StatusCodes.Status403Forbidden, "That is not the address.", "Open the shop under the address that it printed when it was started last, to the last letter.");
            context.Response.Cookies.Append(CookieOf(context), NewPass(), new CookieOptions { HttpOnly = true, SameSite = SameSiteMode.Strict, Path = "/", IsEssential = true, MaxAge = PassLasts });
            // A page of our own sends on: after a redirect from a link elsewhere the browser would hold the strict cookie back.
            return PlainPage.WriteAsync(context, StatusCodes.Status200OK, "The shop is open.", "", new("To the shop", PathOf(request), AtOnce: true));
        }

        if (request.Cookies[CookieOf(context)] is { } held && IsPass(held)) return next(context);
        // A link from elsewhere comes without the strict cookie; our own page's link has it.
        bool isLinkFromElsewhere = request.Headers["Sec-Fetch-Site"].ToString() is "cross-site" or "same-site";
        return PlainPage.WriteAsync(context, StatusCodes.Status403Forbidden, "The shop does not know this browser.",
            "Open it under the address that it printed when it was started; that holds a word which only you can read. When it is gone, close the shop and start it again.",
            isLinkFromElsewhere ? new("If the shop is open in this browser already, go on to the page", PathOf(request), AtOnce: false) : null);
    }

    private static string PathOf(HttpRequest request) => $"http://{request.Host.Value}{request.Path.ToUriComponent()}";

    // Two shops on one machine are two ports of one host, and cookies do not tell ports apart.
    private static string CookieOf(HttpContext context) => string.Create(CultureInfo.InvariantCulture, $"sparewright-{context.Connection.LocalPort}");

    private string NewPass()
    {
        string until = clock.GetUtcNow().Add(PassLasts).ToUnixTimeSeconds().ToString(CultureInfo.InvariantCulture);
        return $"{until}.{Signed(until)}";
    }

    private bool IsPass(string held) =>
        held.Split('.') is [var until, var signed] && IsSame(signed, Signed(until))
        && long.TryParse(until, NumberStyles.None, CultureInfo.InvariantCulture, out long seconds) && clock.GetUtcNow().ToUnixTimeSeconds() < seconds;

    private string Signed(string until) => Base64Url.EncodeToString(HMACSHA256.HashData(key, Encoding.UTF8.GetBytes(until)));

    private static bool IsSame(string brought, string right) => CryptographicOperations.FixedTimeEquals(Encoding.UTF8.GetBytes(brought), Encoding.UTF8.GetBytes(right));
}
