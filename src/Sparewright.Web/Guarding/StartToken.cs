using System.Security.Cryptography;
using System.Text;

namespace Sparewright.Web.Guarding;

/// <summary>
/// Keeps other users of this machine out. The address that is printed at the start bears a random word; whoever brings it gets a cookie and is sent on without it. Without word or cookie nothing is served.
/// The word is kept with the shop's data, so that open windows outlive a restart.
/// </summary>
internal sealed class StartToken
{
    private const string Cookie = "sparewright", Parameter = "start";

    private readonly byte[] _word;

    private StartToken(string word) => _word = Encoding.ASCII.GetBytes(word);

    /// <summary>The word of a shop whose data lie in a folder; made when there is none yet, readable for its owner alone.</summary>
    /// <exception cref="IOException">The folder cannot be written to.</exception>
    /// <exception cref="UnauthorizedAccessException">The folder cannot be written to.</exception>
    public static StartToken Of(string dataFolder)
    {
        string path = Path.Combine(dataFolder, "start-word");
        if (File.Exists(path) && File.ReadAllText(path) is { Length: 64 } kept) return new(kept);
        string word = Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(32));
        File.Delete(path);
        var options = new FileStreamOptions { Mode = FileMode.CreateNew, Access = FileAccess.Write };
        if (!OperatingSystem.IsWindows()) options.UnixCreateMode = UnixFileMode.UserRead | UnixFileMode.UserWrite;
        using (var file = new StreamWriter(path, Encoding.ASCII, options)) file.Write(word);
        return new(word);
    }

    /// <summary>An address that opens the shop.</summary>
    public string Address(string url) => $"{url.TrimEnd('/')}/?{Parameter}={Encoding.ASCII.GetString(_word)}";

    public Task BeforeAsync(HttpContext context, RequestDelegate next)
    {
        if (context.Request.Query[Parameter] is [{ } brought] && HttpMethods.IsGet(context.Request.Method))
        {
            if (!IsWord(brought)) return Refusing.WithAsync(context, StatusCodes.Status403Forbidden, "That is not the address.", "Open the shop under the address that it printed when it started, to the last letter.");
            context.Response.Cookies.Append(Cookie, brought, new CookieOptions { HttpOnly = true, SameSite = SameSiteMode.Strict, Path = "/", IsEssential = true });
            context.Response.Headers.CacheControl = "no-store";
            // A page of our own sends on: after a redirect from a link elsewhere the browser would hold the strict cookie back.
            context.Response.ContentType = "text/html; charset=utf-8";
            return context.Response.WriteAsync("<!DOCTYPE html><html lang=\"en\"><head><meta charset=\"utf-8\"><link rel=\"icon\" href=\"data:,\"><meta http-equiv=\"refresh\" content=\"0; url=/\"><title>Sparewright</title></head><body><p><a href=\"/\">To the shop</a></p></body></html>", context.RequestAborted);
        }

        return context.Request.Cookies[Cookie] is { } held && IsWord(held)
            ? next(context)
            : Refusing.WithAsync(context, StatusCodes.Status403Forbidden, "The shop does not know this browser.", "Open it under the address that it printed when it started; it holds a word that only you can read.");
    }

    private bool IsWord(string brought) => CryptographicOperations.FixedTimeEquals(_word, Encoding.UTF8.GetBytes(brought));
}
