using System.Globalization;
using Sparewright.Part;
using Sparewright.Part.Elements;
using Sparewright.Part.Record;

namespace Sparewright.Solid.Tests;

/// <summary>Shapes as a job file says them, placed at given sizes.</summary>
internal static class Shapes
{
    /// <summary>The shape of a job made of these features; the sizes are those named, each with a value in mm or degrees.</summary>
    public static PlacedShape Placed(string features, params (string Name, double Value)[] sizes)
    {
        Job job = JobOf(features, [.. sizes.Select(s => s.Name)]);
        return Placed(job, [.. sizes.Select(s => s.Value)]);
    }

    public static PlacedShape Placed(Job job, double[] free) => ShapePlacer.Place(job.Shape, job.Sizes.At(free));

    public static Job JobOf(string features, params string[] sizes)
    {
        string listed = sizes.Length == 0 ? "  unused: {fixed: 1}" : string.Join('\n', sizes.Select(s => $"  {s}: {{about: 1}}"));
        return Read($"""
            sparewright: 1
            part: Test piece
            could_injure: no
            sizes:
            {listed}
            shape:
            {features}
            """);
    }

    public static Job Read(string text)
    {
        JobReading reading = JobFile.Read(text);
        return reading.Job ?? throw new InvalidOperationException(string.Join('\n', reading.Problems.Select(p => p.In("test"))) + "\n" + text);
    }

    public static Recipe RecipeOf(string features, params (string Name, double Value)[] sizes) => Recipe.Of(Placed(features, sizes)).OrThrow();

    public static string Text(double value) => value.ToString("R", CultureInfo.InvariantCulture);

    /// <summary>A block 20 × 10 × 5 with its corner at the origin.</summary>
    public const string Block = """
          - block: slab
            long: 20
            deep: 10
            tall: 5
            corner_at: [0, 0, 0]
        """;
}
