using System.Security.Cryptography;

namespace Sparewright.Web.Guarding;

/// <summary>Short pages in plain words for whoever is refused.</summary>
internal static partial class Refusing
{
    /// <summary>Answers with a status and a sentence; nothing else of the shop is shown.</summary>
    public static Task WithAsync(HttpContext context, int status, string what, string remedy) => PlainPage.WriteAsync(context, status, what, remedy);

    public static Task TooLargeAsync(HttpContext context) => WithAsync(context, StatusCodes.Status413PayloadTooLarge, "This request cannot be taken.", "It is too large.");

    /// <summary>An error of ours becomes a page with a number to find it by on the server's standard error, and no details.</summary>
    public static async Task ErrorsAround(HttpContext context, RequestDelegate next)
    {
        try
        {
            await next(context).ConfigureAwait(false);
        }
        catch (BadHttpRequestException e) when (!context.Response.HasStarted)
        {
            await (e.StatusCode == StatusCodes.Status413PayloadTooLarge ? TooLargeAsync(context) : WithAsync(context, e.StatusCode, "This request cannot be taken.", "It is not written as it must be.")).ConfigureAwait(false);
        }
        catch (Exception e) when (!context.RequestAborted.IsCancellationRequested)
        {
            string number = Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(4));
            Account(context.RequestServices.GetRequiredService<ILoggerFactory>().CreateLogger(typeof(Refusing)), e, number, context.Request.Method, context.Request.Path);
            if (context.Response.HasStarted) throw;
            context.Response.Clear();
            await WithAsync(context, StatusCodes.Status500InternalServerError, "Something went wrong here.", $"Nothing that was kept is lost. The account of it stands in the shop's terminal as error {number}.").ConfigureAwait(false);
        }
    }

    [LoggerMessage(LogLevel.Error, "error {Number}: {Method} {Path}")]
    private static partial void Account(ILogger logger, Exception error, string number, string method, PathString path);
}
