using CsCheck;
using Sparewright.Solid;
using Sparewright.Strength.Formulas;
using Xunit;

namespace Sparewright.Strength.Tests.Formulas;

/// <summary>Twisting by formula, and the sections that have one as they are found on a mesh.</summary>
public class TwistTests
{
    private static readonly SectionModuli Alike = new(850, 850, 2300);

    /// <summary>Timoshenko and Goodier, Theory of Elasticity, chapter 10, table of rectangular bars (from memory): long over short side, M/(τ b c²), J/(b c³).</summary>
    [Theory]
    [InlineData(1, 0.208, 0.1406)]
    [InlineData(1.2, 0.219, 0.166)]
    [InlineData(1.5, 0.231, 0.196)]
    [InlineData(2, 0.246, 0.229)]
    [InlineData(2.5, 0.258, 0.249)]
    [InlineData(3, 0.267, 0.263)]
    [InlineData(4, 0.282, 0.281)]
    [InlineData(5, 0.291, 0.291)]
    [InlineData(10, 0.312, 0.312)]
    public void A_rectangle_is_twisted_as_the_table_says(double ratio, double stress, double stiffness)
    {
        var bar = new TwistedRectangle(3 * ratio, 3);
        Assert.Equal(stress, 1 / (bar.OnLongSideMPa(1) * 27 * ratio), 0.0006);
        Assert.Equal(stiffness, bar.StiffnessMm4 / (81 * ratio), 0.0006);
    }

    /// <summary>Roark's Formulas for Stress and Strain, chapter 10, rectangular section of half sides a and b (from memory): τ = 3M/8ab² (1 + 0.6095 b/a + 0.8865 (b/a)² − 1.8023 (b/a)³ + 0.9100 (b/a)⁴).</summary>
    [Fact]
    public void It_is_twisted_as_the_other_handbooks_fit_says() => Gen.Double[0.05, 1].Sample(x =>
    {
        double fit = 3.0 / 8 / (x * x) * (1 + x * (0.6095 + x * (0.8865 + x * (-1.8023 + x * 0.9100))));
        Assert.Equal(fit, new TwistedRectangle(2, 2 * x).OnLongSideMPa(1), 0.005 * fit);
    });

    [Fact]
    public void A_square_is_alike_on_all_sides_and_turned_by_a_quarter_it_is_the_same() => Gen.Select(Gen.Double[1, 20], Gen.Double[1, 20]).Sample((wide, high) =>
    {
        Assert.Equal(new TwistedRectangle(wide, wide).OnLongSideMPa(1), new TwistedRectangle(wide, wide).OnShortSideMPa(1), 1e-6 * new TwistedRectangle(wide, wide).OnLongSideMPa(1));
        double side = new TwistedRectangle(wide, high).OnWideSideMPa(1);
        Assert.Equal(side, new TwistedRectangle(high, wide).OnHighSideMPa(1), 1e-6 * side);
    });

    /// <summary>Half of a layered bar's twist is borne by each pair of sides, as of any: what turns about the axis is 2∫φ, and both halves of it are alike.</summary>
    [Fact]
    public void Layers_that_slide_easily_put_the_stress_where_they_do_not()
    {
        var (alike, wide, high) = TwistedRectangle.Layered(10, 10, 900, 600);
        double onWide = alike.OnWideSideMPa(1) * wide, onHigh = alike.OnHighSideMPa(1) * high, plain = new TwistedRectangle(10, 10).OnLongSideMPa(1);
        Assert.True(onWide > plain && onHigh < plain);
        var (same, one, other) = TwistedRectangle.Layered(10, 6, 700, 700);
        Assert.Equal((10, 6, 1, 1), (same.WideMm, same.HighMm, one, other));
    }

