using Sparewright.Reconcile.Findings;
using Sparewright.Remake.Fits;

namespace Sparewright.Remake;

/// <summary>A file that lies in the output folder.</summary>
/// <param name="For">What it is for, in a few words.</param>
/// <param name="UpToDate">True when it lay there already and was not made again.</param>
public sealed record MadeFile(string Name, string For, bool UpToDate);

/// <summary>What came of a run.</summary>
/// <param name="Folder">Where the files are; null when none were wanted.</param>
public sealed record Remade(OpenedJob Job, Reconciled Reconciled, SolidFacts Facts, string? Folder, IReadOnlyList<MadeFile> Files, IReadOnlyList<StageTime> Stages, double Seconds)
{
    /// <summary>The odds that everything fits; null where they were not asked for, the job has no counterparts, or one of them cannot be placed.</summary>
    public FoundFits? Fits { get; init; }

    /// <summary>Why the fits could not be worked out, one line each.</summary>
    public IReadOnlyList<string> FitsWhyNot { get; init; } = [];

    /// <summary>True when fitting edges on the bed were to be bevelled and the solid did not allow it: the flare must then be cut off by hand.</summary>
    public bool CouldNotBevel { get; init; }

    /// <summary>In what state the drawn sizes are.</summary>
    public string State => Fits is null ? JobCautions.State : JobCautions.ForTheFits;

    /// <summary>The same in a sentence.</summary>
    public string StateInWords => Fits is null ? JobCautions.AsMeasured : JobCautions.AsFitted;

    /// <summary>True when nothing of the solid and the files had to be made again.</summary>
    public bool IsUpToDate => Stages.All(s => s.UpToDate);

    /// <summary>True when somebody should look: a contradiction, an undecided size, a reading that differs from the solid, a fit below the wanted odds.</summary>
    public bool NeedsAttention => Reconciled.NeedsAttention || !Facts.Proven || FitsWhyNot.Count > 0 || Fits is { NeedsAttention: true };
}
