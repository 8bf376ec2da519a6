using Sparewright.Part;
using Sparewright.Part.Record;
using Sparewright.Strength.Margins;
using Sparewright.Strength.Materials;
using Xunit;

namespace Sparewright.Strength.Tests.Materials;

public class MaterialTableTests
{
    private static readonly MaterialTable Table = MaterialTable.Published;

    private static TestBars Bars(BarLay lay, double areaPlusMinus, double forcePlusMinus, params double[] newtons) => new(null, lay, 40, areaPlusMinus, newtons, forcePlusMinus, Place.None);

    [Fact]
    public void Every_print_material_is_stable_weaker_across_its_layers_and_says_where_each_value_comes_from()
    {
        Assert.Equal(["PLA", "PETG", "ABS", "ASA", "PA", "PC", "PP", "resin"], Table.PrintedNames);
        foreach (string name in Table.PrintedNames)
        {
            PrintMaterial material = Table.Print(name, [])!;
            DirectionalStrengths s = material.Strengths;
            Assert.True(s.TensionAcross.Value < s.TensionInLayer.Value && s.ShearAcross.Value < s.TensionAcross.Value && s.CompressionInLayer.Value > s.TensionInLayer.Value, name);
            Assert.True(material.Stiffness.AcrossLayersMPa <= material.Stiffness.InLayerMPa, name);
            Assert.All(new[] { s.TensionInLayer, s.TensionAcross, s.ShearAcross, s.CompressionInLayer }, v => Assert.Equal(0.10, v.Spread));
            Assert.All(Table.ValuesOf(name, false), v => Assert.False(string.IsNullOrWhiteSpace(v.Value.Source)));
        }
    }

    [Fact]
    public void Every_moulded_material_has_the_strength_and_stiffness_that_were_read()
    {
        Assert.Equal([("ABS", 41, 2300), ("POM", 69, 3200), ("PA6", 81, 2760), ("PBT", 52, 2340)], Table.MouldedNames.Select(n => (n, Table.Mould(n)!.StrengthMPa.Value, Table.Mould(n)!.Stiffness.InLayerMPa)));
        Assert.All(Table.MouldedNames, n => Assert.Equal(Status.Read, Table.Mould(n)!.StrengthMPa.Status));
    }

    [Theory]
    [InlineData("ASA", "ASA")]
    [InlineData("black nylon", "PA")]
    [InlineData("PLA+", "PLA")]
    [InlineData("petg (grey)", "PETG")]
    [InlineData("PA6", "PA")]
    [InlineData("PA6-GF", "PA")]
    [InlineData("tough resin", "resin")]
    public void A_material_is_found_in_the_words_of_a_job(string words, string name) => Assert.Equal(name, Table.Print(words, [])!.Name);

    [Theory]
    [InlineData("TPU")]
    [InlineData("something PLAin")]
    [InlineData("POM")]
    public void What_is_not_known_is_not_guessed(string words) => Assert.Null(Table.Print(words, []));

    [Fact]
    public void Moulded_nylon_is_not_the_printed_one() => Assert.Equal(("PA6", null, "POM"), (Table.Mould("PA6")!.Name, Table.Mould("PA")?.Name, Table.Mould("white acetal")!.Name));

    [Fact]
    public void A_bar_of_ones_own_replaces_the_strength_that_it_tests_and_what_follows_from_it()
    {
        PrintMaterial table = Table.Print("PETG", [])!, own = Table.Print("PETG", [Bars(BarLay.Standing, 0, 0, 600, 640, 560)])!;
        Assert.Equal(15, own.Strengths.TensionAcross.Value, 12);
        Assert.Equal(Status.Measured, own.Strengths.TensionAcross.Status);
        Assert.Equal("3 test bars of your own", own.Strengths.TensionAcross.Source);
        Assert.Equal(table.Strengths.ShearAcross.Value * 15 / 20, own.Strengths.ShearAcross.Value, 12);
        Assert.Equal(Status.Assumed, own.Strengths.ShearAcross.Status);
        Assert.Equal(table.Strengths.TensionInLayer, own.Strengths.TensionInLayer);
    }

    [Fact]
    public void Bars_of_another_material_say_nothing() =>
        Assert.Equal(Status.Memory, Table.Print("PETG", [Bars(BarLay.Standing, 0, 0, 600) with { Material = "PLA" }])!.Strengths.TensionAcross.Status);

