using System.Reflection;
using Bunit;
using Microsoft.Extensions.DependencyInjection;
using Sparewright.Shop;
using Sparewright.Web.Data;
using Sparewright.Web.Readings;
using Xunit;

namespace Sparewright.Web.Tests.Readings;

/// <summary>Photographs with a job: taken in, told of and listed.</summary>
public sealed class PhotographsTests : PaneTests
{
    // One grey pixel.
    private static readonly byte[] Png = Convert.FromBase64String("iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAAAAAA6fptVAAAACklEQVR4nGNoAAAAggCBd81ytgAAAABJRU5ErkJggg==");

    /// <summary>A store that answers the first question for photographs only when it is told to.</summary>
    public class LateStore : DispatchProxy
    {
        private readonly TaskCompletionSource _late = new();
        private IJobStore _store = null!;
        private int _asked;

        public static (IJobStore Store, Action Answer) Of(IJobStore store)
        {
            IJobStore proxy = Create<IJobStore, LateStore>();
            var late = (LateStore)(object)proxy;
            late._store = store;
            return (proxy, late._late.SetResult);
        }

        protected override object? Invoke(MethodInfo? targetMethod, object?[]? args)
        {
            object? answer = targetMethod!.Invoke(_store, args);
            return answer is Task<Kept<JobPhotographs>> photographs && Interlocked.Increment(ref _asked) == 1 ? LaterAsync(photographs) : answer;
        }

        private async Task<Kept<JobPhotographs>> LaterAsync(Task<Kept<JobPhotographs>> answer)
        {
            Kept<JobPhotographs> now = await answer;
            await _late.Task;
            return now;
        }
    }

    private static async Task<Kept<Photograph>> TakeInAsync(OpenShop shop, byte[] content)
    {
        using var desk = new PhotographDesk(shop.Store, shop.Desks);
        using var stream = new MemoryStream(content);
        return await desk.TakeInAsync(shop.Desk.Head.Job, "lug.png", stream, CancellationToken.None);
    }

    [Fact]
    public async Task The_shop_itself_tells_all_windows_of_a_photograph_that_is_kept_and_of_no_other()
    {
        await using OpenShop shop = await OpenAsync(Jobs.Examples["vent-knuckle"]);
        int told = 0;
        shop.Desk.PhotographsChanged += () => told++;
        Assert.False((await TakeInAsync(shop, [1, 2, 3])).IsGood);
        Assert.Equal(0, told);
        Assert.True((await TakeInAsync(shop, Png)).IsGood);
        Assert.Equal(1, told);
        Assert.Single((await shop.Store.PhotographsAsync(shop.Desk.Head.Job, CancellationToken.None)).Value!.There);
    }

    [Fact]
    public async Task A_late_answer_does_not_take_away_what_a_newer_one_brought()
    {
        await using OpenShop shop = await OpenAsync(Jobs.Examples["vent-knuckle"]);
        var (store, answer) = LateStore.Of(shop.Store);
        Services.AddSingleton(store);
        IRenderedComponent<Photographs> pane = Shown<Photographs>(shop);
        Assert.True((await TakeInAsync(shop, Png)).IsGood);
        pane.WaitForAssertion(() => Assert.Single(pane.FindAll(".pictures li")), TimeSpan.FromSeconds(20));
        answer();
        await pane.InvokeAsync(() => Task.CompletedTask);
        pane.Render();
        Assert.Single(pane.FindAll(".pictures li"));
    }
}
