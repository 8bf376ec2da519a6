using Sparewright.Fit.Drawn;
using Xunit;

namespace Sparewright.Outside.Fit;

public sealed class PressFitTests
{
    /// <summary>Lamé, rigid pin of 8 mm in a hub of 16 mm, interference 0.1 mm, E = 2000 MPa, ν = 0.35: p = 12.4 MPa, hoop 20.7 MPa, strain about 1.25 % (computed for our process notes, 3.3).</summary>
    [Fact]
    public void The_notes_example()
    {
        PressFit press = PressFit.Of(new(8, 16, new("notes", 2000, 0.35, 30, 0.25)), 0.1);
        Assert.Equal(12.4, press.PressureMPa, 0.05);
        Assert.Equal(20.7, press.HoopMPa, 0.05);
        Assert.Equal(0.0125, press.StrainShare, 1e-12);
        Assert.True(press.IsRefused);
    }

    /// <summary>A solid plug in a rigid hole is compressed alike from all sides: its strain is (1 − ν) p/E (Hooke), so that p = δ E/(D (1 − ν)); a tube of thin wall bears the hoop stress p D/(2 t) (boiler formula, from memory).</summary>
    [Fact]
    public void A_plug_in_a_rigid_hole()
    {
        PressMaterial notes = new("notes", 2000, 0.35, 30, 0.25);
        PressFit solid = PressFit.OfPlug(new(0, 8, notes), 0.1);
        Assert.Equal(0.1 * 2000 / (8 * 0.65), solid.PressureMPa, 1e-9);
        Assert.Equal(solid.PressureMPa, solid.HoopMPa);
        PressFit tube = PressFit.OfPlug(new(39.6, 40, notes), 0.1);
        Assert.Equal(1, tube.HoopMPa / (tube.PressureMPa * 40 / (2 * 0.2)), 0.02);
        // Its hoop strain is the interference over the diameter.
        Assert.Equal(2000 * 0.1 / 40, tube.HoopMPa, 0.1);
        Assert.True(solid.IsRefused);
        Assert.StartsWith("being pressed in by 0.10 mm strains notes to 38.5 MPa; held for long it bears 7.5 MPa", solid.Words, StringComparison.Ordinal);
    }
}
