using Sparewright.Handover.Picture;
using Xunit;

namespace Sparewright.Handover.Tests;

public sealed class LetteringTests
{
    [Fact]
    public void A_missing_font_is_an_error_that_says_what_brings_it()
    {
        Assert.False(Lettering.TryLoad(["/nowhere/letters.ttf"], out _, out var problem));
        Assert.Contains("/nowhere/letters.ttf is missing", problem.What, StringComparison.Ordinal);
        Assert.Contains("fonts-osifont", problem.Remedy, StringComparison.Ordinal);
    }

    [Fact]
    public void A_file_that_is_no_font_is_an_error()
    {
        string path = Path.GetTempFileName();
        try
        {
            Assert.False(Lettering.TryLoad([path], out _, out var problem));
            Assert.Contains("holds no letters", problem.What, StringComparison.Ordinal);
        }
        finally
        {
            File.Delete(path);
        }
    }

    [Theory]
    [InlineData(2.5)]
    [InlineData(3.5)]
    [InlineData(7)]
    public void Capitals_have_the_height_asked_for(double heightMm)
    {
        using var lettering = Fonts.Load();
        using var outlines = lettering.Outlines("H", heightMm);
        Assert.Equal(heightMm, outlines.TightBounds.Height, 0.01 * heightMm);
        // Letters stand on their base line, y down.
        Assert.Equal(0, outlines.TightBounds.Bottom, 0.02 * heightMm);
    }

    [Theory]
    [InlineData("⌀")]
    [InlineData("±")]
    [InlineData("°")]
    [InlineData("ß")]
    [InlineData("☂")]
    public void A_sign_that_the_first_font_lacks_comes_from_the_second(string sign)
    {
        using var lettering = Fonts.Load();
        using var outlines = lettering.Outlines(sign, 3.5);
        Assert.False(outlines.IsEmpty);
        Assert.InRange(lettering.Width(sign, 3.5), 0.5, 8);
    }

    [Fact]
    public void Widths_add_up()
    {
        using var lettering = Fonts.Load();
        Assert.Equal(lettering.Width("⌀12.20 ☂", 3.5), "⌀12.20 ☂".Sum(c => lettering.Width(c.ToString(), 3.5)), 0.05);
    }
}
