using Sparewright.Part;
using Sparewright.Remake;
using Sparewright.Shop;
using Sparewright.Web.Desk;
using Xunit;

namespace Sparewright.Web.Tests.Desk;

/// <summary>What windows see of work that takes long.</summary>
public sealed class LongWorkTests
{
    /// <summary>On a clock that stands still: what is newly done is seen, however soon it follows; it was once left out, and "meshing" stood there while the part was solved.</summary>
    [Fact]
    public async Task What_is_newly_done_is_seen_at_once_and_how_far_it_has_come_not_too_often()
    {
        using var work = new Standing();
        work.Begin(1, Jobs.Examples["vent-knuckle"], JobFile.Read(Jobs.Examples["vent-knuckle"]).Job!);
        await work.Reported.Task.WaitAsync(TimeSpan.FromSeconds(60), TestContext.Current.CancellationToken);
        Assert.Equal(("solving", 0.1), (work.State.Doing, work.State.Fraction));
        work.End.SetResult();
    }

    private sealed class Standing() : LongWork<string>(new JobId("0123456789ab"), new StoppedClock(), "nothing")
    {
        public TaskCompletionSource Reported { get; } = new(TaskCreationOptions.RunContinuationsAsynchronously);

        public TaskCompletionSource End { get; } = new(TaskCreationOptions.RunContinuationsAsynchronously);

        protected override async Task<Result<string>> WorkAsync(OpenedJob opened, IProgress<StageProgress> progress, CancellationToken stop)
        {
            progress.Report(new(Stage.Mesh, 0, "meshing"));
            progress.Report(new(Stage.Strength, 0.1, "solving"));
            progress.Report(new(Stage.Strength, 0.2, "solving"));
            Reported.SetResult();
            await End.Task.ConfigureAwait(false);
            return "done";
        }
    }

    private sealed class StoppedClock : TimeProvider
    {
        public override DateTimeOffset GetUtcNow() => new(2026, 1, 2, 3, 4, 5, TimeSpan.Zero);
    }
}
