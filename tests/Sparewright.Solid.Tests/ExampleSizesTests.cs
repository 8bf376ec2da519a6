using System.Globalization;
using Sparewright.Part.Elements;
using Xunit;

namespace Sparewright.Solid.Tests;

/// <summary>Changing any size rebuilds all that depends on it: every size of each example by up to 5 %, one at a time and all together.</summary>
public class ExampleSizesTests
{
    private const int DrawsPerExample = 500;

    private sealed record Drawn(string? Refusal, bool ByArithmetic, double WorstMm, double WorstTwinMm, string What);

    [Theory]
    [MemberData(nameof(Example.Names), MemberType = typeof(Example))]
    public async Task Every_size_may_change(string name)
    {
        Example example = Example.Read(name);
        Drawn[] drawn = await TwoWorkers.DrawAsync(DrawsPerExample, (worker, draw) => DrawAsync(worker, example, draw));

        // What is built is right, to the micrometre; what is not built is refused by a feature's name, for a reason of arithmetic.
        Assert.All(drawn, d => Assert.InRange(d.WorstMm, 0, Remeasured.AllowedMm));
        Assert.All(drawn, d => Assert.InRange(d.WorstTwinMm, 0, Remeasured.AllowedMm));
        Assert.All(drawn, d => Assert.True(d.Refusal is null || d.ByArithmetic, $"{d.What}: {d.Refusal}"));
        int valid = drawn.Count(d => d.Refusal is null);
        Assert.True(valid >= 0.99 * DrawsPerExample, $"{valid} of {DrawsPerExample} valid; {string.Join("; ", drawn.Where(d => d.Refusal is not null).Take(10).Select(d => $"{d.What}: {d.Refusal}"))}");
    }

    private static async Task<Drawn> DrawAsync(KernelWorker worker, Example example, int draw)
    {
        var random = new Random(draw);
        double Changed(double value) => value * (0.95 + 0.1 * random.NextDouble());
        double[] sizes = [.. example.About];
        string what = "all sizes";
        if (draw % 2 == 0)
        {
            int one = draw / 2 % sizes.Length;
            sizes[one] = Changed(sizes[one]);
            what = string.Create(CultureInfo.InvariantCulture, $"{example.Job.Sizes.Free[one].Name} = {sizes[one]:0.###}");
        }
        else
        {
            for (int k = 0; k < sizes.Length; k++) sizes[k] = Changed(sizes[k]);
        }

        what = $"draw {draw}, {what}";
        PlacedShape shape = example.At(sizes);
        if (shape.Problems.Count > 0) return new($"{shape.Problems[0].What}; {shape.Problems[0].Remedy}", true, 0, 0, what);
        Outcome<ExactSolid> built = await worker.BuildAsync(Recipe.Of(shape).OrThrow());
        if (!built.IsGood) return new(built.Problem.ToString(), built.Problem is { Kind: SolidProblemKind.Refused, Feature: not null }, 0, 0, what);
        IReadOnlyList<Remeasured> taken = (await VirtualCaliper.TakeAsync(built.Value, shape, example.Readings)).OrThrow();
        double worst = taken.Max(t => t.DifferenceMm is { } difference ? Math.Abs(difference) : double.PositiveInfinity);
        return new(null, false, worst, ElementTwin.Compare(shape, built.Value.Faces).Max(t => t.DeviationMm), what);
    }
}
