using System.Diagnostics;

namespace Sparewright.Strength;

/// <summary>Where the time of a load case goes: each stage is an activity of this source, which costs nothing while nobody listens.</summary>
public static class Stages
{
    public static ActivitySource Source { get; } = new("Sparewright.Strength");

    /// <summary>A stage that lasts until what is returned is disposed of.</summary>
    internal static Activity? Of(string name) => Source.StartActivity(name);
}
