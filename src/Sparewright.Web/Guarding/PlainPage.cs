using System.Text.Encodings.Web;

namespace Sparewright.Web.Guarding;

/// <summary>A page with a heading, a sentence and perhaps a way on, for browsers that are not let in: it needs no file of the shop.</summary>
internal static class PlainPage
{
    /// <param name="AtOnce">The browser goes on by itself.</param>
    internal sealed record WayOn(string Words, string Address, bool AtOnce);

    public static Task WriteAsync(HttpContext context, int status, string heading, string sentence, WayOn? on = null)
    {
        context.Response.StatusCode = status;
        context.Response.ContentType = "text/html; charset=utf-8";
        context.Response.Headers.CacheControl = "no-store";
        return HttpMethods.IsHead(context.Request.Method) ? Task.CompletedTask : context.Response.WriteAsync(Html(heading, sentence, on), context.RequestAborted);
    }

    internal static string Html(string heading, string sentence, WayOn? on)
    {
        static string Safe(string text) => HtmlEncoder.Default.Encode(text);
        string refresh = on is { AtOnce: true } ? $"<meta http-equiv=\"refresh\" content=\"0; url={Safe(on.Address)}\">" : "";
        string sentences = sentence.Length > 0 ? $"<p>{Safe(sentence)}</p>" : "";
        string link = on is not null ? $"<p><a href=\"{Safe(on.Address)}\">{Safe(on.Words)}</a></p>" : "";
        return $"""
            <!DOCTYPE html>
            <html lang="en">
            <head>
            <meta charset="utf-8">
            <meta name="viewport" content="width=device-width, initial-scale=1">
            <meta name="color-scheme" content="light dark">
            <link rel="icon" href="data:,">
            {refresh}
            <title>{Safe(heading.TrimEnd('.'))} · Sparewright</title>
            </head>
            <body>
            <main>
            <h1>{Safe(heading)}</h1>
            {sentences}
            {link}
            </main>
            </body>
            </html>
            """;
    }
}
