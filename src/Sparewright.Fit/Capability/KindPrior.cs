using System.Globalization;
using Sparewright.Measure;

namespace Sparewright.Fit.Capability;

/// <summary>
/// What is assumed of a printer for one kind of surface before it shows anything: printed = drawn + bias + proportional · drawn + small hole / drawn + scatter.
/// </summary>
/// <param name="BiasMm">Mean over printers, in mm, and <paramref name="BiasUncertaintyMm"/> from printer to printer.</param>
/// <param name="Proportional">As a share of the size; likewise.</param>
/// <param name="SmallHoleMm2">In mm of bias times mm of size; likewise.</param>
/// <param name="SpreadMm">Standard deviation from print to print of one printer, in mm, as sure as if estimated with <paramref name="SpreadDegrees"/> degrees of freedom.</param>
public sealed record KindPrior(
    SurfaceKind Kind, double BiasMm, double BiasUncertaintyMm, double Proportional, double ProportionalUncertainty, double SmallHoleMm2, double SmallHoleUncertaintyMm2, double SpreadMm, double SpreadDegrees)
{
    /// <summary>How high a layer is, in mm, where sizes of this kind come in whole layers; 0 where they do not, or nobody says.</summary>
    public double LayerMm { get; init; }

    /// <summary>What is assumed of <see cref="DayShare"/>: our judgement, no source.</summary>
    private const double AssumedDayShare = 0.25;

    /// <summary>
    /// Of the variance from print to print, the share that all surfaces of one print have in common: a line that is laid a little wider today stands out of every wall. What was printed on one day is taken as one print.
    /// </summary>
    public double DayShare { get; init; }

    /// <summary>What is assumed of <see cref="WallShare"/>: our judgement, no source.</summary>
    private const double AssumedWallShare = 0.5;

    /// <summary>The line of material that the table is of, by its nozzle, in mm (process notes 1.7).</summary>
    private const double NozzleMm = 0.4;

    /// <summary>
    /// Of how much printers differ in the bias, as a variance, the share that comes from the width of their lines: one that lays them too wide is stout in every outside and tight in every hole and slot. 0 for kinds in which walls have no say.
    /// </summary>
    public double WallShare { get; init; }

    /// <summary>What other kinds of surface have shown of that width, in standard deviations between printers; nothing, at first.</summary>
    internal NormalLength Walls { get; init; } = Unshown;

    internal static NormalLength Unshown { get; } = new(0, 1);

    /// <summary>
    /// The same of a printer with a nozzle so wide: what its lines do grows with them, in the bias, in how far printers differ and from day to day, and what a curve takes off a hole, which is mm times mm, with their square.
    /// What belts, heat and cooling do does not hang on them.
    /// </summary>
    /// <param name="outside">An outside is nothing but its two walls: what is assumed of it is what walls do.</param>
    internal KindPrior WithNozzle(double nozzleMm, KindPrior outside)
    {
        if (Kind.WallSense() == 0) return this;
        double wider = nozzleMm / NozzleMm, square = wider * wider;
        double differ = 1 - WallShare + WallShare * square, scatter = 1 - DayShare + DayShare * square;
        return this with
        {
            BiasMm = BiasMm + Kind.WallSense() * (wider - 1) * outside.BiasMm,
            BiasUncertaintyMm = BiasUncertaintyMm * Math.Sqrt(differ),
            WallShare = WallShare * square / differ,
            SmallHoleMm2 = SmallHoleMm2 * square,
            SmallHoleUncertaintyMm2 = SmallHoleUncertaintyMm2 * square,
            SpreadMm = SpreadMm * Math.Sqrt(scatter),
            DayShare = DayShare * square / scatter,
        };
    }

    /// <summary>
    /// What cutting into layers adds to the scatter of a size drawn so, in mm²: of n + f layers, wherever the first one begins, there come out n + 1 with probability f and n otherwise, in the mean what was drawn. Whole layers come out as drawn.
    /// </summary>
    public double SlicedVarianceMm2(double drawnMm)
    {
        if (LayerMm <= 0) return 0;
        double layers = drawnMm / LayerMm, part = layers - Math.Floor(layers);
        return part * (1 - part) * LayerMm * LayerMm;
    }

    /// <summary>The drawn sizes of whole layers beside one, in mm; none where sizes do not come in such.</summary>
    public IEnumerable<double> WholeLayersBeside(double drawnMm) =>
        LayerMm <= 0 ? [] : [Math.Round(Math.Floor(drawnMm / LayerMm) * LayerMm, 9), Math.Round(Math.Ceiling(drawnMm / LayerMm) * LayerMm, 9)];

    /// <summary>The table that comes with the tool: ASSUMED, nobody's printer. Its sources stand in its first lines.</summary>
    public static IReadOnlyDictionary<SurfaceKind, KindPrior> Assumed(ProcessKind process)
    {
        var kinds = SurfaceKinds.All.ToDictionary(k => k.Words());
        return DataTable.Rows(typeof(KindPrior), "process-priors.csv").Where(row => row[0] == (process == ProcessKind.Mex ? "MEX" : "VPP")).Select(row =>
        {
            double Number(int column) => double.Parse(row[column], CultureInfo.InvariantCulture);
            // Of a spread that is as sure as from ν degrees of freedom, the mean square is ν/(ν − 2) times its most usual one's.
            double degrees = Number(5), spread = Number(4) * Math.Sqrt((degrees - 2) / degrees);
            return new KindPrior(kinds[row[1]], Number(2), Number(3), Number(6), Number(7), Number(8), Number(9), spread, degrees)
            {
                DayShare = AssumedDayShare,
                WallShare = kinds[row[1]].WallSense() == 0 ? 0 : AssumedWallShare,
            };
        }).ToDictionary(p => p.Kind);
    }
}