    /// <summary>By hand: 15 ± 1 MPa of three bars is a standard deviation of 1, times √(1 + 1/3), times t₀.₉₅(2)/1.96 = 4.3027/1.95996; half of 4 % of area and of 5 % of the least force.</summary>
    [Fact]
    public void The_spread_of_bars_has_their_number_force_and_cross_section()
    {
        Sourced strength = Table.Print("PETG", [Bars(BarLay.Standing, 1.6, 28, 600, 640, 560)])!.Strengths.TensionAcross;
        double bars = 1 / 15.0 * Math.Sqrt(4 / 3.0) * 4.302653 / 1.959964;
        Assert.Equal(Math.Sqrt(bars * bars + 0.02 * 0.02 + 0.025 * 0.025), strength.Spread, 1e-6);
        Assert.Equal(0.10, Table.Print("PETG", [Bars(BarLay.Standing, 0, 0, 600)])!.Strengths.TensionAcross.Spread, 1e-12);
    }

    [Fact]
    public void Every_factor_stands_in_a_line_of_its_own_and_the_allowed_strength_is_their_product()
    {
        Allowables allowed = Allowables.Of(Table.Print("PLA", [])!, HowOften.Many, HowLong.Seconds, new Surroundings(true, true, 45));
        Assert.Equal(["how often: many", "heat: 45 °C, and PLA softens at 60 °C", "sun", "wet"], allowed.TensionAcross.Factors.Select(f => f.Name));
        Assert.Equal([0.15, 0.5, 0.5, 1], allowed.TensionAcross.Factors.Select(f => f.Factor));
        Assert.Equal(22.8 * 0.15 * 0.5 * 0.5 * 1 / 3, allowed.Strength.TensionAcross, 12);
    }

    [Theory]
    [InlineData(HowOften.Once, HowLong.Seconds, 0.5)]
    [InlineData(HowOften.Once, HowLong.Hours, 0.4)]
    [InlineData(HowOften.NowAndThen, HowLong.Seconds, 0.4)]
    [InlineData(HowOften.Many, HowLong.Months, 0.15)]
    [InlineData(HowOften.NowAndThen, HowLong.Months, 0.2)]
    [InlineData(HowOften.Always, HowLong.Years, 0.15)]
    public void Of_how_often_and_how_long_the_smaller_counts(HowOften often, HowLong @long, double factor) =>
        Assert.Equal(factor, Assert.Single(Allowables.Of(Table.Print("ABS", [])!, often, @long, null).TensionInLayer.Factors).Factor);

    [Fact]
    public void A_measured_strength_is_divided_by_less()
    {
        Allowables allowed = Allowables.Of(Table.Print("PETG", [Bars(BarLay.Standing, 0, 0, 600, 640, 560)])!, HowOften.Once, HowLong.Seconds, null);
        Assert.Equal((1.5, 3, 3), (allowed.TensionAcross.Safety.Factor, allowed.TensionInLayer.Safety.Factor, allowed.ShearAcross.Safety.Factor));
        Assert.Equal(15 * 0.5 / 1.5, allowed.Strength.TensionAcross, 12);
    }

    [Fact]
    public void Heat_that_makes_it_soft_is_told_apart_from_heat_that_weakens()
    {
        Habits pla = Table.Print("PLA", [])!.Habits;
        Assert.False(KnockDowns.GoesSoft(pla, new Surroundings(false, false, 59)));
        Assert.True(KnockDowns.GoesSoft(pla, new Surroundings(false, false, 60)));
        Assert.False(KnockDowns.GoesSoft(pla, null));
        Assert.Empty(KnockDowns.Of("PLA", pla, HowOften.Once, HowLong.Seconds, new Surroundings(false, false, 35)).Skip(1));
    }

    [Fact]
    public void A_margin_has_the_error_of_stress_and_strength()
    {
        Allowables allowed = Allowables.Of(Table.Print("PLA", [])!, HowOften.Once, HowLong.Seconds, null);
        double allowedAcross = 22.8 * 0.5 / 3;
        Margin margin = Margin.Of(new Stress(0, 0, allowedAcross / 2, 0, 0, 0), allowed, 0.15);
        Assert.Equal(2, margin.Value, 12);
        Assert.Equal(2 * Math.Sqrt(0.15 * 0.15 + 0.2 * 0.2), margin.PlusMinus, 12);
        Assert.Equal((2, FailureMode.LayersPulledApart, true), (margin.TsaiWu, margin.Mode, margin.HoldsWithItsError));
        Assert.Equal(2, margin.Hoffman, 1e-9);
        Assert.False(Margin.Of(new Stress(0, 0, allowedAcross / 1.2, 0, 0, 0), allowed, 0.15).HoldsWithItsError);
    }
}
