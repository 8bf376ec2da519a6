using CsCheck;
using Sparewright.Web.Readings;
using Xunit;

namespace Sparewright.Web.Tests.Readings;

/// <summary>Where the keyboard goes, by the ARIA grid pattern.</summary>
public class GridPlaceTests
{
    private static readonly string[] Keys = ["ArrowUp", "ArrowDown", "ArrowLeft", "ArrowRight", "Home", "End", "PageUp", "PageDown"];

    [Theory]
    [InlineData("ArrowDown", false, 6, LedgerColumn.Repeats)]
    [InlineData("ArrowUp", false, 4, LedgerColumn.Repeats)]
    [InlineData("ArrowLeft", false, 5, LedgerColumn.What)]
    [InlineData("ArrowRight", false, 5, LedgerColumn.Entry)]
    [InlineData("Home", false, 5, LedgerColumn.Id)]
    [InlineData("End", false, 5, LedgerColumn.Verdict)]
    [InlineData("Home", true, 0, LedgerColumn.Id)]
    [InlineData("End", true, 25, LedgerColumn.Verdict)]
    [InlineData("PageDown", false, 15, LedgerColumn.Repeats)]
    [InlineData("PageUp", false, 0, LedgerColumn.Repeats)]
    [InlineData("Enter", false, 5, LedgerColumn.Repeats)]
    public void From_the_repeats_of_the_sixth_of_26(string key, bool ctrl, int row, LedgerColumn column) =>
        Assert.Equal(new GridPlace(row, column), new GridPlace(5, LedgerColumn.Repeats).After(key, ctrl, 26));

    [Fact]
    public void No_walk_leaves_the_grid() => Gen.Select(Gen.Int[1, 60], Gen.Select(Gen.Int[0, Keys.Length - 1], Gen.Bool).Array[0, 40]).Sample((rows, walk) =>
    {
        var place = new GridPlace(0, LedgerColumn.Entry);
        foreach (var (key, ctrl) in walk) place = place.After(Keys[key], ctrl, rows);
        return place.Row >= 0 && place.Row < rows && Enum.IsDefined(place.Column);
    });

    [Fact]
    public void An_entry_goes_on_to_the_next_reading_that_takes_values()
    {
        bool[] takes = [true, true, false, true, false];
        Assert.Equal(new GridPlace(1, LedgerColumn.Entry), new GridPlace(0, LedgerColumn.Entry).AfterEntry(takes));
        Assert.Equal(new GridPlace(3, LedgerColumn.Entry), new GridPlace(1, LedgerColumn.Entry).AfterEntry(takes));
        Assert.Equal(new GridPlace(3, LedgerColumn.Entry), new GridPlace(3, LedgerColumn.Entry).AfterEntry(takes));
    }
}

public class RowKeysTests
{
    private static RowKeys After(params string[][] texts)
    {
        var keys = new RowKeys();
        foreach (string[] t in texts) keys.Follow(t);
        return keys;
    }

    [Fact]
    public void A_changed_row_stays_the_same_row() => Assert.Equal(After(["a", "b", "c"]).Keys, After(["a", "b", "c"], ["a", "B", "c"]).Keys);

    [Fact]
    public void Rows_below_a_removed_one_keep_their_keys()
    {
        IReadOnlyList<int> before = After(["a", "b", "c", "d"]).Keys, after = After(["a", "b", "c", "d"], ["a", "c", "d"]).Keys;
        Assert.Equal([before[0], before[2], before[3]], after);
    }

    [Fact]
    public void Rows_around_a_new_one_keep_their_keys()
    {
        IReadOnlyList<int> before = After(["a", "b"]).Keys, after = After(["a", "b"], ["a", "x", "b"]).Keys;
        Assert.Equal((before[0], before[1]), (after[0], after[2]));
        Assert.DoesNotContain(after[1], before);
    }

    [Fact]
    public void Keys_are_never_given_twice() => Gen.Char["abc"].Array[0, 8].Select(c => c.Select(x => x.ToString()).ToArray()).Array[1, 8].Sample(steps =>
    {
        IReadOnlyList<int> keys = After(steps).Keys;
        return keys.Count == steps[^1].Length && keys.Distinct().Count() == keys.Count;
    });
}
