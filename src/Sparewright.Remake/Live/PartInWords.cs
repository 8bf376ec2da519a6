using System.Globalization;

namespace Sparewright.Remake.Live;

/// <summary>The picture of a part for those who cannot see it.</summary>
public static class PartInWords
{
    /// <summary>What is in view, in a few sentences: name, extent, number of faces, features.</summary>
    public static string Of(PartInView part)
    {
        var size = part.Solid.High - part.Solid.Low;
        int faces = part.Solid.Faces.Count;
        return string.Create(CultureInfo.InvariantCulture,
            $"{part.Job.PartName}: {size.X:0.0} mm from left to right, {size.Y:0.0} mm from front to back, {size.Z:0.0} mm from bottom to top; {part.Solid.VolumeMm3 / 1000:0.0} cm³, {faces} {(faces == 1 ? "face" : "faces")}. ")
            + $"It is made of {string.Join(", ", part.Solid.Features.Select(f => f.Name))}. The list below holds every face.";
    }
}
