using Sparewright.Remake.Live;
using Sparewright.Shop;
using Sparewright.Solid;

namespace Sparewright.Web.Desk;

/// <summary>The jobs that lie open, each once for all its windows. One kernel worker, kept warm, serves them in turn.</summary>
public sealed class Desks(IJobStore store, KernelProgram kernel) : IAsyncDisposable
{
    private readonly KernelWorker _worker = new(kernel, new WorkerLimits { GivesWay = true });
    private readonly Dictionary<JobId, JobDesk> _open = [];
    private readonly SemaphoreSlim _opening = new(1, 1);

    /// <summary>Opens a job, or finds it lying open.</summary>
    public async Task<Kept<JobDesk>> OpenAsync(JobId job)
    {
        await _opening.WaitAsync().ConfigureAwait(false);
        try
        {
            if (_open.TryGetValue(job, out JobDesk? desk)) return desk;
            Kept<JobHead> head = await store.HeadAsync(job).ConfigureAwait(false);
            if (!head.IsGood) return head.Problem;
            return _open[job] = new JobDesk(store, new LivePart(_worker), head.Value);
        }
        finally
        {
            _opening.Release();
        }
    }

    /// <summary>A job that lies open, or null.</summary>
    public JobDesk? Find(JobId job) => _open.GetValueOrDefault(job);

    public async ValueTask DisposeAsync()
    {
        await _worker.DisposeAsync().ConfigureAwait(false);
        foreach (JobDesk desk in _open.Values) desk.Dispose();
        _opening.Dispose();
    }
}