    /// <summary>Exact for a tube: 16 M D/π(D⁴ − d⁴). Bredt's wall comes near it the sooner the thinner it is; a slit one is weaker by some 3 r/t.</summary>
    [Fact]
    public void Thin_walls_come_near_the_tube() => Gen.Select(Gen.Double[5, 30], Gen.Double[0.01, 0.12]).Sample((radius, share) =>
    {
        double thick = share * radius, exact = new TwistedTube(2 * radius + thick, 2 * radius - thick).OutsideMPa(1);
        WallPiece[] wall = [new(2 * Math.PI * radius, thick)];
        Assert.Equal(exact, TwistedWalls.ClosedMPa(1, thick, Math.PI * radius * radius, wall), share * exact);
        Assert.Equal(3 * radius / thick, TwistedWalls.OpenMPa(1, wall[0], wall) / (1 / (2 * Math.PI * radius * radius * thick)), 1e-9 * radius / thick);
    });

    [Fact]
    public void Sections_are_told_apart()
    {
        TwistedSection round = Section(Shapes.Ring(9.5, 12.5, 30, 180))!;
        Assert.Equal("a tube", round.Kind);
        Assert.Equal(new TwistedTube(25, 19).OutsideMPa(1), round.MPaPerNmm, 2e-3 * round.MPaPerNmm);
        TwistedSection box = Section(Shapes.Box(12, 4, 30))!;
        Assert.Equal("a rectangular bar", box.Kind);
        Assert.Equal(new TwistedRectangle(12, 4).OnLongSideMPa(1), box.MPaPerNmm, 1e-9);
        Assert.All(box.Most, p => Assert.Equal(1, Math.Abs(p.Outward.Y), 1e-12));
        Assert.Null(Section(Shapes.PlateWithHole(20, 12, 30, 3, 48)));
    }

    /// <summary>
    /// A slit thin tube by its formulas: τ = 3M/2πrt² and warping of (2/3)π t r⁵ (π² − 6) (Vlasov, Thin-Walled Elastic Beams; Roark's table of thin open sections; from memory), its walls found on the mesh.
    /// </summary>
    [Fact]
    public void A_slit_tube_is_open()
    {
        const double r = 10, t = 1;
        TwistedSection slit = Section(Shapes.Ring(r - t / 2, r + t / 2, 30, 90, 0, 2 * Math.PI - 0.02))!;
        Assert.Equal("open thin walls", slit.Kind);
        double by = 3 / (2 * Math.PI * r * t * t);
        Assert.Equal(by, slit.MPaPerNmm, 0.02 * by);
        double warping = 2.0 / 3 * Math.PI * t * Math.Pow(r, 5) * (Math.PI * Math.PI - 6), stiffness = 850 * 2 * Math.PI * r * t * t * t / 3;
        Assert.Equal(Math.Sqrt(2300 * warping / stiffness), slit.WarpingMm, 0.03 * slit.WarpingMm);
    }

    /// <summary>An angle of 16 × 16 × 2: M t/Σ(l t³/3) with 30 mm of middle line; its walls meet in one point, so it hardly warps.</summary>
    [Fact]
    public void An_angle_is_open_and_hardly_warps()
    {
        TwistedSection angle = Section(Shapes.Strip([(16, 0), (0, 0), (0, 16)], [(16, 2), (2, 2), (2, 16)], closed: false, 0, 30))!;
        Assert.Equal("open thin walls", angle.Kind);
        Assert.Equal(2 / (30 * 8 / 3.0), angle.MPaPerNmm, 1e-9);
        Assert.InRange(angle.WarpingMm, 0, 16);
    }

    /// <summary>A square box of wall 1 and middle line 14: Bredt 1/(2 · 14² · 1) MPa for each N·mm, and what turns over in the wall, t/J with J = 14³.</summary>
    [Fact]
    public void A_box_is_closed()
    {
        Mesh box = Shapes.Strip([(0, 0), (15, 0), (15, 15), (0, 15)], [(1, 1), (14, 1), (14, 14), (1, 14)], closed: true, 0, 30);
        TwistedSection closed = Section(box)!;
        Assert.Equal("closed thin walls", closed.Kind);
        Assert.Equal(1 / 392.0 + 1 / 2744.0, closed.MPaPerNmm, 0.03 * closed.MPaPerNmm);
        Assert.Equal(0, closed.WarpingMm);
    }

    private static TwistedSection? Section(Mesh mesh) => TwistedSection.Of(CrossSection.Of(mesh, 2, 14.3)!, Alike);
}
