using Sparewright.Reconcile.Findings;

namespace Sparewright.Remake;

/// <summary>A file that lies in the output folder.</summary>
/// <param name="For">What it is for, in a few words.</param>
/// <param name="UpToDate">True when it lay there already and was not made again.</param>
public sealed record MadeFile(string Name, string For, bool UpToDate);

/// <summary>What came of a run.</summary>
/// <param name="Folder">Where the files are; null when none were wanted.</param>
public sealed record Remade(OpenedJob Job, Reconciled Reconciled, SolidFacts Facts, string? Folder, IReadOnlyList<MadeFile> Files, IReadOnlyList<StageTime> Stages, double Seconds)
{
    /// <summary>True when nothing of the solid and the files had to be made again.</summary>
    public bool IsUpToDate => Stages.All(s => s.UpToDate);

    /// <summary>True when somebody should look: a contradiction, an undecided size, a reading that differs from the solid.</summary>
    public bool NeedsAttention => Reconciled.NeedsAttention || !Facts.Proven;
}
