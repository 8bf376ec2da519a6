using CsCheck;
using Sparewright.Reconcile.Readings;
using Sparewright.Remake.Outputs;
using Sparewright.Solid;
using Xunit;

namespace Sparewright.Remake.Tests;

public class RemadeRecordTests
{
    private static readonly RemadeRecord Whole = new("input", new SolidFacts(1.5, 2.5, new(1, 2, 3), new(-1, -2, -3), new(4, 5, 6), 7, 8, 1.49, 0.01,
        [new Remeasured("r1", 1, 1.1, 1.1, null), new Remeasured("r2", 2, 2.1, null, "no face bears that name"), new Remeasured("r3", 3, null, null, "x")]), [new RecordedFile("a.stl", "in", "hash")])
    {
        Volume = new("weighed", new PartVolume([1, 0.1], 14572.9, [3, -4.5])),
    };

    [Fact]
    public void It_comes_back_as_it_was()
    {
        RemadeRecord back = RemadeRecord.From(Whole.ToBytes());
        Assert.Equal(Whole.SolidInput, back.SolidInput);
        Assert.Equal(Whole.Files, back.Files);
        Assert.Equal("weighed", back.Volume!.Input);
        Assert.Equal(Whole.Volume!.Volume with { At = [], BySize = [] }, back.Volume.Volume with { At = [], BySize = [] });
        Assert.Equal([1, 0.1], back.Volume.Volume.At);
        Assert.Equal([3, -4.5], back.Volume.Volume.BySize);
        Assert.Null(RemadeRecord.From((Whole with { Volume = null }).ToBytes()).Volume);
        Assert.Equal(Whole.Facts!.Remeasured, back.Facts!.Remeasured);
        Assert.Equal(Whole.Facts with { Remeasured = [] }, back.Facts with { Remeasured = [] });
    }

    [Fact]
    public void A_record_that_cannot_be_read_is_none()
    {
        byte[] good = Whole.ToBytes();
        Assert.Same(RemadeRecord.None, RemadeRecord.From(null));
        Assert.Same(RemadeRecord.None, RemadeRecord.From("[]"u8.ToArray()));
        Assert.Same(RemadeRecord.None, RemadeRecord.From("{\"version\": 2}"u8.ToArray()));
        // Any byte changed: another record or none, never a fault.
        Gen.Select(Gen.Int[0, good.Length - 1], Gen.Byte).Sample((at, value) =>
        {
            byte[] bad = [.. good];
            bad[at] = value;
            RemadeRecord.From(bad);
        }, iter: 2000);
    }

    [Fact]
    public void Where_one_input_ends_makes_a_difference()
    {
        Assert.NotEqual(InputHash.Of("ab", "c"), InputHash.Of("a", "bc"));
        Assert.NotEqual(InputHash.Of("a"), InputHash.Of("a", ""));
        Assert.Equal(InputHash.Of("a", "b"), InputHash.Of("a", "b"));
    }
}
