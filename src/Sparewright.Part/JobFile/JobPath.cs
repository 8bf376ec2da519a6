namespace Sparewright.Part;

/// <summary>Paths to places of a job's text, such as <c>readings/3/reads</c>. A stroke within a name is written ~1 there, and ~ is ~0, as in JSON pointers (RFC 6901, 3).</summary>
public static class JobPath
{
    /// <summary>The steps of a path, as the text has them.</summary>
    public static string[] Steps(string path) => [.. path.Split('/').Select(s => s.Replace("~1", "/", StringComparison.Ordinal).Replace("~0", "~", StringComparison.Ordinal))];

    /// <summary>A name as a step of a path.</summary>
    public static string Step(string name) => name.Replace("~", "~0", StringComparison.Ordinal).Replace("/", "~1", StringComparison.Ordinal);
}
