namespace Sparewright.Shop;

/// <summary>What the shop keeps beside its jobs. A trial belongs to a job, the others to the whole shop.</summary>
public enum RecordKind
{
    Instrument, Machine, Material, Trial,

    /// <summary>Readings of a capability coupon: they belong to a machine, material and setting (<see cref="KeptCoupon"/>).</summary>
    Coupon,
}

/// <summary>What a record is called.</summary>
/// <param name="Name">As its user named it; data, never a path.</param>
/// <param name="Job">With a trial its job, otherwise null.</param>
public sealed record RecordName(RecordKind Kind, string Name, JobId? Job = null);

/// <summary>One state of a record, kept for ever.</summary>
/// <param name="Number">1, 2, 3 … within the record.</param>
/// <param name="Text">The whole record in YAML or JSON, as it was handed in.</param>
public sealed record ShopRecord(RecordName Name, int Number, DateTimeOffset At, string Text);

/// <summary>The shop's instruments, machines, materials and trials, each a named text with all its revisions.</summary>
public interface IRecordStore
{
    /// <summary>The latest state of each record of a kind, by name; of trials, those of one job.</summary>
    Task<Kept<IReadOnlyList<ShopRecord>>> RecordsAsync(RecordKind kind, JobId? job = null, CancellationToken cancel = default);

    /// <summary>Keeps a new text, the first with <paramref name="basedOn"/> 0. When that is not the latest revision any more it is refused as changed meanwhile; the store is to be asked again.</summary>
    Task<Kept<ShopRecord>> KeepAsync(RecordName name, int basedOn, string text, CancellationToken cancel = default);

    /// <summary>All states of a record, the latest first.</summary>
    Task<Kept<IReadOnlyList<ShopRecord>>> RevisionsAsync(RecordName name, CancellationToken cancel = default);
}
