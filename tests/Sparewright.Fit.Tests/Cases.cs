using Sparewright.Fit.Capability;
using Sparewright.Fit.Ladder;
using Sparewright.Fit.Odds;

namespace Sparewright.Fit;

/// <summary>Fit cases of our own invention.</summary>
internal static class Cases
{
    public static readonly DateOnly Day = new(2026, 3, 1);
    public static readonly ProcessSetting Setting = new(ProcessKind.Mex, "a printer", "PLA", "0.4 nozzle, 0.2 layer");
    public static readonly NormalLengths Nothing = NormalLengths.Exactly([], []);

    /// <summary>A process of which everything is known: bias by kind, and spread.</summary>
    public static ProcessCapability Sure(double spreadMm, Func<SurfaceKind, double> biasMm) => ProcessCapability.Learn(
        Setting, SurfaceKinds.All.ToDictionary(k => k, k => new KindPrior(k, biasMm(k), 0, 0, 0, 0, 0, spreadMm, 1e7)), []);

    /// <summary>What would better the odds of a case as it stands.</summary>
    public static IReadOnlyList<Cure> Cures(FitCase fit, double wantedOdds)
    {
        var odds = FitOdds.Of(fit);
        return Odds.Cures.Of(fit, odds, wantedOdds, FitLadder.Of(fit, odds, wantedOdds));
    }

    public static ProcessCapability Assumed { get; } = ProcessCapability.Assumed(Setting);

    public static PrintedSize Hole(double drawnMm, string size = "bore_d", SurfaceKind kind = SurfaceKind.HoleUpright) => new(kind, drawnMm, 1, new Dictionary<string, double> { [size] = 1 });

    /// <summary>A rod in a bore.</summary>
    public static OneClearance Rod(double boreMm, double rodMm, double rodU, double lowMm = 0.1, double highMm = 0.4, string name = "rod", string size = "bore_d") =>
        new(name, LengthSum.Around(Hole(boreMm, size), name, new(rodMm, rodU)), new(lowMm, highMm, "test"));

    /// <summary>Two screws in a row.</summary>
    public static FastenersInLine TwoScrews(double pitchMm, double holeMm, double sashPitchMm, double sashU, double screwMm, string name = "screws") => new(
        name,
        [new LengthSum(0, [new(SurfaceKind.CentreDistance, pitchMm, 1, new Dictionary<string, double> { ["pitch"] = 1 })], [new("sash pitch", new(sashPitchMm, sashU), -1)], [])],
        [Room(holeMm, screwMm), Room(holeMm, screwMm)],
        new(0, double.PositiveInfinity, "test"));

    public static LengthSum Room(double holeMm, double screwMm) =>
        new(0, [new(SurfaceKind.HoleUpright, holeMm, 0.5, new Dictionary<string, double> { ["screw_d"] = 1 })], [new("screw", new(screwMm, 0.02), -0.5)], []);

    /// <summary>Ten counterparts of a printer that nobody measured, sharing its doubts.</summary>
    public static FitCase Ten() => new(Assumed, Nothing,
    [
        .. Enumerable.Range(0, 6).Select(i => Rod(6.35 + 2 * i, 6 + 2 * i, 0.02 + 0.002 * i, 0.0, 0.5, $"rod {i}", $"bore_{i}")),
        TwoScrews(34.05, 4.9, 34, 0.05, 4.1),
        .. Enumerable.Range(0, 3).Select(i => new OneClearance($"boss {i}",
            new LengthSum(0, [new(SurfaceKind.Outside, 15 + 3 * i, -1, new Dictionary<string, double> { [$"boss_{i}"] = 1 })], [new($"socket {i}", new(15.3 + 3 * i, 0.03), 1)], []),
            new(0.0, 0.5, "test"))),
    ]);
}
