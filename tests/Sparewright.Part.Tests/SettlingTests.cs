using Sparewright.Part.Sizes;
using Xunit;

namespace Sparewright.Part.Tests;

/// <summary>A nominal settled, ruled out and open again in a job's text, of which nothing else changes.</summary>
public class SettlingTests
{
    private const string Text = """
        sparewright: 1
        part: Spacer          # of the old hinge
        could_injure: no
        sizes:
          od:     {about: 20}   # over the paint
          bore_d: {likely: {value: 6, plus_minus: 0.3}}
          tall:
          rim:    {equals: od/2}
          slot_w: {fixed: 3}
          tilt:   {about: 30 deg}
        shape:
          - boss: ring
            diameter: od
            height: tall
          - hole: bore
            axis: up
            at: [0, 0, 0]
            diameter: bore_d
            through: whole part
        """;

    private static Size Size(string? text, string name) => JobFile.Read(text!).Job!.Sizes.All.First(s => s.Name == name);

    [Theory]
    [InlineData("od", "20", "  od:     {about: 20, nominal: 20}   # over the paint")]
    [InlineData("od", "25/32 in", "  od:     {about: 20, nominal: 25/32 in}   # over the paint")]
    [InlineData("bore_d", "6", "  bore_d: {likely: {value: 6, plus_minus: 0.3}, nominal: 6}")]
    [InlineData("tall", "8", "  tall: {nominal: 8}")]
    [InlineData("tall", "od", "  tall: {nominal: od}")]
    [InlineData("tilt", "30 deg", "  tilt:   {about: 30 deg, nominal: 30 deg}")]
    public void Settling_changes_one_line_and_reopening_puts_it_back(string size, string meant, string line)
    {
        string settled = Settling.Settle(Text, size, meant).Text!;
        Assert.Equal([line], settled.Split('\n').Except(Text.Split('\n')));
        Assert.DoesNotContain(JobFile.Read(settled).Job!.Sizes.Free, s => s.Name == size);
        Assert.Equal(Size(Text, size).Given, Size(settled, size).Otherwise);
        string reopened = Settling.Reopen(settled, size).Text!;
        Assert.Equal(Size(Text, size).Given, Size(reopened, size).Given);
        Assert.Null(Size(reopened, size).Nominal);
        if (size != "tall") Assert.Equal(Text, reopened);
    }

    [Fact]
    public void A_settled_size_has_its_nominal()
    {
        Assert.Equal(25.0 / 32 * 25.4, Assert.IsType<Given.Fixed>(Size(Settling.Settle(Text, "od", "25/32 in").Text, "od").Given).Value, 1e-12);
        Size same = Size(Settling.Settle(Text, "tall", "od").Text, "tall");
        Assert.Equal(new Meant.SameAs("od"), same.Nominal);
        Assert.Equal(["od"], Assert.IsType<Given.EqualTo>(same.Given).Expression.Names());
    }

    [Fact]
    public void What_is_ruled_out_is_remembered_once_and_unbinds()
    {
        string settled = Settling.Settle(Text, "od", "20").Text!;
        string not = Settling.RuleOut(settled, "od", "20").Text!;
        Assert.Null(Size(not, "od").Nominal);
        Assert.Equal([new Meant.Value(20)], Size(not, "od").NotMeant);
        Assert.Equal(not, Settling.RuleOut(not, "od", "20.0").Text);
        string two = Settling.RuleOut(not, "od", "tall").Text!;
        Assert.Equal([new Meant.Value(20), new Meant.SameAs("tall")], Size(two, "od").NotMeant);
        Assert.Contains("od:     {about: 20, not_nominal: [20, tall]}   # over the paint", two, StringComparison.Ordinal);
        Assert.Equal(Text, Settling.Reopen(two, "od").Text);
    }

    [Fact]
    public void What_is_settled_after_all_is_no_longer_ruled_out()
    {
        string two = Settling.RuleOut(Settling.RuleOut(Text, "od", "20").Text!, "od", "20.5").Text!;
        Size now = Size(Settling.Settle(two, "od", "20").Text, "od");
        Assert.Equal(new Meant.Value(20), now.Nominal);
        Assert.Equal([new Meant.Value(20.5)], now.NotMeant);
    }

    [Theory]
    [InlineData("odd", "20", "did you mean `od`?")]
    [InlineData("slot_w", "3", "change what is said of it in the job")]
    [InlineData("rim", "10", "change what is said of it in the job")]
    [InlineData("od", "rim", "")]
    [InlineData("od", "od", "")]
    [InlineData("od", "wide", "")]
    [InlineData("od", "20 kg", "")]
    [InlineData("tilt", "od", "")]
    public void What_means_nothing_is_refused(string size, string meant, string remedy)
    {
        Problem problem = Settling.Settle(Text, size, meant).Problem!;
        if (remedy.Length > 0) Assert.Equal(remedy, problem.Remedy);
    }

    [Theory]
    [InlineData("od:     {about: 20}", "od:     {fixed: 20, nominal: 20}")]
    [InlineData("rim:    {equals: od/2}", "rim:    {equals: od/2, nominal: 10}")]
    [InlineData("od:     {about: 20}", "od:     {nominal: [20]}")]
    [InlineData("od:     {about: 20}", "od:     {not_nominal: 20}")]
    [InlineData("od:     {about: 20}", "od:     {nominal: Od}")]
    public void A_nominal_that_cannot_be_is_a_problem(string good, string bad)
    {
        Assert.Contains(good, Text, StringComparison.Ordinal);
        Assert.NotEmpty(JobFile.Read(Text.Replace(good, bad, StringComparison.Ordinal)).Problems);
    }
}
