using Bunit;
using Microsoft.Extensions.DependencyInjection;
using Sparewright.Part;
using Sparewright.Reconcile;
using Sparewright.Reconcile.Findings;
using Sparewright.Web.Desk;

namespace Sparewright.Web.Tests;

/// <summary>What tests of panes begin with: a pane drawn without a browser, on a job that lies open.</summary>
public abstract class PaneTests : BunitContext
{
    protected PaneTests()
    {
        JSInterop.Mode = JSRuntimeMode.Loose;
        Services.AddSingleton(TimeProvider.System);
    }

    /// <summary>What the window looks at.</summary>
    protected Attention Attention { get; } = new();

    /// <summary>A job lying open, once nothing is under way: what is drawn again in between loses its buttons' hands.</summary>
    private protected static async Task<OpenShop> OpenAsync(string text)
    {
        OpenShop shop = await OpenShop.WithAsync(text);
        await shop.Desk.Settled;
        return shop;
    }

    private protected IRenderedComponent<T> Shown<T>(OpenShop shop, Action<ComponentParameterCollectionBuilder<T>>? also = null) where T : DeskPane => Render<T>(p =>
    {
        p.AddCascadingValue(shop.Desk).AddCascadingValue(Attention);
        also?.Invoke(p);
    });

    protected static Reconciled Reconcile(string text) =>
        Reconciliation.TryReconcile(JobFile.Read(text).Job!, out Reconciled? reconciled, out _) ? reconciled : throw new InvalidOperationException("does not reconcile");
}
