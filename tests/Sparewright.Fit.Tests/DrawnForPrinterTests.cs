using Sparewright.Fit.Capability;
using Sparewright.Fit.Counterparts;
using Sparewright.Fit.Drawn;
using Sparewright.Part.Elements;
using Sparewright.Part.Record;
using Sparewright.Part.Shape;
using Sparewright.Reconcile.Findings;
using Xunit;

namespace Sparewright.Fit.Tests;

/// <summary>What is drawn otherwise for the printer besides the sizes that fits decide.</summary>
public sealed class DrawnForPrinterTests
{
    private static readonly Job Example = Jobs.Example("vent-knuckle");
    private static readonly Reconciled Old = Jobs.Reconciled(Example);

    private static JobFits Fits(params TrialEvidence[] shown)
    {
        ProcessCapability process = ProcessCapability.Assumed(JobProcess.Of(Example.Print)).With(shown);
        Assert.True(JobFits.TryFind(Example, Old, process, out JobFits? fits, out _));
        return fits;
    }

    private static MeasuredTrial[] Measured(SurfaceKind kind, Func<double, double> error) => [.. from d in (double[])[4, 8, 20, 40, 80] from n in (double[])[-0.01, 0.01] select new MeasuredTrial(kind, d, Cases.Day, d + error(d) + n, 0.01)];

    [Fact]
    public void What_is_only_assumed_of_a_printer_changes_no_size_that_fits_do_not_decide()
    {
        var others = OtherSizes.Of(Example, Old, Fits());
        Assert.Empty(others.Changes);
        Assert.Empty(OtherSizes.Of(Example, Old, Fits(Measured(SurfaceKind.Slot, _ => -0.1))).Changes);
    }

    [Fact]
    public void Outsides_that_were_read_are_brought_back_to_what_they_measured()
    {
        JobFits fits = Fits(Measured(SurfaceKind.Outside, _ => 0.12));
        var others = OtherSizes.Of(Example, Old, fits);
        Assert.Contains("socket_od", others.Changes.Select(c => c.Size));
        Assert.Equal(-0.12, others.Changes.Single(c => c.Size == "socket_od").ByMm, 0.011);
        Assert.DoesNotContain(others.Changes, c => fits.DrawnMm.ContainsKey(c.Size));
        // Heights were not measured on this printer.
        Assert.DoesNotContain(others.Changes, c => c.Size is "socket_len" or "seat");
        // Only the words tell a person why.
        Assert.Contains("outside of this size comes out 0.12 mm larger", ChangeWords.Of(fits.Case.Process, others, "socket_od"), StringComparison.Ordinal);
        Assert.All(others.Surfaces, s => Assert.Equal(SurfaceKind.Outside, s.Kind));
    }

    [Fact]
    public void Lengths_in_the_plane_are_drawn_larger_by_what_was_seen_to_shrink_and_heights_are_not()
    {
        var others = OtherSizes.Of(Example, Old, Fits(Measured(SurfaceKind.CentreDistance, d => -0.005 * d)));
        double reach = Old.Shape.Sizes["lug_reach"].Value;
        Assert.Equal(reach * 0.005, others.Changes.Single(c => c.Size == "lug_reach").ByMm, 0.03);
        Assert.DoesNotContain(others.Scaled, c => c.Size is "socket_len" or "seat" or "foot_t" or "lug_w");
        Assert.Contains("shorter", ChangeWords.Of(Fits().Case.Process, others, "lug_reach"), StringComparison.Ordinal);
    }

    [Fact]
    public void Holes_that_open_on_the_bed_are_bevelled_there_and_no_others()
    {
        IReadOnlyList<RelievedEdge> edges = BedRelief.Of(Old.Shape, Direction.Up, Fits());
        Assert.Equal([("foot.bottom", "screw_hole#1.wall"), ("foot.bottom", "screw_hole#2.wall")], edges.Select(e => (e.Bed, e.Wall)).Order());
        Assert.All(edges, e => Assert.InRange(e.Relief.LegMm, 0.3, 0.5));
        PlacedShape relieved = BedRelief.Relieved(Old.Shape, edges);
        Assert.Equal(Old.Shape.Features.Count + 2, relieved.Features.Count);
        // Lying on its side the part shows the bed other faces.
        Assert.DoesNotContain(BedRelief.Of(Old.Shape, Direction.Back, Fits()), e => e.Wall.StartsWith("screw_hole", StringComparison.Ordinal));
        // A printer that is known not to flare needs none.
        Assert.True(JobFits.TryFind(Example, Old, Cases.Sure(0.01, _ => 0), out JobFits? sure, out _));
        Assert.Empty(BedRelief.Of(Old.Shape, Direction.Up, sure));
    }
}
