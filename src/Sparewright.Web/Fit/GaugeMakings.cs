using System.Security.Cryptography;
using System.Text;
using Sparewright.Remake;
using Sparewright.Remake.Fits;
using Sparewright.Remake.Ladders;
using Sparewright.Shop;
using Sparewright.Web.Desk;

namespace Sparewright.Web.Fit;

/// <summary>Makes the gauges for one counterpart, in a folder of the shop's data.</summary>
public sealed class GaugeMaking(JobId job, string folder, DoorSettings settings) : LongWork<MadeLadder>(job, settings.Clock, "the files are as they were")
{
    private (FoundFits Found, GaugeSteps Steps) _of;

    /// <summary>Where the files lie.</summary>
    public string Folder => folder;

    /// <summary>Begins, unless it is under way.</summary>
    /// <param name="text">That the fits were found of.</param>
    public void Begin(int revision, string text, FoundFits found, GaugeSteps steps)
    {
        if (State.IsRunning) return;
        _of = (found, steps);
        Begin(revision, text, found.Job.Job);
    }

    protected override Task<Result<MadeLadder>> WorkAsync(OpenedJob opened, IProgress<StageProgress> progress, CancellationToken stop) =>
        new LadderWork(settings.Kernel, settings.Fonts, settings.Clock).MakeAsync(_of.Found, _of.Steps, folder, progress, stop);
}

/// <summary>The makings of all gauges, each counterpart's once for all windows.</summary>
public sealed class GaugeMakings(DoorSettings settings) : IDisposable
{
    private readonly Lock _lock = new();
    private readonly Dictionary<(JobId Job, string Counterpart), GaugeMaking> _all = [];

    public GaugeMaking Of(JobId job, string counterpart)
    {
        lock (_lock)
            return _all.TryGetValue((job, counterpart), out GaugeMaking? making) ? making : _all[(job, counterpart)] = new(job, FolderOf(job, counterpart), settings);
    }

    /// <summary>Null where none were made since the shop was opened.</summary>
    public GaugeMaking? Find(JobId job, string counterpart)
    {
        lock (_lock) return _all.GetValueOrDefault((job, counterpart));
    }

    public void Dispose()
    {
        foreach (GaugeMaking making in _all.Values) making.Dispose();
    }

    /// <summary>A counterpart's name may be anything; a folder's is not.</summary>
    private string FolderOf(JobId job, string counterpart) =>
        Path.Combine(settings.DataFolder, "gauges", job.Text, Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(counterpart)))[..16]);
}
