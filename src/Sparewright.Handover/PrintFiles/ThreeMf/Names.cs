namespace Sparewright.Handover.PrintFiles.ThreeMf;

/// <summary>The names of namespaces, relationships and content types (3MF Core 1.4.0, appendix C; Open Packaging Conventions, ECMA-376 part 2).</summary>
internal static class Names
{
    public const string Core = "http://schemas.microsoft.com/3dmanufacturing/core/2015/02";
    public const string Xml = "http://www.w3.org/XML/1998/namespace";
    public const string Relationships = "http://schemas.openxmlformats.org/package/2006/relationships";
    public const string ContentTypes = "http://schemas.openxmlformats.org/package/2006/content-types";

    public const string ModelRelation = "http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel";
    public const string PrintTicketRelation = "http://schemas.microsoft.com/3dmanufacturing/2013/01/printticket";
    public const string ThumbnailRelation = "http://schemas.openxmlformats.org/package/2006/relationships/metadata/thumbnail";

    public const string ModelType = "application/vnd.ms-package.3dmanufacturing-3dmodel+xml";
    public const string RelationshipsType = "application/vnd.openxmlformats-package.relationships+xml";

    /// <summary>Our own names in a model's metadata.</summary>
    public const string Own = "urn:sparewright:hand-over:1";

    /// <summary>Extensions that add colour, texture or groups of triangles but leave the shape as the core says it.</summary>
    public static readonly string[] ShapeLeftAlone =
    [
        "http://schemas.microsoft.com/3dmanufacturing/material/2015/02",
        "http://schemas.microsoft.com/3dmanufacturing/trianglesets/2021/07",
    ];
}
