using Sparewright.Solid;
using Sparewright.Strength.Grid;
using Sparewright.Strength.Held;
using Sparewright.Strength.Solve;
using Xunit;

namespace Sparewright.Strength.Tests.Held;

public sealed class RigidMovementTests
{
    private static VoxelGrid Bar { get; } = VoxelGrid.OfShares(10, 4, 4, 1, (_, _, _) => 1);

    [Fact]
    public void A_part_that_nothing_holds_is_free_in_six_ways()
    {
        FreePiece piece = Assert.Single(RigidMovement.Of(new Loading(Bar)));
        Assert.Equal(3, piece.Movements.Count(m => m.IsTurn));
        Assert.Equal(["free to shift along x", "free to shift along y", "free to shift along z"], piece.Movements.Where(m => !m.IsTurn).Select(m => m.InWords).Order());
    }

    [Fact]
    public void A_part_held_at_a_face_is_held()
    {
        var loading = new Loading(Bar);
        for (int k = 0; k <= 4; k++)
            for (int j = 0; j <= 4; j++) loading.Fix(Bar.Corner(0, j, k));
        Assert.Empty(RigidMovement.Of(loading));
    }

    [Fact]
    public void A_part_held_along_one_line_turns_about_it()
    {
        var loading = new Loading(Bar);
        for (int k = 0; k <= 4; k++) loading.Fix(Bar.Corner(2, 3, k));
        FreePiece piece = Assert.Single(RigidMovement.Of(loading));
        FreeMovement turn = Assert.Single(piece.Movements);
        Assert.True(turn.IsTurn);
        Assert.Equal(2, turn.Through.X, 1e-6);
        Assert.Equal(3, turn.Through.Y, 1e-6);
        Assert.StartsWith("free to turn about an axis along z through (2, 3, ", turn.InWords, StringComparison.Ordinal);
    }

    [Fact]
    public void A_part_that_rests_on_a_face_slides_and_turns_on_it()
    {
        var loading = new Loading(Bar);
        for (int j = 0; j <= 4; j++)
            for (int i = 0; i <= 10; i++) loading.Spring(Bar.Corner(i, j, 0), new(0, 0, 1), 100);
        FreePiece piece = Assert.Single(RigidMovement.Of(loading));
        Assert.Equal(["free to shift along x", "free to shift along y"], piece.Movements.Where(m => !m.IsTurn).Select(m => m.InWords).Order());
        Assert.Contains("about an axis along z", Assert.Single(piece.Movements, m => m.IsTurn).InWords, StringComparison.Ordinal);
    }

    [Fact]
    public void A_pin_in_a_round_hole_leaves_the_turn_and_the_shift_along_it()
    {
        Mesh mesh = Shapes.Moved(Shapes.Ring(3, 6, 5, 48), p => p + new Point3(20, 10, 0));
        VoxelGrid grid = VoxelGrid.Over(mesh, GridFrame.Job, 0.5, TestContext.Current.CancellationToken);
        var loading = new Loading(grid);
        // The mesh has flat sides; the bore is round.
        Surfaces.Hold(loading, mesh, t => mesh.FaceOfTriangle[t] == Shapes.Right, (at, _) => [(at - new Point3(20, 10, at.Z)) * (1 / (at - new Point3(20, 10, at.Z)).Length)], LayeredStiffness.Isotropic(2000, 0.35));
        FreePiece piece = Assert.Single(RigidMovement.Of(loading));
        Assert.Equal(["free to shift along z", "free to turn about an axis along z through (20, 10, 2.5)"], piece.Movements.Select(m => m.InWords));
    }

    [Fact]
    public void Each_loose_piece_is_told_of()
    {
        VoxelGrid two = VoxelGrid.OfShares(5, 2, 2, 1, (i, _, _) => i == 2 ? 0 : 1);
        var loading = new Loading(two);
        for (int k = 0; k <= 2; k++)
            for (int j = 0; j <= 2; j++) loading.Fix(two.Corner(0, j, k));
        FreePiece loose = Assert.Single(RigidMovement.Of(loading));
        Assert.Equal(6, loose.Movements.Count);
        Assert.Equal(8, loose.VolumeMm3, 1e-9);
        Assert.Equal(4, loose.Centre.X, 1e-9);
    }

    [Fact]
    public void Axes_are_told_in_the_axes_of_the_job()
    {
        VoxelGrid grid = VoxelGrid.OfShares(4, 4, 4, 1, (_, _, _) => 1, GridFrame.WithUp(new(1, 0, 0)));
        var loading = new Loading(grid);
        for (int k = 0; k <= 4; k++) loading.Fix(grid.Corner(1, 1, k));
        Assert.Contains("along x", Assert.Single(Assert.Single(RigidMovement.Of(loading)).Movements).InWords, StringComparison.Ordinal);
    }
}
