using Bunit;
using Sparewright.Web.Sizes;
using Xunit;

namespace Sparewright.Web.Tests.Sizes;

public sealed class UndecidedTests : PaneTests
{
    /// <summary>Two holes of which one was measured, and the far walls: the second hole may grow while the centres come closer.</summary>
    private const string Text = """
        sparewright: 1
        part: Strap
        could_injure: no
        sizes:
          t:     {about: 4}
          hole:  {about: 5}
          other: {about: 6}
          pitch: {about: 30}
        shape:
          - {plate: base, thickness: t, outline: {rectangle: [60, 20], middle_at: [0, 0]}}
          - {hole: a, from: base.top, at: [0 - pitch/2, 0], diameter: hole, through: base}
          - {hole: b, from: base.top, at: [pitch/2, 0], diameter: other, through: base}
        readings:
          - {outside: [base.top, base.bottom], reads: 4.01}
          - {inside: a.wall, reads: 4.99}
          - {inside: [a.wall, b.wall], reads: 35.52}
        """;

    [Fact]
    public void The_trade_off_is_spelled_out_with_what_would_decide_it()
    {
        var shown = Render<Undecided>(p => p.Add(u => u.Of, Reconcile(Text).Undecided));
        Assert.Contains("other could be 2 mm bigger and pitch 1 mm smaller, and every reading would stay the same", shown.Find("li p").TextContent, StringComparison.Ordinal);
        Assert.Contains("inside: b.wall", shown.FindAll(".reading").Select(r => r.TextContent));
        Assert.DoesNotContain('`', shown.Markup);
    }
}
