namespace Sparewright.Fit.Capability;

/// <summary>
/// What one machine, in one material and at one setting, does to sizes. Kinds of surface that it has not shown yet rest on what is assumed of printers in general, and say so:
/// printers differ more than anything else (Moylan, Land, Possolo, a round robin of consumer printers, 2015).
/// </summary>
public sealed class ProcessCapability
{
    private readonly Dictionary<SurfaceKind, KindCapability> _kinds;

    private ProcessCapability(ProcessSetting setting, Dictionary<SurfaceKind, KindCapability> kinds, IReadOnlyList<TrialEvidence> evidence) =>
        (Setting, _kinds, Evidence) = (setting, kinds, evidence);

    public ProcessSetting Setting { get; }

    /// <summary>All that it has shown.</summary>
    public IReadOnlyList<TrialEvidence> Evidence { get; }

    public KindCapability this[SurfaceKind kind] => _kinds[kind];

    /// <summary>The day of the newest evidence; null when there is none.</summary>
    public DateOnly? On => Evidence.Count == 0 ? null : Evidence.Max(e => e.On);

    /// <summary>A day of which there is no evidence yet: for prints that are only imagined.</summary>
    public DateOnly NextDay => On is { } last && last < DateOnly.MaxValue ? last.AddDays(1) : DateOnly.MinValue;

    /// <summary>Nothing but what is assumed of printers in general.</summary>
    public static ProcessCapability Assumed(ProcessSetting setting) => Learn(setting, []);

    /// <summary>From everything that this process has shown, in whatever order.</summary>
    public static ProcessCapability Learn(ProcessSetting setting, IReadOnlyList<TrialEvidence> evidence) => Learn(setting, KindPrior.Assumed(setting.Process), evidence);

    /// <summary>The same with priors of one's own.</summary>
    public static ProcessCapability Learn(ProcessSetting setting, IReadOnlyDictionary<SurfaceKind, KindPrior> priors, IReadOnlyList<TrialEvidence> evidence) =>
        new(setting, priors.ToDictionary(p => p.Key, p => KindCapability.Learn(p.Key.IsAcrossLayers() ? p.Value with { LayerMm = setting.LayerMm ?? 0 } : p.Value, evidence)), evidence);

    /// <summary>After more evidence; kinds that it does not touch stay as they are.</summary>
    public ProcessCapability With(params IReadOnlyList<TrialEvidence> more)
    {
        HashSet<SurfaceKind> touched = [.. more.Select(e => e.Kind)];
        return new(Setting, _kinds.ToDictionary(k => k.Key, k => touched.Contains(k.Key) ? k.Value.With(more) : k.Value), [.. Evidence, .. more]);
    }

    /// <summary>Measured only when all these kinds are.</summary>
    public CapabilityStatus Status(IEnumerable<SurfaceKind> kinds) => kinds.All(k => this[k].Status == CapabilityStatus.Measured) ? CapabilityStatus.Measured : CapabilityStatus.Assumed;
}
