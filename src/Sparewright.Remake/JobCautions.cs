using Sparewright.Part.Record;

namespace Sparewright.Remake;

/// <summary>What this job's part must say about itself, and in what state its sizes are.</summary>
public static class JobCautions
{
    /// <summary>In what state the drawn sizes are until the fit has been decided.</summary>
    public const string State = "as measured";

    /// <summary>The other state: drawn so that the counterparts fit.</summary>
    public const string ForTheFits = "as drawn for the fits";

    /// <summary>The same where there is little room.</summary>
    public const string ForTheFitsInShort = "for the fits";

    /// <summary>What drawing for the fits means, and what it does not.</summary>
    public const string AsFitted = "As drawn for the fits: the sizes on which fits hang are drawn for the counterparts and this printer, as far as that is known; what is not told to be drawn otherwise is as measured on the old part.";

    /// <summary>Why one state is not yet the other.</summary>
    public const string AsMeasured = "All sizes are drawn as measured on the old part: no allowance has been made for the printer yet, and a bore drawn as measured will usually print tight.";

    /// <summary>The cautions that the job's own answers call for; none where its failure can injure nobody.</summary>
    public static IReadOnlyList<string> Of(Job job) => job.CouldInjure.Could
        ? [$"CAUTION, could injure: {(job.CouldInjure.Why ?? "as its owner says").TrimEnd('.')}.", .. Handover.Cautions.CouldInjure]
        : [];
}
