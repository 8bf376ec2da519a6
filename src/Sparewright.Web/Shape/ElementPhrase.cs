namespace Sparewright.Web.Shape;

/// <summary>An element's name as one says it: <c>foot.top</c> is "the top of foot".</summary>
internal static class ElementPhrase
{
    private static readonly string[] Parts =
        ["top", "bottom", "left", "right", "front", "back", "side", "rim", "wall", "axis", "floor", "end", "face", "near", "far", "flat", "counterbore", "countersink"];

    public static string Of(string name)
    {
        switch (name)
        {
            case "ground": return "the ground";
            case "upright": return "the upright axis";
            case "whole part": return "the whole part";
        }

        string[] segments = name.Split('.');
        int own = segments.Length;
        while (own > 1 && Parts.Contains(segments[own - 1].Split('#')[0])) own--;
        if (own == segments.Length) return name;
        return string.Join(" of ", segments[own..].Reverse().Select(Part)) + " of " + string.Join('.', segments[..own]);
    }

    private static string Part(string segment)
    {
        string[] halves = segment.Split('#');
        string word = halves[0] switch
        {
            "left" or "right" or "front" or "back" => halves[0] + " face",
            "near" or "far" => halves[0] + " side",
            _ => halves[0],
        };
        return halves.Length == 1 ? "the " + word : halves[0] is "rim" or "wall" ? $"piece {halves[1]} of the {word}" : $"{word} {halves[1]}";
    }
}
