using Sparewright.Remake;
using Sparewright.Remake.Bearing;
using Sparewright.Shop;
using Sparewright.Web.Desk;

namespace Sparewright.Web.Strength;

/// <summary>Computes whether a job's part will hold.</summary>
public sealed class Computing(JobId job, DoorSettings settings) : LongWork<StrengthFound>(job, settings.Clock, "what was computed before is as it was")
{
    protected override Task<Result<StrengthFound>> WorkAsync(OpenedJob opened, IProgress<StageProgress> progress, CancellationToken stop) =>
        new RemakePipeline(settings.Kernel, settings.Fonts, settings.Clock).StrengthAsync(opened, shows: true, progress, stop);
}

/// <summary>The computings of all jobs, each once for all windows.</summary>
public sealed class Computings(DoorSettings settings) : IDisposable
{
    private readonly Lock _lock = new();
    private readonly Dictionary<JobId, Computing> _all = [];

    public Computing Of(JobId job)
    {
        lock (_lock)
            return _all.TryGetValue(job, out Computing? computing) ? computing : _all[job] = new Computing(job, settings);
    }

    public void Dispose()
    {
        foreach (Computing computing in _all.Values) computing.Dispose();
    }
}
