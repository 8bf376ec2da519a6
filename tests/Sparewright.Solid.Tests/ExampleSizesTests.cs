using System.Globalization;
using Sparewright.Part.Elements;
using Xunit;

namespace Sparewright.Solid.Tests;

/// <summary>Changing any size rebuilds all that depends on it: every size of each example by up to 5 %, one at a time and all together.</summary>
public class ExampleSizesTests
{
    /// <summary>A draw costs about half a second of processor time: unless SPAREWRIGHT_DRAWS says otherwise (500 makes the thousand over both examples), each size once alone, and as many times all together.</summary>
    private static int DrawsOf(Example example) => Environment.GetEnvironmentVariable("SPAREWRIGHT_DRAWS") is { } draws ? int.Parse(draws, CultureInfo.InvariantCulture) : 2 * example.About.Length;

    /// <summary>What came of a draw: a fault is ours, a refusal may be right.</summary>
    private sealed record Drawn(string? Fault, string? Refusal);

    [Theory]
    [MemberData(nameof(Example.Names), MemberType = typeof(Example))]
    public async Task Every_size_may_change(string name)
    {
        Example example = Example.Read(name);
        int draws = DrawsOf(example);
        Drawn[] drawn = await TwoWorkers.DrawAsync(draws, (worker, draw) => DrawAsync(worker, example, draw));

        // What is built is right, to the micrometre; what is not built is refused by a feature's name, for a reason of arithmetic.
        string[] faults = [.. drawn.Select(d => d.Fault).OfType<string>()], refusals = [.. drawn.Select(d => d.Refusal).OfType<string>()];
        Assert.True(faults.Length == 0, $"{faults.Length} of {draws}: {string.Join("; ", faults.Take(5))}");
        Assert.True(refusals.Length <= 0.01 * draws, $"{refusals.Length} of {draws} refused: {string.Join("; ", refusals.Take(5))}");
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
        if (shape.Problems.Count > 0) return new(null, $"{what}: {shape.Problems[0].What}");
        Outcome<ExactSolid> built = await worker.BuildAsync(Recipe.Of(shape).OrThrow());
        if (!built.IsGood)
            return built.Problem is { Kind: SolidProblemKind.Refused, Feature: not null } ? new(null, $"{what}: {built.Problem}") : new($"{what}: {built.Problem.Kind} {built.Problem}", null);
        IReadOnlyList<Remeasured> taken = (await VirtualCaliper.TakeAsync(built.Value, shape, example.Readings)).OrThrow();
        if (taken.FirstOrDefault(t => !t.Agrees) is { } off) return new(string.Create(CultureInfo.InvariantCulture, $"{what}: {off.Id} drawn {off.DrawnMm} solid {off.SolidMm} {off.WhyNot}"), null);
        TwinDeviation twin = ElementTwin.Compare(shape, built.Value.Faces).MaxBy(t => t.DeviationMm)!;
        return twin.DeviationMm > Remeasured.AllowedMm ? new(string.Create(CultureInfo.InvariantCulture, $"{what}: {twin.Element} is {twin.DeviationMm} mm off"), null) : new(null, null);
    }
}
