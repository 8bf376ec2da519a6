namespace Sparewright.Remake.Start;

/// <summary>A first shape to begin a job with, to be changed from there.</summary>
/// <param name="Name">One word.</param>
/// <param name="What">What it is, in a few words.</param>
public sealed record StartingPattern(string Name, string What)
{
    public static IReadOnlyList<StartingPattern> All { get; } =
    [
        new("knob", "a knob for a shaft with a flat"),
        new("lever", "a lever with two eyes"),
        new("bracket", "an angle bracket with screw holes"),
        new("cover", "a shallow box, open below, with screw holes"),
        new("clip", "a spring clip with two hooked arms"),
        new("wheel", "a wheel with a hub and holes round it"),
        new("bush", "a bush, spacer or roller with a collar"),
        new("plate", "a flat plate with holes"),
        new("cap", "a round cap or lid"),
        new("other", "something else: a block with a hole, to be changed into what it is"),
    ];

    public static StartingPattern? Find(string name) => All.FirstOrDefault(p => string.Equals(p.Name, name, StringComparison.OrdinalIgnoreCase));

    /// <summary>Its sizes, its shape, and what to measure first, as the lines of a job file.</summary>
    public string Lines()
    {
        using Stream stream = typeof(StartingPattern).Assembly.GetManifestResourceStream($"Sparewright.Remake.Start.Patterns.{Name}.yaml")!;
        using var reader = new StreamReader(stream);
        return reader.ReadToEnd();
    }
}
