using Sparewright.Fit;
using Sparewright.Fit.Capability;
using Xunit;

namespace Sparewright.Outside.Fit;

/// <summary>How a process compares with a window.</summary>
public sealed class CapabilityIndicesTests
{
    /// <summary>
    /// NIST/SEMATECH e-Handbook of Statistical Methods, 6.1.6: limits 8 and 20, mean 16, standard deviation 2 give C_p = 1.0, C_pu = 0.6667, C_pl = 1.3333, C_pk = 0.6667 (from memory; recomputed).
    /// </summary>
    [Fact]
    public void The_handbooks_example()
    {
        var indices = CapabilityIndices.Of(new NormalLength(16, 2), 8, 20);
        Assert.Equal(1.0, indices.Cp, 1e-12);
        Assert.Equal(0.6667, indices.Cpk, 5e-5);
        Assert.Equal(0.6667, CapabilityIndices.Of(new NormalLength(16, 2), double.NegativeInfinity, 20).Cpk, 5e-5);
        Assert.Equal(1.3333, CapabilityIndices.Of(new NormalLength(16, 2), 8, double.PositiveInfinity).Cpk, 5e-5);
    }

    /// <summary>Off centre by 1.5 s at C_p = 2: 3.4 parts per million outside, C_pk = 1.5 (the rule by which six-sigma programs are known; from memory; recomputed).</summary>
    [Fact]
    public void Parts_per_million_off_centre()
    {
        var process = new NormalLength(1.5, 1);
        Assert.Equal((2.0, 1.5), (CapabilityIndices.Of(process, -6, 6).Cp, CapabilityIndices.Of(process, -6, 6).Cpk));
        Assert.Equal(3.4e-6, 1 - process.Between(-6, 6), 5e-8);
    }
}
