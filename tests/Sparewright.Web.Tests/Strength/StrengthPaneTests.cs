using Bunit;
using Microsoft.Extensions.DependencyInjection;
using Sparewright.Handover.Picture;
using Sparewright.Remake.Bearing;
using Sparewright.Remake.Reports;
using Sparewright.Solid;
using Sparewright.Web.Desk;
using Sparewright.Web.Strength;
using Sparewright.Web.Tests.PartView;
using Xunit;

namespace Sparewright.Web.Tests.Strength;

/// <summary>The step Strength: computes when asked, says each number with its ±, and says when the job has moved on.</summary>
public sealed class StrengthPaneTests : IClassFixture<OpenDoor>, IDisposable
{
    private static readonly TimeSpan Longest = TimeSpan.FromMinutes(4);

    /// <summary>Quickly solved, and asked too much.</summary>
    private const string Hook = """
        sparewright: 1
        part: Hook
        made_by: printing
        could_injure: no
        lives: {sun: no, wet: no, hottest: 30 degC}
        shape:
          - {block: foot, long: 20, deep: 12, tall: 6, corner_at: [0, 0, 0]}
          - {block: post, long: 6, deep: 12, tall: 30, corner_at: [0, 0, 0]}
          - {fillet: root, meeting: [foot.top, post.right], radius: 3}
        loads:
          - {name: leaned on, push: {at: post.top, newtons: 60, toward: left}, held_fast: foot.bottom, times: many}
        print: {material: PLA, way_up: up}
        """;

    private readonly OpenDoor _door;
    private readonly BunitContext _page = new();
    private readonly Computings _computings;
    private readonly Attention _attention = new();

    public StrengthPaneTests(OpenDoor door)
    {
        _door = door;
        _computings = new Computings(new DoorSettings("", 0, KernelProgram.Find().OrThrow(), door.Shop.Jobs, door.Shop.Coupons, TimeProvider.System, Lettering.UsualFiles));
        _page.Services.AddSingleton(_computings);
        _page.JSInterop.Mode = JSRuntimeMode.Loose;
    }

    public void Dispose()
    {
        _page.Dispose();
        _computings.Dispose();
    }

    [Fact]
    public async Task It_computes_says_what_it_found_and_says_when_that_is_out_of_date()
    {
        JobDesk desk = await _door.BeginAsync(Hook);
        IRenderedComponent<StrengthPane> pane = Pane(desk);
        Step step = Step.All.Single(s => s.Path == "strength");
        Computing computing = _computings.Of(desk.Head.Job);
        Assert.Contains("Push of 60 N on post.top, toward left; held by: foot.bottom held fast; many times", pane.Find(".loads dd").TextContent);
        Assert.Equal("not computed yet", step.Of(desk.Live, null, computing.State).Words);

        await pane.Find("#compute").ClickAsync();
        Assert.NotNull(pane.Find("#stop"));
        Assert.Equal("being computed", step.Of(desk.Live, null, computing.State).Words);
        pane.WaitForAssertion(() => Assert.Equal("Compute again", pane.Find("#compute").TextContent), Longest);

        StrengthFound found = computing.State.Done!;
        CaseFound worst = found.Governing;
        Assert.True(worst.Margin.Value < 1, "this example is asked too much, and its margin says so");
        Assert.StartsWith(StrengthReport.WithError(worst.Margin), pane.Find("td.margin").TextContent.Trim(), StringComparison.Ordinal);
        Assert.Contains(", below 1", pane.Find("td.margin").TextContent);
        Assert.Contains(StrengthReport.Words(worst.Margin.Mode), pane.Find(".cases").TextContent);
        string told = pane.Find(".report").TextContent;
        foreach (ReportPart.Line line in StrengthReport.Found(found).Parts.OfType<ReportPart.Line>()) Assert.Contains(line.Text, told);
        foreach (var factor in worst.Allowables.Against(worst.Margin.Mode).Factors) Assert.Contains(factor.Source, told);
        Assert.DoesNotContain("safe", pane.Find(".report").TextContent.Replace("safety", "", StringComparison.Ordinal), StringComparison.OrdinalIgnoreCase);
        Assert.Equal($"margin {StrengthReport.Short(worst.Margin.Value)}, below 1", step.Of(desk.Live, null, computing.State).Words);
        Assert.True(step.Of(desk.Live, null, computing.State).IsCalling);
        Assert.Empty(pane.FindAll("[style]"));
        Assert.Equal(worst, _attention.Margin!.Of);
        Assert.EndsWith(worst.Picture!.Key, _attention.Margin.Address, StringComparison.Ordinal);
        Assert.Equal(1, worst.Picture.Shares.Sum(), 9);
        Assert.True(worst.Picture.Shares[0] > 0, "the weakest place lies on the surface");
        await pane.Find("#colour").ChangeAsync("");
        Assert.Null(_attention.Margin);
        await pane.Find("#colour").ChangeAsync(worst.Load.Name);
        Assert.Equal(worst, _attention.Margin!.Of);

        string before = desk.Head.Latest.Text;
        await desk.EnterAsync(desk.Head.Latest.Number, before.Replace("newtons: 60", "newtons: 30", StringComparison.Ordinal), "half the gust");
        pane.WaitForAssertion(() => Assert.Contains("Out of date: the job was changed", pane.Find(".calling").TextContent));
        Assert.Null(_attention.Margin);
        Assert.StartsWith("out of date: ", step.Of(desk.Live, null, computing.State).Words, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Stopped_it_says_so_and_what_was_there_stays()
    {
        JobDesk desk = _door.Desk("line-reel-crank");
        IRenderedComponent<StrengthPane> pane = Pane(desk);
        await pane.Find("#compute").ClickAsync();
        await pane.Find("#stop").ClickAsync();
        pane.WaitForAssertion(() => Assert.Contains("stopped; what was computed before is as it was", pane.Find(".problem").TextContent), Longest);
        Assert.Equal("Compute", pane.Find("#compute").TextContent);
        await desk.Settled;
    }

    [Fact]
    public async Task A_part_that_nothing_holds_is_explained_and_not_solved()
    {
        JobDesk desk = await _door.BeginAsync(Hook.Replace("held_fast: foot.bottom", "rests_on: foot.bottom", StringComparison.Ordinal));
        IRenderedComponent<StrengthPane> pane = Pane(desk);
        await pane.Find("#compute").ClickAsync();
        pane.WaitForAssertion(() => Assert.Contains("what holds the part against “leaned on” is not enough: it is free to", pane.Find(".problem").TextContent), Longest);
        Assert.Contains("say what holds it", pane.Find(".problem").TextContent);
        Assert.Empty(pane.FindAll(".report"));
    }

    private IRenderedComponent<StrengthPane> Pane(JobDesk desk) => _page.Render<StrengthPane>(p => p.AddCascadingValue(desk).AddCascadingValue(_attention));
}
