using System.Globalization;
using Sparewright.Part.Elements;
using Sparewright.Part.Record;
using Sparewright.Part.Shape;
using Xunit;

namespace Sparewright.Part.Tests;

public class JobFileExamplesTests
{
    public static TheoryData<string> Examples => [.. Directory.GetDirectories(Path.Combine(Repository.Root, "examples")).Select(d => Path.GetFileName(d)).Order(StringComparer.Ordinal)];

    [Theory]
    [MemberData(nameof(Examples))]
    public void Every_example_is_read_without_a_problem(string name)
    {
        JobReading reading = JobFile.ReadFile(Path.Combine(Repository.Root, "examples", name, "job.yaml"));

        Assert.Empty(reading.Problems);
        Assert.NotNull(reading.Job);
        Assert.NotEmpty(reading.Job.Readings);
    }

    /// <summary>The sizes from which the readings were made build a shape, and it has every element that the job names.</summary>
    [Theory]
    [MemberData(nameof(Examples))]
    public void Every_example_is_a_shape_at_its_true_sizes_with_the_elements_that_it_names(string name)
    {
        Job job = JobFile.ReadFile(Path.Combine(Repository.Root, "examples", name, "job.yaml")).Job!;
        Dictionary<string, double> truth = File.ReadLines(Path.Combine(Repository.Root, "tests", "data", "true-sizes.csv"))
            .Select(l => l.Split(',')).Where(f => f[0] == name).ToDictionary(f => f[1], f => double.Parse(f[2], CultureInfo.InvariantCulture));
        Assert.Equal(job.Sizes.All.Select(s => s.Name).Order(StringComparer.Ordinal), truth.Keys.Order(StringComparer.Ordinal));

        PlacedShape shape = ShapePlacer.Place(job.Shape, job.Sizes.At([.. job.Sizes.Free.Select(s => truth[s.Name])]));

        Assert.Empty(shape.Problems);
        IEnumerable<ElementName?> named = job.Readings.OfType<CaliperReading>().SelectMany(r => new[] { r.First, r.Second })
            .Concat(job.Loads.SelectMany(l => l.Holds.RestsOn.Concat(l.Holds.HeldFast).Concat(l.Actions.OfType<LoadAction.Force>().SelectMany(f => f.At.Elements))));
        Assert.All(named.OfType<ElementName>(), e => Assert.Contains(e.Text, shape.Elements.Keys));
    }

    [Fact]
    public void The_vent_knuckle_is_read_as_it_is_written()
    {
        Job job = JobFile.ReadFile(Path.Combine(Repository.Root, "examples", "vent-knuckle", "job.yaml")).Job!;

        Assert.Equal("Vent knuckle", job.PartName);
        Assert.Equal(new Surroundings(true, true, 55), job.Lives);
        Assert.False(job.CouldInjure.Could);
        Assert.Equal(0.4, job.Instruments["caliper"].InsideJawFlat);
        Assert.Equal(["foot", "socket", "lug", "lug_end", "lug_round", "bore", "pin_hole", "screws", "lug_root", "lug_root_behind"], job.Shape.Select(f => f.Name));
        var lug = Assert.IsType<Block>(job.Shape[2]);
        Assert.Equal(35, lug.CornerAt!.Z.At(job.Sizes.At([17, 50, 12, 35, 6, 20, 30, 5, 5, 20, 35, 4.5, 0.8])).Value);
        var row = Assert.IsType<Row>(job.Shape[7]);
        Assert.Equal((2, Direction.Back), (row.Count, row.Along));
        Assert.Equal(new Reach.ThroughFeature("foot", new Place(61, 72)), Assert.IsType<Hole>(row.Of).Reach);
        var worn = Assert.IsType<CaliperReading>(job.Readings[10]);
        Assert.Equal(("r11", "lug.front", "lug.back", true), (worn.Id, worn.First.Text, worn.Second!.Text, worn.Worn));
        var weight = Assert.IsType<WeightReading>(job.Readings[^1]);
        Assert.Equal((1.05, 0.02, "kitchen scale"), (weight.Density, weight.DensityPlusMinus, weight.With));
        Assert.Equal([(CounterpartKind.Rod, FitWord.Slides), (CounterpartKind.Holes, null), (CounterpartKind.WoodScrew, null), (CounterpartKind.Pin, FitWord.Turns)], job.Counterparts.Select(c => (c.Kind, c.Fit)));
        var push = Assert.IsType<LoadAction.Force>(Assert.Single(job.Loads[0].Actions));
        Assert.Equal((ForceWord.Push, "pin_hole.wall", 120.0, Direction.Up), (push.Word, push.At.Elements.Single().Text, push.Newtons, push.Toward));
        Assert.Equal((HowOften.Many, HowLong.Seconds), (job.Loads[0].Times, job.Loads[0].Lasts));
        Assert.Equal(new PrintPlan("MEX printer, not yet measured", 0.4, 0.2, Direction.Up, "ASA", "PLA") { MaterialPlace = job.Print!.MaterialPlace }, job.Print);
        Assert.Equal(new SparesPlan(6, 0.15, 5, 0.05), job.Spares);
    }
}

/// <summary>Where the repository stands on this machine.</summary>
internal static class Repository
{
    public static string Root { get; } = Find(AppContext.BaseDirectory);

    private static string Find(string from)
    {
        for (DirectoryInfo? here = new(from); here is not null; here = here.Parent)
            if (File.Exists(Path.Combine(here.FullName, "Sparewright.slnx"))) return here.FullName;
        throw new InvalidOperationException("the tests do not lie in the repository");
    }
}
