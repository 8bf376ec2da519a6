using System.Globalization;
using Sparewright.Measure.Quantities;

namespace Sparewright.Remake.Live;

/// <summary>The picture of a part for those who cannot see it.</summary>
public static class PartInWords
{
    /// <summary>What is in view, in a few sentences: name, extent, number of faces, features.</summary>
    public static string Of(PartInView part, LengthUnit unit = default)
    {
        string Length(double mm) => unit == LengthUnit.Inch ? Shown.Inches(mm, 2) : Shown.Mm(mm, 1);
        string volume = unit == LengthUnit.Inch ? FormattableString.Invariant($"{part.Solid.VolumeMm3 / Math.Pow(Unit.Inch.Size, 3):0.00} in³") : FormattableString.Invariant($"{part.Solid.VolumeMm3 / 1000:0.0} cm³");
        var size = part.Solid.High - part.Solid.Low;
        int faces = part.Solid.Faces.Count;
        return string.Create(CultureInfo.InvariantCulture,
            $"{part.Job.PartName}: {Length(size.X)} from left to right, {Length(size.Y)} from front to back, {Length(size.Z)} from bottom to top; {volume}, {faces} {(faces == 1 ? "face" : "faces")}. ")
            + $"It is made of {string.Join(", ", part.Solid.Features.Select(f => f.Name))}. The list below holds every face.";
    }
}
