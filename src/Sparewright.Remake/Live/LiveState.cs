using Sparewright.Part;
using Sparewright.Part.Record;
using Sparewright.Reconcile.Findings;
using Sparewright.Reconcile.Readings;
using Sparewright.Solid;

namespace Sparewright.Remake.Live;

/// <summary>The part as it was last built: exact solid, display mesh, and the sizes that they were built from.</summary>
/// <param name="Version">Of the text that it belongs to.</param>
/// <param name="Key">The same for the same solid, and only then.</param>
/// <param name="Job">The job that was built.</param>
public sealed record PartInView(int Version, string Key, Job Job, Reconciled Reconciled, ExactSolid Solid, Mesh Mesh)
{
    private readonly Lazy<byte[]> _drawable = new(() => DisplayMesh.Of(Mesh, Solid.Faces).ToBytes());

    /// <summary>The mesh made ready for drawing, as it goes over the wire: made once, for whoever asks first.</summary>
    public byte[] Drawable => _drawable.Value;
}

/// <summary>What a job's text comes to by itself, without its solid.</summary>
/// <param name="Job">Null while something in the text must be put right.</param>
/// <param name="Reconciled">Null while there is no job, or its readings cannot be reconciled.</param>
/// <param name="Volume">The volume with which they were; null while it is not known, and where no reading speaks of it.</param>
/// <param name="Problems">What must be put right first, with places in the text.</param>
public sealed record Reckoned(string Text, Job? Job, Reconciled? Reconciled, PartVolume? Volume, IReadOnlyList<Problem> Problems);

/// <summary>What a job's text comes to at this moment.</summary>
/// <param name="Version">Which text: the caller's own number, growing.</param>
/// <param name="Job">Null while something in the text must be put right.</param>
/// <param name="Reconciled">Null while there is no job, or its readings cannot be reconciled.</param>
/// <param name="Problems">What must be put right first, with places in the text.</param>
/// <param name="InView">The last solid that could be built, perhaps of an earlier version; null before the first.</param>
/// <param name="SolidProblem">Why this version's solid cannot be built.</param>
/// <param name="IsBuilding">Whether this version's solid is still under way.</param>
public sealed record LiveState(int Version, string Text, Job? Job, Reconciled? Reconciled, IReadOnlyList<Problem> Problems, PartInView? InView, Problem? SolidProblem, bool IsBuilding)
{
    /// <summary>The volume with which the readings that speak of it were reconciled; null while it is not known, and where none do.</summary>
    public PartVolume? Volume { get; init; }

    private readonly Lazy<Written?> _written = new(() => Part.Written.Read(Text, out _));

    /// <summary>The text taken apart, once however often it is asked for; null when its brackets and indentation cannot be followed.</summary>
    public Written? Written => _written.Value;

    /// <summary>True when what is in view does not belong to the text as it stands.</summary>
    public bool IsOutOfDate => InView is not null && InView.Version != Version;
}
