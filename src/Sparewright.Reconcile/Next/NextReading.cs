using Sparewright.Part.Record;

namespace Sparewright.Reconcile.Next;

/// <summary>What a further reading is good for.</summary>
public enum Purpose { Decides, TellsApart, Narrows, Checks, NarrowsAll }

/// <summary>How a size's standard uncertainty would change, in mm or degrees.</summary>
public sealed record Narrowing(string Size, double From, double To);

/// <summary>A reading worth taking next.</summary>
/// <param name="Text">As one writes it in the job, without what it reads.</param>
/// <param name="ForetoldMm">What it should read by all that is known; null where that is what it would decide.</param>
/// <param name="Nats">How much it tells of everything: ½ ln(1 + variance foretold/variance of the reading) (D-optimality; V. V. Fedorov, Theory of Optimal Experiments, 1972; from memory).</param>
/// <param name="Why">What for, in a few words.</param>
/// <param name="Narrows">The sizes that it would narrow by a tenth at least, the most first.</param>
public sealed record NextReading(string Text, CaliperReading Reading, double? ForetoldMm, double Nats, Purpose Purpose, string Why, IReadOnlyList<Narrowing> Narrows);
