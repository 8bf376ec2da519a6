namespace Sparewright.Remake.Start;

/// <summary>
/// Where a part that fails can injure someone. Our own list, from what guides for repairers and makers warn of; it is asked before anything else,
/// and a yes goes on every output.
/// </summary>
public static class StopList
{
    public static IReadOnlyList<string> Entries { get; } =
    [
        "brakes", "steering", "climbing or fall arrest", "child seats or child restraint", "lifting", "pressure", "gas",
        "mains insulation or flame barriers", "guards of moving blades", "medical use", "hot water or steam", "toys for under-threes", "protective equipment",
    ];
}
