using System.Security.Cryptography;

namespace Sparewright.Web.Guarding;

/// <summary>Short pages in plain words for whoever is refused.</summary>
internal static class Refusing
{
    /// <summary>Answers with a status and a sentence; nothing else of the shop is shown.</summary>
    public static Task WithAsync(HttpContext context, int status, string what, string remedy)
    {
        context.Response.StatusCode = status;
        context.Response.ContentType = "text/html; charset=utf-8";
        context.Response.Headers.CacheControl = "no-store";
        return context.Response.WriteAsync($"<!DOCTYPE html><html lang=\"en\"><head><meta charset=\"utf-8\"><link rel=\"icon\" href=\"data:,\"><title>Refused · Sparewright</title></head><body><h1>{what}</h1><p>{remedy}</p></body></html>", context.RequestAborted);
    }

    /// <summary>An error of ours becomes a page with a number to find it by on the server's standard error, and no details.</summary>
    public static async Task ErrorsAround(HttpContext context, RequestDelegate next)
    {
        try
        {
            await next(context).ConfigureAwait(false);
        }
        catch (BadHttpRequestException e)
        {
            if (!context.Response.HasStarted) await WithAsync(context, e.StatusCode, "This request cannot be taken.", e.StatusCode == StatusCodes.Status413PayloadTooLarge ? "It is too large." : "It is not written as it must be.").ConfigureAwait(false);
        }
        catch (Exception e) when (!context.RequestAborted.IsCancellationRequested)
        {
            string number = Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(4));
            await Console.Error.WriteLineAsync($"error {number}: {context.Request.Method} {context.Request.Path.Value?.ReplaceLineEndings("")}: {e}").ConfigureAwait(false);
            if (context.Response.HasStarted) throw;
            await WithAsync(context, StatusCodes.Status500InternalServerError, "Something went wrong here.", $"Nothing that was kept is lost. The account of it stands in the shop's terminal as error {number}.").ConfigureAwait(false);
        }
    }
}
