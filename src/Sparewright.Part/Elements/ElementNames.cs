namespace Sparewright.Part.Elements;

/// <summary>What elements a feature has, in words, for whoever named one that is not there.</summary>
public static class ElementNames
{
    private const int MostNamed = 12;

    /// <summary><c>`socket` has socket.axis, socket.side …</c> by the feature in a whole name, or null when it has none.</summary>
    public static string? Beside(string name, IEnumerable<string> known)
    {
        string feature = name.Split('.')[0];
        string[] own = [.. known.Where(k => k.StartsWith(feature + ".", StringComparison.Ordinal) || k.StartsWith(feature + "#", StringComparison.Ordinal)).Order(StringComparer.Ordinal).Take(MostNamed)];
        return own.Length > 0 ? $"`{feature}` has {string.Join(", ", own)}" : null;
    }
}
