namespace Sparewright.Handover.Picture;

/// <summary>A drawn sheet: every mark at its place, in mm from the upper left corner, y down; ready for any kind of canvas.</summary>
/// <param name="WidthMm">Width of the paper.</param>
/// <param name="HeightMm">Height of the paper.</param>
/// <param name="Title">For readers that look at the file and not at the picture.</param>
/// <param name="Scale">The scale of all views but the isometric one.</param>
public sealed record Sheet(double WidthMm, double HeightMm, string Title, DrawingScale Scale)
{
    internal IReadOnlyList<Mark> Marks { get; init; } = [];

    /// <summary>Where each view stands, its dimensions included.</summary>
    internal IReadOnlyList<(ViewName Name, Box Box)> Views { get; init; } = [];

    /// <summary>The shaded part behind the lines of the isometric view, or null.</summary>
    internal Wash? Wash { get; init; }
}

/// <summary>A picture laid under the lines, and the box that it fills on the page.</summary>
internal sealed record Wash(byte[] Png, Box Box);
