using System.Globalization;
using Sparewright.Measure;
using Sparewright.Part.Record;

namespace Sparewright.Strength.Materials;

/// <summary>The materials that this program knows (Data/materials.csv, where the source of every value stands).</summary>
public sealed class MaterialTable
{
    private const string Printed = "printed", Moulded = "moulded", Any = "any";

    private readonly Dictionary<(string Material, string Kind, string What), Sourced> _values = [];
    private readonly List<(string Name, string Material)> _names = [];

    private MaterialTable()
    {
        foreach (string[] row in DataTable.Rows(typeof(MaterialTable), "materials.csv"))
        {
            double spread = row[4].Length > 0 ? Number(row[4]) : SpreadOf(row[1], row[2]);
            _values.Add((row[0], row[1], row[2]), new Sourced(Number(row[3]), spread, StatusOf(row[5]), row[6]));
        }

        _names.AddRange(_values.Keys.Select(k => k.Material).Where(m => m != Any).Distinct().Select(m => (m, m)));
        _names.AddRange(DataTable.Rows(typeof(MaterialTable), "material-names.csv").Select(row => (row[0], row[1])));
    }

    private double SpreadOf(string kind, string what) =>
        what.StartsWith("tension", StringComparison.Ordinal) ? _values[(Any, kind, "strength_spread")].Value
        : what == "density_g_cm3" ? _values[(Any, kind, "density_spread")].Value : 0;

    /// <summary>The table that comes with this program.</summary>
    public static MaterialTable Published { get; } = new();

    /// <summary>The materials that can be printed, and those that a part may have been moulded of.</summary>
    public IReadOnlyList<string> PrintedNames => Names(Printed);

    /// <inheritdoc cref="PrintedNames"/>
    public IReadOnlyList<string> MouldedNames => Names(Moulded);

    /// <summary>The print material that is meant by a job's words (<c>ASA</c>, <c>black nylon</c>), with bars of one's own in place of the table's strengths; null where none is known.</summary>
    public PrintMaterial? Print(string words, IEnumerable<TestBars> bars)
    {
        if (Find(words, Printed) is not { } name) return null;
        TestBars[] own = [.. bars.Where(b => b.Material is null || Find(b.Material, Printed) == name)];
        Sourced tension = MeasuredBars.Of(own, BarLay.Lying) ?? Of(name, Printed, "tension_in_layer_MPa"), across = MeasuredBars.Of(own, BarLay.Standing) ?? Of(name, Printed, "tension_across_MPa");
        Sourced compression = Rule("compression_over_tension_in_layer", tension);
        var strengths = new DirectionalStrengths(tension, compression, across, compression, Rule("shear_across_over_tension", across), Rule("shear_in_layer_over_tension", tension));
        double nu = Of(name, Printed, "nu").Value, modulusAcross = Of(name, Printed, "modulus_across_MPa").Value;
        var stiffness = new LayeredStiffness(Of(name, Printed, "modulus_in_layer_MPa").Value, modulusAcross, nu, nu, modulusAcross / (2 * (1 + nu)));
        return new PrintMaterial(name, strengths, stiffness, HabitsOf(name, Printed), Of(name, Printed, "strain_once") with { Spread = tension.Spread });

        Sourced Rule(string rule, Sourced from) => from.Times(Of(Any, Printed, rule));
    }

    /// <summary>The moulded material that is meant by a job's words; null where none is known.</summary>
    public MouldedMaterial? Mould(string words) => Find(words, Moulded) is not { } name ? null
        : new MouldedMaterial(name, Of(name, Moulded, "tension_MPa"), LayeredStiffness.Isotropic(Of(name, Moulded, "modulus_MPa").Value, Of(name, Moulded, "nu").Value), HabitsOf(name, Moulded));

    /// <summary>Every value of a material, for whoever wants to see what an answer rests on.</summary>
    public IEnumerable<(string What, Sourced Value)> ValuesOf(string material, bool moulded) =>
        _values.Where(v => v.Key.Kind == (moulded ? Moulded : Printed) && v.Key.Material == material).Select(v => (v.Key.What, v.Value));

    private Habits HabitsOf(string name, string kind) => new(Of(name, kind, "density_g_cm3"), Of(name, kind, "softens_at_degC"), Of(name, kind, "sun"), Of(name, kind, "wet"));

    private Sourced Of(string name, string kind, string what) => _values.TryGetValue((name, kind, what), out Sourced? own) ? own : _values[(Any, kind, what)];

    /// <summary>By whole words, the longest name first, so that PA6 is not taken for PA.</summary>
    private string? Find(string words, string kind)
    {
        string[] said = words.Split([' ', ',', ';', '(', ')', '/', '+', '-'], StringSplitOptions.RemoveEmptyEntries);
        return _names.Where(n => said.Contains(n.Name, StringComparer.OrdinalIgnoreCase)).OrderByDescending(n => n.Name.Length)
            .Select(n => n.Material).FirstOrDefault(m => Names(kind).Contains(m));
    }

    private string[] Names(string kind) => [.. _values.Keys.Where(k => k.Kind == kind && k.Material != Any).Select(k => k.Material).Distinct()];

    private static Status StatusOf(string word) => word switch
    {
        "READ" => Status.Read,
        "MEMORY" => Status.Memory,
        "assumed" => Status.Assumed,
        _ => throw new InvalidOperationException($"the table of materials has the status {word}"),
    };

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);
}
