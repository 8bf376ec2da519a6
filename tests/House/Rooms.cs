using System.Reflection;

namespace Sparewright.House;

/// <summary>The rooms from the ground up: data walks from the first to the last, and a room knows only those before it.</summary>
public static class Rooms
{
    public static IReadOnlyList<string> FromTheGround { get; } =
    [
        "Sparewright.Measure", "Sparewright.Part", "Sparewright.Reconcile", "Sparewright.Solid", "Sparewright.Fit", "Sparewright.Strength",
        "Sparewright.Handover", "Sparewright.Shop", "Sparewright.Remake", "Sparewright.Cli", "Sparewright.Web",
    ];

    /// <summary>How far up a room lies; −1 for what is no room of ours.</summary>
    public static int Floor(string room) => FromTheGround.Index().Where(r => r.Item == room).Select(r => r.Index).DefaultIfEmpty(-1).First();

    public static IReadOnlyList<Assembly> Assemblies { get; } = [.. FromTheGround.Select(Assembly.Load)];
}
