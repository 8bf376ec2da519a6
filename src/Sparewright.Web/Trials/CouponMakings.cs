using Sparewright.Remake;
using Sparewright.Remake.Coupons;
using Sparewright.Shop;
using Sparewright.Web.Desk;

namespace Sparewright.Web.Trials;

/// <summary>Makes the capability coupon for the process of a job, in a folder of the shop's data.</summary>
public sealed class CouponMaking(JobId job, string folder, DoorSettings settings) : LongWork<MadeCoupon>(job, settings.Clock, "the files are as they were")
{
    /// <summary>Where the files lie.</summary>
    public string Folder => folder;

    protected override Task<Result<MadeCoupon>> WorkAsync(OpenedJob opened, IProgress<StageProgress> progress, CancellationToken stop) =>
        new CouponWork(settings.Kernel, settings.Fonts, settings.Clock).MakeAsync(opened.Job.Print, folder, progress, stop);
}

/// <summary>The makings of all coupons, each job's once for all windows.</summary>
public sealed class CouponMakings(DoorSettings settings) : IDisposable
{
    private readonly Lock _lock = new();
    private readonly Dictionary<JobId, CouponMaking> _all = [];

    public CouponMaking Of(JobId job)
    {
        lock (_lock) return _all.TryGetValue(job, out CouponMaking? making) ? making : _all[job] = new(job, Path.Combine(settings.DataFolder, "coupons", job.Text), settings);
    }

    /// <summary>Null where none was made since the shop was opened.</summary>
    public CouponMaking? Find(JobId job)
    {
        lock (_lock) return _all.GetValueOrDefault(job);
    }

    public void Dispose()
    {
        foreach (CouponMaking making in _all.Values) making.Dispose();
    }
}
