using System.Collections.Frozen;
using System.Globalization;
using Sparewright.Measure;
using Sparewright.Part.Record;
using Sparewright.Strength.Margins;

namespace Sparewright.Strength.Materials;

/// <summary>One line of what lowers a strength, and why.</summary>
public sealed record KnockDown(string Name, double Factor, Status Status, string Source);

/// <summary>A strength with everything that lowers it, line by line.</summary>
/// <param name="Safety">What it is divided by: less for bars of one's own than for a table.</param>
public sealed record AllowedStrength(Sourced Strength, IReadOnlyList<KnockDown> Factors, KnockDown Safety)
{
    public double MPa => Factors.Aggregate(Strength.Value, (s, f) => s * f.Factor) / Safety.Factor;
}

/// <summary>What a print is allowed to bear by direction: strength × time × surroundings / safety.</summary>
public sealed record Allowables(AllowedStrength TensionInLayer, AllowedStrength CompressionInLayer, AllowedStrength TensionAcross, AllowedStrength CompressionAcross, AllowedStrength ShearAcross, AllowedStrength ShearInLayer)
{
    /// <summary>The allowed strengths in MPa.</summary>
    public LayeredStrength Strength => new(TensionInLayer.MPa, CompressionInLayer.MPa, TensionAcross.MPa, CompressionAcross.MPa, ShearAcross.MPa, ShearInLayer.MPa);

    /// <summary>The strength that a mode comes up against.</summary>
    public AllowedStrength Against(FailureMode mode) => mode switch
    {
        FailureMode.CrushedInLayer => CompressionInLayer,
        FailureMode.ShearedInLayer => ShearInLayer,
        FailureMode.LayersPulledApart => TensionAcross,
        FailureMode.LayersSheared => ShearAcross,
        FailureMode.LayersCrushed => CompressionAcross,
        _ => TensionInLayer,
    };

    /// <summary>One standard deviation of that strength as a share of it.</summary>
    public double SpreadOf(FailureMode mode) => Against(mode).Strength.Spread;

    /// <summary>What a print material is allowed to bear under a load, where the part lives.</summary>
    public static Allowables Of(PrintMaterial material, HowOften times, HowLong lasts, Surroundings? lives)
    {
        IReadOnlyList<KnockDown> factors = KnockDowns.Of(material.Name, material.Habits, times, lasts, lives);
        DirectionalStrengths s = material.Strengths;
        return new(Allow(s.TensionInLayer), Allow(s.CompressionInLayer), Allow(s.TensionAcross), Allow(s.CompressionAcross), Allow(s.ShearAcross), Allow(s.ShearInLayer));

        AllowedStrength Allow(Sourced strength) => new(strength, factors, KnockDowns.Safety(strength.Status));
    }
}

/// <summary>What lowers a plastic's strength: how long, how often, heat, sun and water (Data/knock-downs.csv, where the source of every factor stands).</summary>
public static class KnockDowns
{
    private static readonly FrozenDictionary<(string Kind, string When), KnockDown> Table = DataTable.Rows(typeof(KnockDowns), "knock-downs.csv").ToFrozenDictionary(row => (row[0], row[1]),
        row => new KnockDown(row[1], double.Parse(row[2], CultureInfo.InvariantCulture), row[3] == "assumed" ? Status.Assumed : Status.Memory, row[4]));

    /// <summary>The factors that count, none left out that is 1 by rule but for a reason that the job does not have.</summary>
    public static IReadOnlyList<KnockDown> Of(string material, Habits habits, HowOften times, HowLong lasts, Surroundings? lives)
    {
        KnockDown often = Table[("often", times switch { HowOften.Once => "once", HowOften.NowAndThen => "now and then", HowOften.Many => "many", _ => "always" })];
        KnockDown @long = Table[("long", lasts switch { HowLong.Seconds => "seconds", HowLong.Hours => "hours", HowLong.Months => "months", _ => "years" })];
        List<KnockDown> factors = [often.Factor <= @long.Factor ? often with { Name = $"how often: {often.Name}" } : @long with { Name = $"how long: {@long.Name}" }];
        if (lives?.HottestDegC is { } hottest && hottest > habits.SoftensAtDegC.Value - Table[("heat", "below where it softens by at least degC")].Factor)
            factors.Add(Table[("heat", "warmer than that")] with { Name = string.Create(CultureInfo.InvariantCulture, $"heat: {hottest:0.#} °C, and {material} softens at {habits.SoftensAtDegC.Value:0.#} °C") });
        if (lives?.Sun == true) factors.Add(new("sun", habits.Sun.Value, habits.Sun.Status, habits.Sun.Source));
        if (lives?.Wet == true) factors.Add(new("wet", habits.Wet.Value, habits.Wet.Status, habits.Wet.Source));
        return factors;
    }

    /// <summary>What a strength is divided by, by how it is known. What follows from a bar of one's own by a rule of thumb is not measured.</summary>
    public static KnockDown Safety(Status status) => Table[("safety", status == Status.Measured ? "measured" : "table")];

    /// <summary>Whether it goes soft where the part lives, whatever the load.</summary>
    public static bool GoesSoft(Habits habits, Surroundings? lives) => lives?.HottestDegC >= habits.SoftensAtDegC.Value;
}
