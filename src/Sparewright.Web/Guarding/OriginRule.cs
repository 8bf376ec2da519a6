using System.Net;

namespace Sparewright.Web.Guarding;

/// <summary>
/// Who may ask. The Host must be this machine's own name and port, so that no foreign name that points here is served (DNS rebinding). A request that a page made must come from
/// a page of ours: its Origin is the Host, and must be told for whatever could change something; and the browser does not say that it crosses sites, unless somebody follows a link here (OWASP ASVS 5.0, 3.5 and 4.4.2).
/// </summary>
internal static class OriginRule
{
    private const string Elsewhere = "Another page asked for this. Open the shop in a window of its own.";

    private static readonly string[] Names = ["localhost", "127.0.0.1", "[::1]"];

    public static Task Before(HttpContext context, RequestDelegate next) =>
        WhyNot(context.Request, context.Connection) is { } why
            ? Refusing.WithAsync(context, StatusCodes.Status403Forbidden, "Not from there.", why)
            : next(context);

    /// <summary>Why a request is refused, or null when it may pass.</summary>
    internal static string? WhyNot(HttpRequest request, ConnectionInfo connection)
    {
        if (connection.RemoteIpAddress is { } from && !IPAddress.IsLoopback(from)) return "The shop serves only the machine on which it runs.";
        if (request.Headers.Host.Count != 1 || !request.Host.HasValue || !Names.Contains(request.Host.Host, StringComparer.OrdinalIgnoreCase) || request.Host.Port != connection.LocalPort)
            return "Open the shop under the address that it printed when it started.";
        bool onlyReads = (HttpMethods.IsGet(request.Method) || HttpMethods.IsHead(request.Method)) && !request.Headers.ContainsKey("Upgrade");
        if (request.Headers.Origin is { Count: > 0 } origin
            ? origin.Count != 1 || !string.Equals(origin[0], $"http://{request.Host.Value}", StringComparison.OrdinalIgnoreCase)
            : !onlyReads)
            return Elsewhere;
        if (request.Headers["Sec-Fetch-Site"] is not { Count: > 0 } site) return null;
        bool isLinkFollowed = HttpMethods.IsGet(request.Method) && request.Headers["Sec-Fetch-Mode"] == "navigate" && request.Headers["Sec-Fetch-Dest"] == "document"
            && request.Headers.Origin.Count == 0;
        return site.Count == 1 && (site[0] is "same-origin" or "none" || (site[0] is "same-site" or "cross-site" && isLinkFollowed)) ? null : Elsewhere;
    }
}
