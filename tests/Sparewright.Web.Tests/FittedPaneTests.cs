using Microsoft.Extensions.DependencyInjection;
using Sparewright.Solid;
using Sparewright.Web.Fit;
using Sparewright.Web.Trials;

namespace Sparewright.Web.Tests;

/// <summary>Panes that show fits: of a bush, once they have been found.</summary>
public abstract class FittedPaneTests : PaneTests
{
    /// <summary>A bush of 20 mm, bored 8.2, with these counterparts, a line each.</summary>
    /// <param name="wanted">A line that says which odds are wanted; may be empty.</param>
    protected static string Bush(string wanted, params string[] counterparts) => $$"""
        sparewright: 1
        part: Bush
        could_injure: no
        {{wanted}}
        sizes:
          od:   {about: 20}
          bore: {about: 8}
          tall: {about: 12}
        shape:
          - {boss: ring, diameter: od, height: tall}
          - {hole: eye, from: ring.top, diameter: bore, through: ring}
        readings:
          - {outside: ring.side, reads: [20.01, 20.02]}
          - {inside: eye.wall, reads: [8.21, 8.19]}
          - {outside: [ring.bottom, ring.top], reads: [12.02, 11.99]}
        counterparts:
          - {{string.Join("\n  - ", counterparts)}}
        print: {material: PLA, way_up: up}

        """;

    /// <summary>A shop with this job on its desk, its fits found.</summary>
    private protected async Task<OpenShop> OpenFittedAsync(string text)
    {
        OpenShop shop = await OpenAsync(text);
        var door = new DoorSettings(Path.GetTempPath(), 0, new KernelProgram("/no-such-worker"), null!, shop.Coupons, TimeProvider.System, []);
        Services.AddSingleton(new GaugeMakings(door)).AddSingleton(new CouponMakings(door)).AddSingleton(shop.Coupons);
        await shop.Desk.Fits.Settled;
        return shop;
    }
}
