using Sparewright.Part;
using Sparewright.Reconcile;
using Sparewright.Remake.Bearing;
using Sparewright.Remake.Live;
using Sparewright.Web.Desk;

namespace Sparewright.Web.Shelf;

/// <summary>What calls for attention in a job, in words, without building its solid.</summary>
internal static class JobWords
{
    public static IReadOnlyList<string> Calling(string text)
    {
        JobReading reading = JobFile.Read(text);
        IReadOnlyList<Problem> problems = reading.Problems;
        if (reading.Job is not { } job) return ["the text must be put right"];
        if (!Reconciliation.TryReconcile(job, out var reconciled, out problems)) reconciled = null;
        return Calling(new LiveState(1, text, job, reconciled, problems, null, null, IsBuilding: false), null, null);
    }

    /// <summary>Of a job that lies open: its solid is known too, and its fits and its strength where they were worked out.</summary>
    public static IReadOnlyList<string> Calling(LiveState live, FitState? fits, WorkState<StrengthFound>? strength) =>
        live.Job is null ? ["the text must be put right"] : [.. Step.All.Where(s => s.Path is not null).Select(s => s.Of(live, fits, strength)).Where(s => s.IsCalling).Select(s => s.Words).Distinct(StringComparer.Ordinal)];
}
