using Bunit;
using Microsoft.AspNetCore.Components;
using Sparewright.Part;
using Sparewright.Web.Desk;
using Sparewright.Web.Shape;
using Xunit;

namespace Sparewright.Web.Tests.Shape;

/// <summary>A sentence as it is drawn and filled in, without a browser.</summary>
public sealed class SentenceLineTests : BunitContext
{
    private readonly List<TextChange> _changes = [];

    private IRenderedComponent<SentenceLine> Draw(string text, int number, bool open = false)
    {
        JSInterop.Mode = JSRuntimeMode.Loose;
        ShapeView view = ShapeView.Of(text, JobFile.Read(text).Problems);
        return Render<SentenceLine>(p => p.AddCascadingValue(new Attention())
            .Add(l => l.Sentence, view.Sentences[number]).Add(l => l.View, view).Add(l => l.Choices, new ElementChoices(view, null)).Add(l => l.IsOpen, open)
            .Add(l => l.Changed, EventCallback.Factory.Create<TextChange>(this, _changes.Add)));
    }

    private static string Example => Jobs.Examples["vent-knuckle"];

    [Fact]
    public async Task What_is_typed_is_handed_on_once()
    {
        var line = Draw(Example, 1);
        var field = line.Find("#slot-shape-1-diameter");
        field.Focus();
        await field.InputAsync("socket_od + 1");
        await field.ChangeAsync("socket_od + 1");
        await line.Find("#slot-shape-1-diameter").KeyDownAsync("Enter");
        await line.Find("#slot-shape-1-diameter").BlurAsync();
        TextChange change = Assert.Single(_changes);
        Assert.Contains("diameter: socket_od + 1\n", change.Make(Example).Text!, StringComparison.Ordinal);
    }

    /// <summary>A browser says nothing of a change that the page made itself.</summary>
    [Fact]
    public async Task A_name_taken_from_the_list_is_kept_on_leaving()
    {
        var line = Draw(Example, 1);
        line.Find("#slot-shape-1-diameter").Focus();
        await line.Find("#slot-shape-1-diameter").InputAsync("socket_od + edg");
        await line.Find("#slot-shape-1-diameter").KeyDownAsync("ArrowDown");
        await line.Find("#slot-shape-1-diameter").KeyDownAsync("Enter");
        await line.Find("#slot-shape-1-diameter").ChangeAsync("socket_od + edg");
        Assert.Empty(_changes);
        Assert.Equal("socket_od + edge_r", line.Find("#slot-shape-1-diameter").GetAttribute("value"));
        await line.Find("#slot-shape-1-diameter").BlurAsync();
        Assert.Contains("diameter: socket_od + edge_r\n", Assert.Single(_changes).Make(Example).Text!, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_wrong_slot_is_marked_and_described()
    {
        var line = Draw(Example.Replace("diameter: socket_od", "diameter: socket_odd + rim", StringComparison.Ordinal), 1);
        var field = line.Find("#slot-shape-1-diameter");
        Assert.Equal("true", field.GetAttribute("aria-invalid"));
        Assert.Contains("nothing defines the size", line.Find("#" + field.GetAttribute("aria-describedby")).TextContent, StringComparison.Ordinal);
        Assert.Equal(2, line.FindAll(".new-size").Count);
        await line.Find(".new-size input").ChangeAsync("1,5");
        await line.Find(".new-size").SubmitAsync();
        Assert.Contains("  socket_odd: {about: 1.5}\n", Assert.Single(_changes).Make(Example).Text!, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_new_name_asks_whether_it_is_new_everywhere()
    {
        var line = Draw(Example, 1);
        await line.Find("#slot-shape-1-boss").ChangeAsync("barrel");
        Assert.Empty(_changes);
        Assert.Contains("socket is named in 13 other places", line.Find(".ask").TextContent, StringComparison.Ordinal);
        await line.FindAll(".ask button")[0].ClickAsync();
        Assert.Empty(JobFile.Read(Assert.Single(_changes).Make(Example).Text!).Problems);
    }

    [Fact]
    public async Task Removing_says_what_names_the_feature_and_which_comments_go()
    {
        var line = Draw(Example, 0, open: true);
        await line.Find("button.remove").ClickAsync();
        string asked = line.Find(".ask").TextContent;
        Assert.Contains("socket: foot.top", asked, StringComparison.Ordinal);
        Assert.Contains("foot.top foot.bottom foot.rim", asked, StringComparison.Ordinal);
        await line.FindAll(".ask button")[^1].ClickAsync();
        Assert.Empty(_changes);
        await line.Find("button.remove").ClickAsync();
        await line.FindAll(".ask button")[0].ClickAsync();
        Assert.DoesNotContain("plate: foot", Assert.Single(_changes).Make(Example).Text!, StringComparison.Ordinal);
    }

    public static TheoryData<string> AllJobs => [.. Jobs.All.Keys];

    /// <summary>Every slot is drawn as a control with a name of its own, and no element bears a style.</summary>
    [Theory]
    [MemberData(nameof(AllJobs))]
    public void Every_slot_is_a_control_with_a_label(string name)
    {
        ShapeView view = ShapeView.Of(Jobs.All[name], []);
        foreach (Sentence sentence in view.Sentences)
        {
            var line = Draw(Jobs.All[name], sentence.Number, open: true);
            foreach (var slot in sentence.Slots)
                Assert.False(string.IsNullOrWhiteSpace(line.Find("#" + SlotField.IdOf(slot.Path).Replace("#", "\\#", StringComparison.Ordinal)).GetAttribute("aria-label")));
            Assert.Empty(line.FindAll("[style]"));
        }
    }
}
