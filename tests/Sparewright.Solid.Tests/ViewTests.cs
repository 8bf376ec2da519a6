using System.Text.Json;
using Xunit;

namespace Sparewright.Solid.Tests;

public class ViewTests(WarmWorker warm)
{
    /// <summary>How far the polylines may lie from the curves, mm.</summary>
    private const double Chord = 0.002;

    private static readonly Point3 Right = new(1, 0, 0), Back = new(0, 1, 0), Up = new(0, 0, 1), Down = new(0, 0, -1);

    private static (double Left, double Bottom, double Right, double Top) BoxOf(DrawnView view, Func<DrawnLine, bool> counts)
    {
        var lines = view.Lines.Where(counts).ToList();
        double[] x = [.. lines.SelectMany(l => l.Points.Where((_, k) => k % 2 == 0))], y = [.. lines.SelectMany(l => l.Points.Where((_, k) => k % 2 == 1))];
        return (x.Min(), y.Min(), x.Max(), y.Max());
    }

    private static void Close((double, double, double, double) expected, (double, double, double, double) actual)
    {
        Assert.InRange(actual.Item1 - expected.Item1, -Chord, Chord);
        Assert.InRange(actual.Item2 - expected.Item2, -Chord, Chord);
        Assert.InRange(actual.Item3 - expected.Item3, -Chord, Chord);
        Assert.InRange(actual.Item4 - expected.Item4, -Chord, Chord);
    }

    [Fact]
    public async Task Views_from_the_front_and_from_above_have_the_solids_extent()
    {
        ExactSolid solid = await warm.BuildAsync(MeshTests.Mixed);
        DrawnView front = (await solid.ViewAsync(Back, Up, chordMm: Chord)).OrThrow();
        // Looking back with up upward, page x is back × up = right.
        Close((solid.Low.X, solid.Low.Z, solid.High.X, solid.High.Z), BoxOf(front, _ => true));
        Close((solid.Low.X, solid.Low.Z, solid.High.X, solid.High.Z), BoxOf(front, l => !l.Hidden));
        DrawnView top = (await solid.ViewAsync(Down, Back, chordMm: Chord)).OrThrow();
        Close((solid.Low.X, solid.Low.Y, solid.High.X, solid.High.Y), BoxOf(top, l => !l.Hidden));
    }

    [Fact]
    public async Task A_blocks_front_has_four_edges_and_what_lies_behind_adds_no_lines()
    {
        ExactSolid solid = await warm.BuildAsync(Shapes.Block);
        DrawnView front = (await solid.ViewAsync(Back, Up)).OrThrow();
        Assert.All(front.Lines, l => Assert.Equal((LineKind.Edge, false), (l.Kind, l.Hidden)));
        Assert.Equal(2 * (20 + 5), front.Lines.Sum(Length), 6);
    }

    [Fact]
    public async Task A_blind_bore_shows_hidden_from_the_side_and_only_if_asked()
    {
        ExactSolid solid = await warm.BuildAsync("""
              - boss: socket
                diameter: 17
                height: 40
              - hole: bore
                from: socket.top
                diameter: 12
                depth: 30
            """);
        DrawnView all = (await solid.ViewAsync(Back, Up)).OrThrow();
        // Two lines of the wall, 30 long, and the line of the end, 12 wide.
        Assert.Equal(30 + 30 + 12, all.Lines.Where(l => l.Hidden).Sum(Length), 3);
        DrawnView visible = (await solid.ViewAsync(Back, Up, hidden: false)).OrThrow();
        Assert.DoesNotContain(visible.Lines, l => l.Hidden);
        Assert.Equal(2 * (17 + 40), visible.Lines.Sum(Length), 3);
        Assert.Contains(visible.Lines, l => l.Kind == LineKind.Outline);
    }

    [Fact]
    public async Task The_same_part_gives_the_same_page()
    {
        Point3 sight = new Point3(-1, 1, -1) * (1 / Math.Sqrt(3)), up = new Point3(-1, 1, 2) * (1 / Math.Sqrt(6));
        DrawnView one = (await (await warm.BuildAsync(MeshTests.Mixed)).ViewAsync(sight, up)).OrThrow();
        await using KernelWorker other = Workers.Fresh();
        DrawnView two = (await (await other.BuildAsync(Shapes.RecipeOf(MeshTests.Mixed))).OrThrow().ViewAsync(sight, up)).OrThrow();
        Assert.NotEmpty(one.Lines);
        Assert.Equal(JsonSerializer.Serialize(one), JsonSerializer.Serialize(two));
    }

    [Fact]
    public async Task Sight_and_up_in_one_line_is_an_error()
    {
        ExactSolid solid = await warm.BuildAsync(Shapes.Block);
        Assert.NotNull((await solid.ViewAsync(Right, Right)).Problem);
    }

    private static double Length(DrawnLine line)
    {
        double sum = 0;
        for (int k = 2; k < line.Points.Length; k += 2) sum += Math.Sqrt(Math.Pow(line.Points[k] - line.Points[k - 2], 2) + Math.Pow(line.Points[k + 1] - line.Points[k - 1], 2));
        return sum;
    }
}
