namespace Sparewright.BlindRemakes.Printing;

/// <summary>What of a printed thing is looked at.</summary>
internal enum Made { Outside, HoleUpright, HoleLying, Height, Slot, CentreDistance, FirstLayer }

/// <summary>
/// A printer that nobody has looked into. It is drawn from what happens in one rather than from how the tool learns: lines that are laid too wide stand out of every wall, inwards in a hole and outwards on a boss; curves are cut short;
/// plastic shrinks and belts are a little long; roofs sag; heights come in whole layers; one day differs from the next in all walls alike, and now and then a print is bad. mm.
/// </summary>
/// <param name="WallMm">By how much each wall stands further out of the plastic than drawn.</param>
/// <param name="DayMm">Standard deviation of the same from print to print.</param>
/// <param name="HollowMm">By how much upright holes and slots are tighter besides, whatever their size.</param>
/// <param name="CurveMm2">And by this over their diameter.</param>
/// <param name="Scale">Share by which lengths along the bed come out longer.</param>
/// <param name="SagMm">Of the roof of a lying hole.</param>
/// <param name="FootMm">By how much heights come out more, whatever they are.</param>
/// <param name="SlackMm">By how much distances of centres come out longer, whatever they are.</param>
/// <param name="ScatterMm">Standard deviation from surface to surface; half as much for distances of centres.</param>
/// <param name="FlareMm">By how much the first layers stand out further on each side.</param>
/// <param name="LayerMm">Heights are whole layers.</param>
/// <param name="BadShare">How often a print is bad: its walls off by a further tenth or so, its scatter doubled.</param>
internal sealed record HiddenPrinter(
    double WallMm, double DayMm, double HollowMm, double CurveMm2, double Scale, double SagMm, double FootMm, double SlackMm, double FlareMm, double ScatterMm, double LayerMm, double BadShare)
{
    /// <summary>What a surface drawn so comes out as in the mean of all good prints.</summary>
    public double InTheMean(Made made, double drawnMm)
    {
        double along = drawnMm * (1 + Scale), layers = Math.Round(drawnMm / LayerMm) * LayerMm;
        return made switch
        {
            Made.Outside => along + 2 * WallMm,
            Made.FirstLayer => along + 2 * (WallMm + FlareMm),
            Made.HoleUpright => along - 2 * WallMm - HollowMm - CurveMm2 / drawnMm,
            Made.HoleLying => layers - SagMm - 2 * WallMm,
            Made.Height => layers + FootMm,
            Made.Slot => along - 2 * WallMm - HollowMm,
            Made.CentreDistance => along + SlackMm,
            _ => throw new ArgumentOutOfRangeException(nameof(made)),
        };
    }

    /// <summary>One print: everything in it shares its day.</summary>
    public VirtualPrint Print(Random random)
    {
        bool bad = random.NextDouble() < BadShare;
        double wall = WallMm + DayMm * Chance.Normal(random);
        return bad
            ? new(this, wall + (random.NextDouble() < 0.5 ? -1 : 1) * (0.04 + 0.06 * random.NextDouble()), 2 * ScatterMm, random)
            : new(this, wall, ScatterMm, random);
    }
}

/// <summary>A print under way.</summary>
internal sealed class VirtualPrint(HiddenPrinter printer, double wallMm, double scatterMm, Random random)
{
    /// <summary>What a surface drawn so comes out as; each call is another surface.</summary>
    public double Of(Made made, double drawnMm)
    {
        double scatter = scatterMm * Chance.Normal(random);
        return (printer with { WallMm = wallMm }).InTheMean(made, drawnMm) + (made == Made.CentreDistance ? scatter / 2 : scatter);
    }

    /// <summary>By how much the first layers of this print stand out further on each side: a tenth more or less from print to print.</summary>
    public double FlareMm { get; } = printer.FlareMm * (1 + 0.1 * Chance.Normal(random));
}

/// <summary>Random numbers of other shapes.</summary>
internal static class Chance
{
    /// <summary>Anything from −1 to 1.</summary>
    public static double Even(Random random) => random.NextDouble() * 2 - 1;

    public static double Normal(Random random)
    {
        double u = 1 - random.NextDouble();
        return Math.Sqrt(-2 * Math.Log(u)) * Math.Cos(2 * Math.PI * random.NextDouble());
    }
}
