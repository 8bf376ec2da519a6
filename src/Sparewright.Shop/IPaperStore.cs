using Sparewright.Handover.Papers;

namespace Sparewright.Shop;

/// <summary>A job that was taken in from a folder or a bundle.</summary>
/// <param name="Remarks">What was not taken, or not as it was, in sentences.</param>
public sealed record TakenIn(JobHead Head, IReadOnlyList<string> Remarks);

/// <summary>Jobs come into the shop and leave it as papers: a folder or a bundle (<see cref="JobFolder"/>, <see cref="Bundle"/>).</summary>
public interface IPaperStore
{
    /// <summary>
    /// Begins a job with all that its papers hold: revisions where there are any, photographs, trials, outputs. What comes out again is byte for byte what went in,
    /// but for photographs that held more than their picture: these are written anew without it, and named in the remarks.
    /// </summary>
    Task<Kept<TakenIn>> TakeInAsync(JobPapers papers, string from, CancellationToken cancel = default);

    /// <summary>All that belongs to a job, at its latest revision. Contents are fetched when they are read.</summary>
    Task<Kept<JobPapers>> HandOutAsync(JobId job, CancellationToken cancel = default);
}
