using System.Text;
using Sparewright.Remake.Live;
using Sparewright.Shop;
using Sparewright.Solid;
using Sparewright.Web.Desk;

namespace Sparewright.Web.Data;

/// <summary>
/// Meshes and drawn views of the parts that lie open, made on demand and kept for a while. Views come from a kernel worker of their own, so that nobody's
/// next solid waits for them.
/// </summary>
public sealed class Pictures(Desks desks, KernelProgram kernel) : IAsyncDisposable
{
    private const int MostKept = 48;
    private const double ChordMm = 0.03;

    private readonly KernelWorker _drawer = new(kernel, new WorkerLimits { GivesWay = true });
    private readonly SemaphoreSlim _drawing = new(1, 1);
    private readonly Lock _lock = new();
    private readonly LinkedList<(string Name, byte[] Bytes)> _kept = [];

    /// <summary>The mesh of the part that a job has in view, or had a moment ago; null when it is another one by now.</summary>
    public byte[]? Mesh(JobId job, string key)
    {
        string name = $"{job}/{key}";
        if (Kept(name) is { } kept) return kept;
        return InView(job, key) is { } part ? Keep(name, part.Drawable) : null;
    }

    /// <summary>A standard view with hidden lines, as SVG; null when the job has another part in view by now, or the view could not be drawn.</summary>
    public async Task<byte[]?> ViewAsync(JobId job, string key, StandardView view, CancellationToken cancel)
    {
        string name = $"{job}/{key}/{view.Name}";
        if (Kept(name) is { } kept) return kept;
        if (InView(job, key) is not { } part) return null;
        await _drawing.WaitAsync(cancel).ConfigureAwait(false);
        try
        {
            // Another window may have asked for the same meanwhile.
            if (Kept(name) is { } drawnMeanwhile) return drawnMeanwhile;
            Outcome<Recipe> recipe = Recipe.Of(part.Reconciled.Shape);
            if (!recipe.IsGood) return null;
            Outcome<ExactSolid> solid = await _drawer.BuildAsync(recipe.Value, fullGuards: false, cancel: cancel).ConfigureAwait(false);
            if (!solid.IsGood) return null;
            Outcome<DrawnView> drawn = await solid.Value.ViewAsync(view.Sight, view.Up, chordMm: ChordMm, cancel: cancel).ConfigureAwait(false);
            return drawn.IsGood ? Keep(name, Encoding.UTF8.GetBytes(ViewSvg.Of(drawn.Value, $"{part.Job.PartName}, {view.Name}"))) : null;
        }
        finally
        {
            _drawing.Release();
        }
    }

    public async ValueTask DisposeAsync()
    {
        await _drawer.DisposeAsync().ConfigureAwait(false);
        _drawing.Dispose();
    }

    private PartInView? InView(JobId job, string key) => desks.Find(job)?.Live.InView is { } part && part.Key == key ? part : null;

    private byte[]? Kept(string name)
    {
        lock (_lock)
        {
            for (LinkedListNode<(string Name, byte[] Bytes)>? at = _kept.First; at is not null; at = at.Next)
            {
                if (at.Value.Name != name) continue;
                _kept.Remove(at);
                _kept.AddFirst(at);
                return at.Value.Bytes;
            }
        }

        return null;
    }

    private byte[] Keep(string name, byte[] bytes)
    {
        lock (_lock)
        {
            _kept.AddFirst((name, bytes));
            while (_kept.Count > MostKept) _kept.RemoveLast();
        }

        return bytes;
    }
}
