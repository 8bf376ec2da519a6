namespace Sparewright.Fit.Capability;

/// <summary>
/// What one machine, in one material and at one setting, does to sizes. Kinds of surface that it has not shown yet rest on what is assumed of printers in general, and say so:
/// printers differ more than anything else (Moylan, Land, Possolo, a round robin of consumer printers, 2015).
/// </summary>
public sealed class ProcessCapability
{
    private readonly IReadOnlyDictionary<SurfaceKind, KindPrior> _priors;

    /// <summary>Each kind by its own evidence alone, and by what all others show of the width of lines as well; worked out when asked for.</summary>
    private readonly Dictionary<SurfaceKind, Lazy<KindCapability>> _alone, _together;

    private ProcessCapability(ProcessSetting setting, IReadOnlyDictionary<SurfaceKind, KindPrior> priors, Dictionary<SurfaceKind, Lazy<KindCapability>> alone, IReadOnlyList<TrialEvidence> evidence)
    {
        (Setting, _priors, _alone, Evidence) = (setting, priors, alone, evidence);
        _together = priors.Keys.ToDictionary(k => k, k => new Lazy<KindCapability>(() => Together(k)));
    }

    public ProcessSetting Setting { get; }

    /// <summary>All that it has shown.</summary>
    public IReadOnlyList<TrialEvidence> Evidence { get; }

    public KindCapability this[SurfaceKind kind] => _together[kind].Value;

    /// <summary>The day of the newest evidence; null when there is none.</summary>
    public DateOnly? On => Evidence.Count == 0 ? null : Evidence.Max(e => e.On);

    /// <summary>A day of which there is no evidence yet: for prints that are only imagined.</summary>
    public DateOnly NextDay => On is { } last && last < DateOnly.MaxValue ? last.AddDays(1) : DateOnly.MinValue;

    /// <summary>Nothing but what is assumed of printers in general.</summary>
    public static ProcessCapability Assumed(ProcessSetting setting) => Learn(setting, []);

    /// <summary>From everything that this process has shown, in whatever order.</summary>
    public static ProcessCapability Learn(ProcessSetting setting, IReadOnlyList<TrialEvidence> evidence)
    {
        IReadOnlyDictionary<SurfaceKind, KindPrior> assumed = KindPrior.Assumed(setting.Process);
        return Learn(setting, setting.NozzleMm is { } nozzle ? assumed.ToDictionary(p => p.Key, p => p.Value.WithNozzle(nozzle, assumed[SurfaceKind.Outside])) : assumed, evidence);
    }

    /// <summary>The same with priors of one's own.</summary>
    public static ProcessCapability Learn(ProcessSetting setting, IReadOnlyDictionary<SurfaceKind, KindPrior> priors, IReadOnlyList<TrialEvidence> evidence)
    {
        var cut = priors.ToDictionary(p => p.Key, p => p.Key.IsAcrossLayers() ? p.Value with { LayerMm = setting.LayerMm ?? 0 } : p.Value);
        return new(setting, cut, cut.ToDictionary(p => p.Key, p => new Lazy<KindCapability>(() => KindCapability.Learn(p.Value, evidence))), evidence);
    }

    /// <summary>After more evidence.</summary>
    public ProcessCapability With(params IReadOnlyList<TrialEvidence> more)
    {
        HashSet<SurfaceKind> touched = [.. more.Select(e => e.Kind)];
        TrialEvidence[] all = [.. Evidence, .. more];
        return new(Setting, _priors, _alone.ToDictionary(k => k.Key, k => touched.Contains(k.Key) ? new Lazy<KindCapability>(() => KindCapability.Learn(_priors[k.Key], all)) : k.Value), all);
    }

    /// <summary>Measured only when all these kinds are.</summary>
    public CapabilityStatus Status(IEnumerable<SurfaceKind> kinds) => kinds.All(k => this[k].Status == CapabilityStatus.Measured) ? CapabilityStatus.Measured : CapabilityStatus.Assumed;

    /// <summary>
    /// The kinds hang together by the width of lines alone, so that what each says of it is passed on to the others (a tree of normal distributions, on which belief propagation is exact: J. Pearl, Probabilistic Reasoning
    /// in Intelligent Systems, 1988, from memory); what a kind says is a mixture over its spread, of which mean and variance are kept.
    /// </summary>
    private KindCapability Together(SurfaceKind kind)
    {
        if (_priors[kind].WallShare == 0) return _alone[kind].Value;
        var (precision, moment) = (1.0, 0.0);
        foreach (SurfaceKind other in _priors.Keys.Where(k => k != kind && _priors[k].WallShare > 0 && Evidence.Any(e => e.Kind == k)))
        {
            var (more, by) = _alone[other].Value.OfWalls;
            (precision, moment) = (precision + more, moment + by);
        }

        return precision == 1 ? _alone[kind].Value : KindCapability.Learn(_priors[kind] with { Walls = new(moment / precision, 1 / Math.Sqrt(precision)) }, Evidence);
    }
}
