namespace Sparewright.Part.Record;

/// <summary>Kinds of printed surface that a trial tells of, each with a printer's error of its own.</summary>
public enum PrintedSurface { Outside, HoleUpright, HoleLying, Slot, Height, FirstLayer, CentreDistance }

/// <summary>Answers of gauges for one counterpart; each gauge is named by its drawn size in mm.</summary>
/// <param name="Counterpart">What was tried in them.</param>
/// <param name="Surface">The kind of surface as the gauges lay in the printer; null: as the part will lie.</param>
/// <param name="GoesMm">Those in which it goes.</param>
/// <param name="TooTightMm">Those in which it does not.</param>
/// <param name="TooLooseMm">Those in which it goes, but too loosely.</param>
public sealed record GaugeTrial(string Counterpart, PrintedSurface? Surface, IReadOnlyList<double> GoesMm, IReadOnlyList<double> TooTightMm, IReadOnlyList<double> TooLooseMm, Place Place);

/// <summary>A printed feature that was measured.</summary>
/// <param name="ReadsMm">What the display said, once or repeatedly, in mm, uncorrected.</param>
/// <param name="With">The instrument's name, where said.</param>
public sealed record MeasuredFeature(PrintedSurface Surface, double DrawnMm, IReadOnlyList<double> ReadsMm, string? With, Place Place);

/// <summary>A print of the part itself that was tried.</summary>
/// <param name="DrawnMm">The sizes at which it was drawn, in mm, as far as they are said.</param>
/// <param name="Fits">Counterparts that fit as wanted.</param>
/// <param name="Broke">What broke, and how.</param>
public sealed record PartTrial(IReadOnlyDictionary<string, double> DrawnMm, IReadOnlyList<string> Fits, IReadOnlyList<string> TooTight, IReadOnlyList<string> TooLoose, string? Broke, Place Place);

/// <summary>One trial print, and what it showed. What is null of machine, material and settings is as in the job's own print.</summary>
/// <param name="On">The day of the print.</param>
public sealed record Trial(DateOnly On, string? Machine, string? Material, double? NozzleMm, double? LayerMm, string? Note,
    IReadOnlyList<GaugeTrial> Gauges, IReadOnlyList<MeasuredFeature> Measured, PartTrial? Part, Place Place)
{
    /// <summary>Whether both tell of one print: several features measured on the same day, with the same readings. Taken twice, it would count for more than it is.</summary>
    public bool IsOfTheSamePrintAs(Trial other) => Measured.Count > 1 && On == other.On && Measured.Count == other.Measured.Count
        && Measured.Zip(other.Measured).All(m => m.First.Surface == m.Second.Surface && m.First.DrawnMm == m.Second.DrawnMm && m.First.ReadsMm.SequenceEqual(m.Second.ReadsMm));
}

/// <summary>The words by which a job names kinds of printed surface.</summary>
public static class PrintedSurfaces
{
    public static IReadOnlyList<PrintedSurface> All { get; } = Enum.GetValues<PrintedSurface>();

    public static string Words(this PrintedSurface surface) => surface switch
    {
        PrintedSurface.Outside => "outside",
        PrintedSurface.HoleUpright => "hole upright",
        PrintedSurface.HoleLying => "hole lying",
        PrintedSurface.Slot => "slot",
        PrintedSurface.Height => "height",
        PrintedSurface.FirstLayer => "first layer",
        PrintedSurface.CentreDistance => "centre distance",
        _ => throw new ArgumentOutOfRangeException(nameof(surface)),
    };
}
