using Sparewright.Remake;
using Sparewright.Shop;
using Sparewright.Web.Desk;

namespace Sparewright.Web.HandOver;

/// <summary>Makes a job's files: the main job, in a folder of the shop's data.</summary>
public sealed class Making(JobId job, string folder, DoorSettings settings) : LongWork<Remade>(job, settings.Clock, "the files are as they were")
{
    /// <summary>Where the files lie.</summary>
    public string Folder => folder;

    protected override Task<Result<Remade>> WorkAsync(OpenedJob opened, IProgress<StageProgress> progress, CancellationToken stop) =>
        new RemakePipeline(settings.Kernel, settings.Fonts, settings.Clock).RunAsync(opened, folder, Extent.Everything, progress, stop);
}

/// <summary>The makings of all jobs, each once for all windows.</summary>
public sealed class Makings(DoorSettings settings) : IDisposable
{
    private readonly Lock _lock = new();
    private readonly Dictionary<JobId, Making> _all = [];

    public Making Of(JobId job)
    {
        lock (_lock)
            return _all.TryGetValue(job, out Making? making) ? making : _all[job] = new Making(job, Path.Combine(settings.DataFolder, "outputs", job.Text), settings);
    }

    public void Dispose()
    {
        foreach (Making making in _all.Values) making.Dispose();
    }
}
