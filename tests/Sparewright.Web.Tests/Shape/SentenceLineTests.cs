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
    public void What_is_typed_is_handed_on_once()
    {
        var line = Draw(Example, 1);
        var field = line.Find("#slot-shape-1-diameter");
        field.Focus();
        field.Input("socket_od + 1");
        field.Change("socket_od + 1");
        line.Find("#slot-shape-1-diameter").KeyDown("Enter");
        line.Find("#slot-shape-1-diameter").Blur();
        TextChange change = Assert.Single(_changes);
        Assert.Contains("diameter: socket_od + 1\n", change.Make(Example).Text!, StringComparison.Ordinal);
    }

    /// <summary>A browser says nothing of a change that the page made itself.</summary>
    [Fact]
    public void A_name_taken_from_the_list_is_kept_on_leaving()
    {
        var line = Draw(Example, 1);
        line.Find("#slot-shape-1-diameter").Focus();
        line.Find("#slot-shape-1-diameter").Input("socket_od + edg");
        line.Find("#slot-shape-1-diameter").KeyDown("ArrowDown");
        line.Find("#slot-shape-1-diameter").KeyDown("Enter");
        line.Find("#slot-shape-1-diameter").Change("socket_od + edg");
        Assert.Empty(_changes);
        Assert.Equal("socket_od + edge_r", line.Find("#slot-shape-1-diameter").GetAttribute("value"));
        line.Find("#slot-shape-1-diameter").Blur();
        Assert.Contains("diameter: socket_od + edge_r\n", Assert.Single(_changes).Make(Example).Text!, StringComparison.Ordinal);
    }

    [Fact]
    public void A_wrong_slot_is_marked_and_described()
    {
        var line = Draw(Example.Replace("diameter: socket_od", "diameter: socket_odd + rim", StringComparison.Ordinal), 1);
        var field = line.Find("#slot-shape-1-diameter");
        Assert.Equal("true", field.GetAttribute("aria-invalid"));
        Assert.Contains("nothing defines the size", line.Find("#" + field.GetAttribute("aria-describedby")).TextContent, StringComparison.Ordinal);
        Assert.Equal(2, line.FindAll(".new-size").Count);
        line.Find(".new-size input").Change("1,5");
        line.Find(".new-size").Submit();
        Assert.Contains("  socket_odd: {about: 1.5}\n", Assert.Single(_changes).Make(Example).Text!, StringComparison.Ordinal);
    }

    [Fact]
    public void A_new_name_asks_whether_it_is_new_everywhere()
    {
        var line = Draw(Example, 1);
        line.Find("#slot-shape-1-boss").Change("barrel");
        Assert.Empty(_changes);
        Assert.Contains("socket is named in 13 other places", line.Find(".ask").TextContent, StringComparison.Ordinal);
        line.FindAll(".ask button")[0].Click();
        Assert.Empty(JobFile.Read(Assert.Single(_changes).Make(Example).Text!).Problems);
    }

    [Fact]
    public void Removing_says_what_names_the_feature_and_which_comments_go()
    {
        var line = Draw(Example, 0, open: true);
        line.Find("button.remove").Click();
        string asked = line.Find(".ask").TextContent;
        Assert.Contains("socket: foot.top", asked, StringComparison.Ordinal);
        Assert.Contains("foot.top foot.bottom foot.rim", asked, StringComparison.Ordinal);
        line.FindAll(".ask button")[^1].Click();
        Assert.Empty(_changes);
        line.Find("button.remove").Click();
        line.FindAll(".ask button")[0].Click();
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
