using System.Globalization;
using System.IO.Compression;
using System.Text;
using System.Xml;
using Sparewright.Part;
using Sparewright.Solid;

namespace Sparewright.Handover.PrintFiles.ThreeMf;

/// <summary>What a 3MF file says about the part beside its shape.</summary>
/// <param name="Title">The part's name.</param>
/// <param name="Description">What it is, one or two sentences.</param>
/// <param name="PartNumber">Tells this revision of this part from every other.</param>
/// <param name="Created">The date that the file will bear; there is no clock in here.</param>
/// <param name="Application">Name and version of what wrote it.</param>
/// <param name="State">In what state the drawn sizes are: "as measured" until the fit has been decided.</param>
public sealed record PartLabel(string Title, string Description, string PartNumber, DateOnly Created, string Application, string State)
{
    /// <summary>Who made it, if they want to be named.</summary>
    public string? Designer { get; init; }

    /// <summary>What to beware of, in sentences; each is kept by programs that honour what they are asked to preserve.</summary>
    public IReadOnlyList<string> Cautions { get; init; } = [];
}

/// <summary>
/// Writes a part as 3MF Core 1.4.0 (3MF Consortium, 6 February 2025): one object in millimetres in the part's own coordinates,
/// one build item that moves it into the positive octant. The same input gives the same bytes.
/// </summary>
public static class ThreeMfWriter
{
    private const string ModelPart = "3D/3dmodel.model";
    private const string PicturePart = "Metadata/thumbnail.png";

    /// <summary>Fewest digits after the point first: a nanometre is enough for any printer, but never at the price of a flattened triangle.</summary>
    private static readonly int[] Decimals = [6, 9, 15];

    /// <summary>Writes the package, or says why the surface is not sound.</summary>
    /// <param name="stream">Where to; written from start to end.</param>
    /// <param name="mesh">The part, in mm.</param>
    /// <param name="label">What the file says about it.</param>
    /// <param name="picturePng">A small PNG picture, or empty for none.</param>
    public static Problem? Write(Stream stream, Mesh mesh, PartLabel label, ReadOnlySpan<byte> picturePng)
    {
        if (RoundedSoundly(mesh, out var points) is { } fault)
            return new(Place.None, $"the mesh cannot be written as 3MF: {fault}", "this is a fault in the solid or its mesh; change the feature that was added last");

        using var package = new MemoryStream();
        using (var zip = new ZipArchive(package, ZipArchiveMode.Create, leaveOpen: true))
        {
            bool picture = !picturePng.IsEmpty;
            AddXml(zip, "[Content_Types].xml", label.Created, xml => ContentTypes(xml, picture));
            AddXml(zip, "_rels/.rels", label.Created, xml => RootRelationships(xml, picture));
            AddXml(zip, ModelPart, label.Created, xml => Model(xml, points, mesh.Triangles, label));
            if (picture)
            {
                using var entry = Add(zip, PicturePart, label.Created, CompressionLevel.NoCompression);
                entry.Write(picturePng);
            }
        }

        package.Position = 0;
        package.CopyTo(stream);
        return null;
    }

    private static string? RoundedSoundly(Mesh mesh, out double[] points)
    {
        string? fault = null;
        points = mesh.Points;
        foreach (int decimals in Decimals)
        {
            // Adding zero makes −0 a plain 0.
            points = Array.ConvertAll(mesh.Points, value => Math.Round(value, decimals) + 0.0);
            fault = SoundSurface.FirstFault(points, mesh.Triangles);
            if (fault is null)
                break;
        }

        return fault;
    }

    private static Stream Add(ZipArchive zip, string name, DateOnly date, CompressionLevel level)
    {
        var entry = zip.CreateEntry(name, level);
        // ZIP dates begin in 1980 and know no time zone.
        entry.LastWriteTime = new DateTimeOffset(Math.Max(date.Year, 1980), date.Month, date.Day, 0, 0, 0, TimeSpan.Zero);
        return entry.Open();
    }

    private static void AddXml(ZipArchive zip, string name, DateOnly date, Action<XmlWriter> write)
    {
        using var stream = Add(zip, name, date, CompressionLevel.Optimal);
        using var xml = XmlWriter.Create(stream, new XmlWriterSettings { Encoding = new UTF8Encoding(false), Indent = true, IndentChars = " ", NewLineChars = "\n" });
        write(xml);
    }

    private static void ContentTypes(XmlWriter xml, bool picture)
    {
        xml.WriteStartElement("Types", Names.ContentTypes);
        Default("rels", Names.RelationshipsType);
        Default("model", Names.ModelType);
        if (picture)
            Default("png", "image/png");

        void Default(string ending, string type)
        {
            xml.WriteStartElement("Default");
            xml.WriteAttributeString("Extension", ending);
            xml.WriteAttributeString("ContentType", type);
            xml.WriteEndElement();
        }
    }

