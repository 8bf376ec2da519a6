using System.Threading.RateLimiting;
using Microsoft.AspNetCore.Components.Server;
using Microsoft.AspNetCore.Http.Features;
using Microsoft.AspNetCore.Http.Timeouts;
using Microsoft.AspNetCore.Server.Kestrel.Core;
using Microsoft.AspNetCore.SignalR;
using Sparewright.Part;

namespace Sparewright.Web.Guarding;

/// <summary>How much anybody can ask of the shop at a time. An endpoint that takes more than a form says so by its own size limit.</summary>
internal static class Limits
{
    private const long FormBytes = 1_000_000;

    // A job's text goes over the line as one JSON string, in which its line ends and quotes count double.
    private const long MessageBytes = JobFile.LargestBytes * 5L / 4;

    private const int Connections = 200, Lines = 60, AtOnce = 32, Waiting = 128, WindowsKept = 20;

    private static readonly PathString Line = "/_blazor";
    private static readonly TimeSpan Longest = TimeSpan.FromSeconds(30);

    public static void Limit(this KestrelServerOptions kestrel)
    {
        kestrel.Limits.MaxRequestBodySize = FormBytes;
        kestrel.Limits.MaxConcurrentConnections = Connections;
        kestrel.Limits.MaxConcurrentUpgradedConnections = Lines;
        kestrel.Limits.MaxRequestHeadersTotalSize = 16 * 1024;
        kestrel.Limits.RequestHeadersTimeout = TimeSpan.FromSeconds(10);
    }

    public static void Limit(CircuitOptions circuit)
    {
        circuit.DetailedErrors = false;
        circuit.DisconnectedCircuitMaxRetained = WindowsKept;
    }

    public static void Limit(HubOptions hub) => hub.MaximumReceiveMessageSize = MessageBytes;

    public static void AddLimits(this IServiceCollection services)
    {
        services.AddRequestTimeouts(o => o.DefaultPolicy = new RequestTimeoutPolicy { Timeout = Longest, TimeoutStatusCode = StatusCodes.Status503ServiceUnavailable });
        services.AddRateLimiter(o =>
        {
            o.GlobalLimiter = PartitionedRateLimiter.Create<HttpContext, bool>(_ =>
                RateLimitPartition.GetConcurrencyLimiter(true, _ => new ConcurrencyLimiterOptions { PermitLimit = AtOnce, QueueLimit = Waiting }));
            o.OnRejected = (rejected, _) => new(Refusing.WithAsync(rejected.HttpContext, StatusCodes.Status503ServiceUnavailable, "The shop is busy.", "Try again in a moment."));
        });
    }

    /// <summary>After routing, since an endpoint may take more than others. A window's line stays open as long as the window, and is counted by the server itself.</summary>
    public static void UseLimits(this WebApplication app)
    {
        app.Use(SizeBefore);
        app.UseWhen(c => !c.Request.Path.StartsWithSegments(Line), others =>
        {
            others.UseRateLimiter();
            others.UseRequestTimeouts();
        });
    }

    // The server itself notices only when somebody reads the body, and not everybody does.
    private static Task SizeBefore(HttpContext context, RequestDelegate next) =>
        context.Request.ContentLength > context.Features.Get<IHttpMaxRequestBodySizeFeature>()?.MaxRequestBodySize ? Refusing.TooLargeAsync(context) : next(context);
}
