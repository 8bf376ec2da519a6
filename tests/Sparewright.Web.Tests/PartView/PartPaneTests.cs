using System.Globalization;
using AngleSharp.Dom;
using Bunit;
using Microsoft.Extensions.DependencyInjection;
using Sparewright.Part.Record;
using Sparewright.Remake.Live;
using Sparewright.Web.Desk;
using Sparewright.Web.PartView;
using Xunit;

namespace Sparewright.Web.Tests.PartView;

/// <summary>The part for those who do not look at the canvas: sentence, list, words of what stands out, and what the picture is told.</summary>
public sealed class PartPaneTests : IClassFixture<OpenDoor>, IDisposable
{
    private readonly OpenDoor _door;
    private readonly BunitContext _page = new();
    private readonly Attention _attention = new();
    private readonly BunitJSModuleInterop _picture;

    public PartPaneTests(OpenDoor door)
    {
        _door = door;
        BunitJSModuleInterop module = _page.JSInterop.SetupModule("./browser/part-view.js");
        module.Mode = JSRuntimeMode.Loose;
        _picture = module.SetupModule("attach", _ => true);
        _picture.Mode = JSRuntimeMode.Loose;
        _picture.Setup<bool>("show", _ => true).SetResult(true);
        _picture.Setup<PartPane.PictureFacts>("facts").SetResult(new PartPane.PictureFacts(true));
    }

    public void Dispose() => _page.Dispose();

    [Fact]
    public void The_picture_has_a_sentence_and_the_list_every_face()
    {
        IRenderedComponent<PartPane> pane = Pane("vent-knuckle");
        IElement figure = pane.Find("[role=img]");
        Assert.Equal(PartInWords.Of(_door.Part("vent-knuckle")), figure.GetAttribute("aria-label"));
        Assert.Equal("0", figure.GetAttribute("tabindex"));
        Assert.Equal(_door.Part("vent-knuckle").Solid.Faces.Count, pane.FindAll(".faces button").Count);
        Assert.Equal(StandardView.All.Select(v => v.Name), pane.FindAll(".views button").Select(b => b.TextContent));
        Assert.Empty(pane.FindAll("[style]"));
    }

    [Fact]
    public async Task A_face_picked_in_the_list_is_picked_everywhere()
    {
        IRenderedComponent<PartPane> pane = Pane("vent-knuckle");
        IReadOnlyList<string>? picked = null;
        _attention.Picked += names => picked = names;
        FaceInWords bore = FaceInWords.AllOf(_door.Part("vent-knuckle")).Single(f => f.Names.Contains("bore.wall"));

        await pane.FindAll(".faces button").Single(b => b.TextContent.Contains("bore.wall", StringComparison.Ordinal)).ClickAsync();

        Assert.Equal(bore.Names, picked);
        Assert.Equal("true", pane.FindAll(".faces button").Single(b => b.TextContent.Contains("bore.wall", StringComparison.Ordinal)).GetAttribute("aria-pressed"));
        string told = pane.Find(".told").TextContent;
        Assert.Contains(bore.Sizes, told);
        Assert.All(bore.Readings, r => Assert.Contains($"{r.Reading.Id}: {r.Says}", told));
        Assert.Equal([bore.Number], LastLook().Chosen);
    }

    [Fact]
    public void A_face_picked_on_the_picture_is_told_with_all_its_names()
    {
        IRenderedComponent<PartPane> pane = Pane("line-reel-crank");
        FaceInWords several = FaceInWords.AllOf(_door.Part("line-reel-crank")).First(f => f.Names.Count > 1);
        pane.InvokeAsync(() => pane.Instance.FacePicked(several.Number));
        Assert.Equal(several.Names, pane.FindAll(".told code").Select(c => c.TextContent));

        pane.InvokeAsync(() => pane.Instance.FacePicked(-1));
        Assert.Empty(pane.FindAll(".told .face"));
        Assert.Empty(_attention.Elements);
    }

    [Fact]
    public void What_another_pane_points_at_stands_out_also_after_a_pick()
    {
        IRenderedComponent<PartPane> pane = Pane("vent-knuckle");
        pane.InvokeAsync(() => pane.Instance.FacePicked(0));
        pane.InvokeAsync(() => _attention.To(["foot.bottom"]));
        Assert.Equal(["foot.bottom"], pane.FindAll(".told .face").SelectMany(f => f.QuerySelectorAll("code")).Select(c => c.TextContent));
    }

    [Fact]
    public void The_reading_in_hand_is_shown_where_its_jaws_touch()
    {
        IRenderedComponent<PartPane> pane = Pane("vent-knuckle");
        PartInView part = _door.Part("vent-knuckle");
        CaliperReading reading = part.Job.Readings.OfType<CaliperReading>().Single(r => r.Id == "r5");
        pane.InvokeAsync(() => _attention.To([], reading));

        ShownDimension shown = Assert.Single(LastLook().Dimensions);
        Assert.True(shown.InHand);
        Assert.Equal(reading.ReadsMm.Average().ToString("0.00", CultureInfo.InvariantCulture), shown.Text);
        Assert.Contains("outside foot.bottom to socket.top", pane.Find(".told").TextContent);
        Assert.DoesNotContain("cannot be shown", pane.Find(".told").TextContent);
        int[] touched = LastLook().Named;
        Assert.Equal(2, touched.Length);
        Assert.All(touched, face => Assert.Contains(part.Solid.Faces[face].Names, n => n is "foot.bottom" or "socket.top"));
    }

    [Fact]
    public async Task What_cannot_be_built_is_said_with_a_remedy_and_the_last_good_picture_stays()
    {
        JobDesk desk = _door.Desk("line-reel-crank");
        IRenderedComponent<PartPane> pane = Pane("line-reel-crank");
        string good = desk.Head.Latest.Text, sentence = pane.Find("[role=img]").GetAttribute("aria-label")!;
        await desk.EnterAsync(desk.Head.Latest.Number, good + "\nnonsense: [", "spoilt");
        await desk.Settled;
        try
        {
            pane.WaitForAssertion(() => Assert.StartsWith("Put right first: ", pane.Find("[role=status]").TextContent));
            Assert.Contains("it shows revision 1", pane.Find("[role=status]").TextContent);
            Assert.Equal("Out of date. " + sentence, pane.Find("[role=img]").GetAttribute("aria-label"));
            Assert.NotEmpty(pane.FindAll(".faces button"));
        }
        finally
        {
            await desk.EnterAsync(desk.Head.Latest.Number, good, "put right");
            await desk.Settled;
        }

        pane.WaitForAssertion(() => Assert.Equal("Drawn from the readings as they stand.", pane.Find("[role=status]").TextContent));
    }

    [Fact]
    public void Without_shading_the_drawn_views_are_used_and_it_says_so()
    {
        IRenderedComponent<PartPane> pane = Pane("vent-knuckle");
        pane.InvokeAsync(() => pane.Instance.ShadingLost(true));
        Assert.Contains("this browser cannot shade", pane.Find(".choices").TextContent);
        Assert.True(pane.FindAll(".choices input")[1].HasAttribute("disabled"));
        pane.InvokeAsync(() => pane.Instance.ShadingLost(false));
        Assert.DoesNotContain("cannot shade", pane.Find(".choices").TextContent);
    }

    private IRenderedComponent<PartPane> Pane(string example) => _page.Render<PartPane>(p => p
        .AddCascadingValue(_door.Desk(example))
        .AddCascadingValue(_attention));

    private PictureLook LastLook() => (PictureLook)_picture.Invocations["look"][^1].Arguments[0]!;
}
