using System.Text.Encodings.Web;
using System.Text.Unicode;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.Extensions.WebEncoders;
using Sparewright.Shop;
using Sparewright.Solid;
using Sparewright.Web.Card;
using Sparewright.Web.Desk;
using Sparewright.Web.Guarding;
using Sparewright.Web.Data;

namespace Sparewright.Web;

/// <summary>What the web door is opened with.</summary>
/// <param name="DataFolder">Where the shop's data lie.</param>
/// <param name="Port">On the loopback address; 0 takes a free one.</param>
public sealed record DoorSettings(string DataFolder, int Port, KernelProgram Kernel, IJobStore Store, TimeProvider Clock, IReadOnlyList<string> Fonts);

/// <summary>The web door, put together: what stands before every request, which pages and data there are.</summary>
public static class ShopDoor
{
    public static WebApplication Build(DoorSettings settings)
    {
        WebApplicationBuilder builder = WebApplication.CreateBuilder(new WebApplicationOptions { ApplicationName = typeof(ShopDoor).Assembly.GetName().Name, ContentRootPath = AppContext.BaseDirectory });
        builder.WebHost.UseStaticWebAssets();
        builder.WebHost.ConfigureKestrel(kestrel =>
        {
            kestrel.AddServerHeader = false;
            kestrel.ListenLocalhost(settings.Port);
        });
        builder.Logging.ClearProviders();
        builder.Services.AddSingleton(settings);
        builder.Services.AddSingleton(settings.Store);
        builder.Services.AddSingleton(settings.Clock);
        builder.Services.AddSingleton(settings.Kernel);
        builder.Services.AddSingleton<Desks>();
        builder.Services.AddSingleton<Pictures>();
        builder.Services.AddScoped<Attention>();
        builder.Services.AddDataProtection().PersistKeysToFileSystem(new DirectoryInfo(Path.Combine(settings.DataFolder, "keys")));
        builder.Services.Configure<WebEncoderOptions>(o => o.TextEncoderSettings = new TextEncoderSettings(UnicodeRanges.All));
        builder.Services.AddRazorComponents().AddInteractiveServerComponents();

        WebApplication app = builder.Build();
        app.UseGuards();
        app.UseAntiforgery();
        app.MapStaticAssets();
        app.MapData();
        app.MapRazorComponents<Sheet>().AddInteractiveServerRenderMode();
        return app;
    }
}
