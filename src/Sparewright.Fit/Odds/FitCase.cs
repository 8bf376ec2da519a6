using Sparewright.Fit.Capability;

namespace Sparewright.Fit.Odds;

/// <summary>Everything that the odds depend on.</summary>
/// <param name="Read">The sizes of the old part as its readings leave them, of which the conditions name some.</param>
public sealed record FitCase(ProcessCapability Process, NormalLengths Read, IReadOnlyList<FitCondition> Conditions)
{
    /// <summary>The kinds of surface that matter to it.</summary>
    public IReadOnlyList<SurfaceKind> Kinds => [.. PrintedSizes.Select(p => p.Kind).Distinct().Order()];

    /// <summary>The sizes that may be changed.</summary>
    public IReadOnlyList<string> Changeable => [.. PrintedSizes.SelectMany(p => p.PerSize.Keys).Distinct().Order(StringComparer.Ordinal)];

    internal IEnumerable<PrintedSize> PrintedSizes => Conditions.SelectMany(c => c.Lengths).SelectMany(l => l.Printed);

    /// <summary>The same where these sizes may not be changed.</summary>
    public FitCase Holding(IReadOnlyCollection<string> sizes) => sizes.Count == 0 ? this : this with
    {
        Conditions = [.. Conditions.Select(c => c.With([.. c.Lengths.Select(l => l with { Printed = [.. l.Printed.Select(p => p with { PerSize = p.PerSize.Where(s => !sizes.Contains(s.Key)).ToDictionary(StringComparer.Ordinal) })] })]))],
    };

    /// <summary>The same with sizes changed by so much, in mm.</summary>
    public FitCase Changed(IReadOnlyDictionary<string, double> byMm) => this with
    {
        Conditions =
        [
            .. Conditions.Select(c => c.With([.. c.Lengths.Select(l => l with
            {
                Printed = [.. l.Printed.Select(p => p with { DrawnMm = p.DrawnMm + p.PerSize.Sum(s => s.Value * byMm.GetValueOrDefault(s.Key)) })],
            })])),
        ],
    };
}

/// <summary>One thing that is not known, and that costs odds.</summary>
public abstract record Doubt
{
    /// <summary>By how much this printer makes a kind of surface too large.</summary>
    public sealed record OfBias(SurfaceKind Kind) : Doubt;

    /// <summary>How much prints of one printer differ.</summary>
    public sealed record OfSpread(SurfaceKind Kind) : Doubt;

    /// <summary>How large a counterpart is.</summary>
    public sealed record OfCounterpart(string Name) : Doubt;

    /// <summary>A size of the old part.</summary>
    public sealed record OfReading(string Size) : Doubt;
}
