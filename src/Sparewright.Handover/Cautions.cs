namespace Sparewright.Handover;

/// <summary>What a remade part must say about itself. None of these sentences ever calls anything safe.</summary>
public static class Cautions
{
    /// <summary>For every part, in the record and the 3MF file.</summary>
    public static IReadOnlyList<string> Always { get; } =
    [
        "This part was made by a volunteer from measurements of a broken one.",
        "It has been checked only as listed here.",
        "It is not an approved spare part: where a law, a standard, an insurer or the appliance's instructions ask for one, that rule comes first.",
        "Stop using it if it cracks, softens, discolours or loosens.",
    ];

    /// <summary>For a part whose failure could injure: the strip across the picture, before all others.</summary>
    public static IReadOnlyList<string> CouldInjure { get; } =
    [
        "If this part fails, somebody could be hurt. It was made by a volunteer and is not an approved spare part; ask a qualified person before it is used.",
        "Stop using it if it cracks, softens, discolours or loosens.",
    ];
}
