using Sparewright.Strength.Grid;
using Sparewright.Strength.Solve;
using Xunit;

namespace Sparewright.Strength.Tests.Solve;

public sealed class SlitsTests
{
    /// <summary>A block cut by a slit of one cell, or of two that begin at an odd place, is closed by cells twice as long; one of two that begin at an even place is not.</summary>
    [Theory]
    [InlineData(9, 1, true)]
    [InlineData(10, 1, true)]
    [InlineData(9, 2, true)]
    [InlineData(10, 2, false)]
    [InlineData(9, 3, false)]
    public void Narrow_slits_close(int from, int width, bool closes)
    {
        BrickRows rows = BrickRows.Of(VoxelGrid.OfShares(20, 8, 8, 1, (i, _, _) => i >= from && i < from + width ? 0 : 1));
        Assert.Equal(closes, Slits.ClosedByCoarser(rows) > 0);
    }

    [Fact]
    public void A_shape_without_slits_has_none() =>
        Assert.Equal(0, Slits.ClosedByCoarser(BrickRows.Of(VoxelGrid.OfShares(30, 30, 6, 1, (i, j, _) => (i - 15) * (i - 15) + (j - 15) * (j - 15) is > 64 and < 200 ? 1 : 0))));
}
