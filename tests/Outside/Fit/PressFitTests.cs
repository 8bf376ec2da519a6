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
}
