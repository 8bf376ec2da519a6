namespace Sparewright.BlindRemakes.Printing;

/// <summary>What of a printed thing is looked at.</summary>
internal enum Made { Outside, HoleUpright, HoleLying, Height, Slot, CentreDistance, FirstLayer }

/// <summary>
/// A printer that nobody has looked into. It is drawn from what happens in one rather than from how the tool learns: lines that are laid too wide stand out of every wall, inwards in a hole and outwards on a boss; curves are cut short;
/// plastic shrinks and belts are a little long; roofs sag; heights come in whole layers; one day differs from the next in all walls alike, and now and then a print is bad. mm.
/// </summary>
/// <param name="WallMm">By how much each wall stands further out of the plastic than drawn.</param>
/// <param name="DayMm">Standard deviation of the same from print to print.</param>
/// <param name="HoleMm">By how much upright holes are tighter besides, whatever their size.</param>
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
    double WallMm, double DayMm, double HoleMm, double CurveMm2, double Scale, double SagMm, double FootMm, double SlackMm, double FlareMm, double ScatterMm, double LayerMm, double BadShare)
{
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
        double along = drawnMm * (1 + printer.Scale), scatter = scatterMm * Chance.Normal(random);
        return made switch
        {
            Made.Outside => along + 2 * wallMm + scatter,
            Made.FirstLayer => along + 2 * (wallMm + FlareMm) + scatter,
            Made.HoleUpright => along - 2 * wallMm - printer.HoleMm - printer.CurveMm2 / drawnMm + scatter,
            Made.HoleLying => Layers(drawnMm) - printer.SagMm - wallMm + scatter,
            Made.Height => Layers(drawnMm) + printer.FootMm + scatter,
            Made.Slot => along - 2 * wallMm + scatter,
            Made.CentreDistance => along + printer.SlackMm + scatter / 2,
            _ => throw new ArgumentOutOfRangeException(nameof(made)),
        };
    }

    /// <summary>By how much the first layers of this print stand out further on each side: a tenth more or less from print to print.</summary>
    public double FlareMm { get; } = printer.FlareMm * (1 + 0.1 * Chance.Normal(random));

    private double Layers(double mm) => Math.Round(mm / printer.LayerMm) * printer.LayerMm;
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
