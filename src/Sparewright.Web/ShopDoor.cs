using System.Net;
using System.Text.Encodings.Web;
using System.Text.Unicode;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.Extensions.Logging.Console;
using Microsoft.Extensions.WebEncoders;
using Sparewright.Shop;
using Sparewright.Solid;
using Sparewright.Web.Card;
using Sparewright.Web.Data;
using Sparewright.Web.Desk;
using Sparewright.Web.Fit;
using Sparewright.Web.Guarding;
using Sparewright.Web.HandOver;
using Sparewright.Web.Strength;
using Sparewright.Web.Trials;

namespace Sparewright.Web;

/// <summary>What the web door is opened with.</summary>
/// <param name="DataFolder">Where the shop's data lie.</param>
/// <param name="Port">On the loopback address; 0 takes a free one.</param>
public sealed record DoorSettings(string DataFolder, int Port, KernelProgram Kernel, IJobStore Store, CouponShelf Coupons, TimeProvider Clock, IReadOnlyList<string> Fonts);

/// <summary>The web door, put together: what stands before every request, which pages and data there are.</summary>
public static class ShopDoor
{
    /// <summary>The address to open, with the word that lets one in. The door must be open.</summary>
    public static string Address(WebApplication app) =>
        app.Services.GetRequiredService<DoorKey>().Address(app.Urls.First().Replace("127.0.0.1", "localhost", StringComparison.Ordinal));

    /// <exception cref="IOException">The data folder cannot be written to.</exception>
    /// <exception cref="UnauthorizedAccessException">The data folder cannot be written to.</exception>
    public static WebApplication Build(DoorSettings settings)
    {
        // Empty: environment variables and settings files of the framework could open other addresses or show details of errors.
        WebApplicationBuilder builder = WebApplication.CreateEmptyBuilder(new WebApplicationOptions
        { ApplicationName = typeof(ShopDoor).Assembly.GetName().Name, ContentRootPath = AppContext.BaseDirectory, EnvironmentName = Environments.Production });
        builder.WebHost.UseKestrelCore().UseStaticWebAssets();
        builder.WebHost.ConfigureKestrel(kestrel =>
        {
            kestrel.AddServerHeader = false;
            kestrel.Limit();
            // A free port can be had on one of the two loopback addresses only.
            if (settings.Port == 0) kestrel.Listen(IPAddress.Loopback, 0);
            else kestrel.ListenLocalhost(settings.Port);
        });
        builder.Logging.AddSimpleConsole(o => o.SingleLine = true).SetMinimumLevel(LogLevel.Warning).AddFilter("Microsoft.AspNetCore.DataProtection", LogLevel.Error);
        builder.Services.Configure<ConsoleLoggerOptions>(o => o.LogToStandardErrorThreshold = LogLevel.Trace);
        // Open windows hold their line for ever; whoever closes the shop does not wait for them.
        builder.Services.Configure<HostOptions>(o => o.ShutdownTimeout = TimeSpan.FromMilliseconds(300));
        string keys = Path.Combine(settings.DataFolder, "keys");
        OwnFile.MakeFolder(keys);
        builder.Services.AddDataProtection().PersistKeysToFileSystem(new DirectoryInfo(keys));
        builder.Services.AddSingleton(DoorKey.Of(settings.DataFolder, settings.Clock));
        builder.Services.AddLimits();
        builder.Services.AddSingleton(settings);
        builder.Services.AddSingleton(settings.Store);
        builder.Services.AddSingleton(settings.Coupons);
        builder.Services.AddSingleton(settings.Clock);
        builder.Services.AddSingleton(settings.Kernel);
        builder.Services.AddSingleton<Desks>();
        builder.Services.AddSingleton<Pictures>();
        builder.Services.AddSingleton<PhotographDesk>();
        builder.Services.AddSingleton<Makings>();
        builder.Services.AddSingleton<GaugeMakings>();
        builder.Services.AddSingleton<CouponMakings>();
        builder.Services.AddSingleton<Computings>();
        builder.Services.AddScoped<Attention>();
        builder.Services.Configure<WebEncoderOptions>(o => o.TextEncoderSettings = new TextEncoderSettings(UnicodeRanges.All));
        builder.Services.AddRouting();
        builder.Services.AddRazorComponents().AddInteractiveServerComponents(Limits.Limit).AddHubOptions(Limits.Limit);

        WebApplication app = builder.Build();
        app.UseGuards();
        app.UseWebSockets();
        app.UseAntiforgery();
        app.MapStaticAssets();
        app.MapData();
        app.MapRazorComponents<Sheet>().AddInteractiveServerRenderMode(o => o.ContentSecurityFrameAncestorsPolicy = null);
        return app;
    }
}
