using System.Diagnostics.CodeAnalysis;
using Sparewright.Handover.Files;
using Sparewright.Part;

namespace Sparewright.Handover.PrintFiles.ThreeMf;

/// <summary>
/// Reads any 3MF file (Core 1.4.0, 3MF Consortium, 6 February 2025) as a shape to compare with: placed surfaces in mm.
/// Colours and pictures are passed over. The file is taken for hostile until it has proved otherwise.
/// </summary>
public static class ThreeMfReader
{
    /// <summary>The shape, or why the file is refused; a line and column, where there are any, count in the part of the package that the refusal names.</summary>
    public static bool TryRead(byte[] file, [NotNullWhen(true)] out ReadShape? shape, [NotNullWhen(false)] out Problem? problem)
    {
        shape = null;
        try
        {
            shape = Read(Package.Open(file));
            problem = null;
            return true;
        }
        catch (RefusedException refused)
        {
            problem = refused.Problem;
            return false;
        }
    }

    private static ReadShape Read(Package package)
    {
        var contentType = Relationships.ContentTypes(package);
        var root = Relationships.Of(package, "/");
        var models = root.Where(r => r.Type == Names.ModelRelation).ToList();
        if (models.Count != 1)
            throw new RefusedException($"the package starts from {models.Count} models instead of one", "have the file written again with one model");
        string model = models[0].Target;
        if (contentType(model) != Names.ModelType)
            throw new RefusedException($"{model} is not declared to be a 3MF model", "have the file written again by the program that made it");
        foreach (var picture in root.Where(r => r.Type == Names.ThumbnailRelation))
        {
            if (contentType(picture.Target) is not ("image/png" or "image/jpeg"))
                throw new RefusedException($"the picture {picture.Target} is neither PNG nor JPEG", "have the file written again with another picture or none");
        }

        Relationships.Of(package, model);
        return ModelReader.Read(package, model);
    }
}
