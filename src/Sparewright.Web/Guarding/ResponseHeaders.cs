using System.Security.Cryptography;

namespace Sparewright.Web.Guarding;

/// <summary>Headers on every answer: what pages may load and who may frame them (OWASP ASVS 5.0, 3.4).</summary>
internal static class ResponseHeaders
{
    private const string NonceKey = "Sparewright.Nonce";

    /// <summary>The word by which this answer's one inline script, the import map, is known.</summary>
    public static string Nonce(HttpContext context) => (string)context.Items[NonceKey]!;

    public static Task Around(HttpContext context, RequestDelegate next)
    {
        string nonce = Convert.ToBase64String(RandomNumberGenerator.GetBytes(16));
        context.Items[NonceKey] = nonce;
        context.Response.OnStarting(() =>
        {
            IHeaderDictionary headers = context.Response.Headers;
            // Old engines do not count ws: as 'self'.
            headers.ContentSecurityPolicy = $"default-src 'self'; script-src 'self' 'nonce-{nonce}'; style-src 'self'; img-src 'self' data: blob:; font-src 'self'; connect-src 'self' ws://{context.Request.Host.Value}; worker-src 'self' blob:; object-src 'none'; frame-ancestors 'none'; form-action 'self'; base-uri 'self'";
            headers.XContentTypeOptions = "nosniff";
            headers["Referrer-Policy"] = "no-referrer";
            headers["Cross-Origin-Opener-Policy"] = "same-origin";
            headers["Cross-Origin-Resource-Policy"] = "same-origin";
            headers["Permissions-Policy"] = "camera=(), geolocation=(), microphone=(), payment=(), usb=()";
            headers.XFrameOptions = "DENY";
            // What says nothing of its own is not kept by anybody on the way.
            if (headers.CacheControl.Count == 0) headers.CacheControl = "no-store";
            return Task.CompletedTask;
        });
        return next(context);
    }
}