    private static void RootRelationships(XmlWriter xml, bool picture)
    {
        xml.WriteStartElement("Relationships", Names.Relationships);
        Relation("model", Names.ModelRelation, "/" + ModelPart);
        if (picture)
            Relation("picture", Names.ThumbnailRelation, "/" + PicturePart);

        void Relation(string id, string type, string target)
        {
            xml.WriteStartElement("Relationship");
            xml.WriteAttributeString("Target", target);
            xml.WriteAttributeString("Id", id);
            xml.WriteAttributeString("Type", type);
            xml.WriteEndElement();
        }
    }

    private static void Model(XmlWriter xml, double[] points, int[] triangles, PartLabel label)
    {
        var shift = IntoThePositive(points);
        xml.WriteStartElement("model", Names.Core);
        xml.WriteAttributeString("unit", "millimeter");
        xml.WriteAttributeString("xml", "lang", Names.Xml, "en");
        xml.WriteAttributeString("xmlns", "sw", null, Names.Own);
        Metadata(xml, label, shift);

        xml.WriteStartElement("resources");
        xml.WriteStartElement("object");
        xml.WriteAttributeString("id", "1");
        xml.WriteAttributeString("type", "model");
        xml.WriteAttributeString("name", Legal(label.Title));
        xml.WriteAttributeString("partnumber", Legal(label.PartNumber));
        xml.WriteStartElement("mesh");
        xml.WriteStartElement("vertices");
        for (int p = 0; p < points.Length; p += 3)
        {
            xml.WriteStartElement("vertex");
            xml.WriteAttributeString("x", Number(points[p]));
            xml.WriteAttributeString("y", Number(points[p + 1]));
            xml.WriteAttributeString("z", Number(points[p + 2]));
            xml.WriteEndElement();
        }

        xml.WriteEndElement();
        xml.WriteStartElement("triangles");
        for (int t = 0; t < triangles.Length; t += 3)
        {
            xml.WriteStartElement("triangle");
            xml.WriteAttributeString("v1", Whole(triangles[t]));
            xml.WriteAttributeString("v2", Whole(triangles[t + 1]));
            xml.WriteAttributeString("v3", Whole(triangles[t + 2]));
            xml.WriteEndElement();
        }

        xml.WriteEndElement();
        xml.WriteEndElement();
        xml.WriteEndElement();
        xml.WriteEndElement();

        xml.WriteStartElement("build");
        xml.WriteStartElement("item");
        xml.WriteAttributeString("objectid", "1");
        xml.WriteAttributeString("transform", $"1 0 0 0 1 0 0 0 1 {Whole(shift[0])} {Whole(shift[1])} {Whole(shift[2])}");
        xml.WriteAttributeString("partnumber", Legal(label.PartNumber));
    }

    private static void Metadata(XmlWriter xml, PartLabel label, int[] shift)
    {
        One("Title", label.Title);
        if (label.Designer is { } designer)
            One("Designer", designer);
        One("Description", label.Description);
        One("CreationDate", label.Created.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture));
        One("Application", label.Application);
        One("sw:State", label.State);
        if (label.Cautions.Count > 0)
            One("sw:Caution", string.Join(' ', label.Cautions));
        if (shift.Any(mm => mm != 0))
            One("sw:Moved", $"The build item moves the part by {Whole(shift[0])}, {Whole(shift[1])}, {Whole(shift[2])} mm; the object keeps the part's own coordinates.");

        void One(string name, string text)
        {
            xml.WriteStartElement("metadata");
            xml.WriteAttributeString("name", name);
            if (name.StartsWith("sw:", StringComparison.Ordinal))
                xml.WriteAttributeString("preserve", "1");
            xml.WriteString(Legal(text));
            xml.WriteEndElement();
        }
    }

    /// <summary>Whole millimetres along each axis that bring every point to 0 or above.</summary>
    private static int[] IntoThePositive(double[] points)
    {
        int[] shift = [0, 0, 0];
        for (int p = 0; p < points.Length; p++)
            shift[p % 3] = Math.Max(shift[p % 3], (int)Math.Ceiling(-points[p]));
        return shift;
    }

    /// <summary>Characters that no XML text can hold become "?".</summary>
    private static string Legal(string text) =>
        string.Concat(text.EnumerateRunes().Select(rune => rune.Value >= 0x10000 || XmlConvert.IsXmlChar((char)rune.Value) ? rune.ToString() : "?"));

    private static string Number(double mm) => mm.ToString("0.###############", CultureInfo.InvariantCulture);

    private static string Whole(int number) => number.ToString(CultureInfo.InvariantCulture);
}
