using System.IO.Compression;
using System.Text;
using Sparewright.Handover.PrintFiles.ThreeMf;
using Sparewright.Part;
using Xunit;

namespace Sparewright.Handover.Tests;

public sealed class ThreeMfReaderTests
{
    private const string Core = "http://schemas.microsoft.com/3dmanufacturing/core/2015/02";
    private const string Vertices = """<vertices><vertex x="0" y="0" z="0"/><vertex x="1" y="0" z="0"/><vertex x="0" y="1" z="0"/><vertex x="0" y="0" z="1"/></vertices>""";
    private const string Triangles = """<triangles><triangle v1="0" v2="2" v3="1"/><triangle v1="0" v2="1" v3="3"/><triangle v1="1" v2="2" v3="3"/><triangle v1="2" v2="0" v3="3"/></triangles>""";
    private const string Corner = $"<mesh>{Vertices}{Triangles}</mesh>";
    private const string Resources = $"""<resources><object id="1">{Corner}</object></resources>""";
    private const string Build = """<build><item objectid="1"/></build>""";

    [Theory]
    [InlineData("micron", 1e-9)]
    [InlineData("millimeter", 1)]
    [InlineData("centimeter", 1e3)]
    [InlineData("inch", 25.4 * 25.4 * 25.4)]
    [InlineData("foot", 304.8 * 304.8 * 304.8)]
    [InlineData("meter", 1e9)]
    public void Every_unit_becomes_millimetres(string unit, double factor)
    {
        Assert.True(ThreeMfReader.TryRead(File(Resources + Build, $"unit=\"{unit}\""), out var shape, out var problem), problem?.What);
        Assert.Equal(factor / 6, shape.VolumeMm3, factor * 1e-12);
    }

    [Fact]
    public void Objects_of_objects_and_mirrored_items_are_placed()
    {
        const string Two = $"""
            <resources><object id="1">{Corner}</object><object id="2"><components>
            <component objectid="1" transform="2 0 0 0 2 0 0 0 2 0 0 0"/><component objectid="1" transform="1 0 0 0 1 0 0 0 1 10 0 0"/></components></object></resources>
            <build><item objectid="2" transform="-1 0 0 0 1 0 0 0 1 100 0 0"/><item objectid="1"/></build>
            """;
        Assert.True(ThreeMfReader.TryRead(File(Two), out var shape, out var problem), problem?.What);
        Assert.Equal(3, shape.Surfaces.Count);
        Assert.All(shape.Surfaces, surface => Assert.Null(surface.FirstFault()));
        Assert.Equal((8 + 1 + 1) / 6.0, shape.VolumeMm3, 1e-9);
        Assert.Equal(90, shape.Surfaces[1].Points[0], 1e-9);
    }

    [Theory]
    [InlineData("two corners", "two corners in one point")]
    [InlineData("no such point", "names a point that is not there")]
    [InlineData("no such object", "no object 7")]
    [InlineData("itself", "no object 1 before this place")]
    [InlineData("same id", "two resources have the id 1")]
    [InlineData("eleven numbers", "11 numbers instead of 12")]
    [InlineData("flattened", "flattens the object")]
    [InlineData("unit", "the unit \"furlong\" is not known")]
    [InlineData("extension", "which is not understood here")]
    [InlineData("number", "is not a finite number")]
    [InlineData("build first", "no resources before the build")]
    [InlineData("unknown element", "<surprise> is not known here")]
    [InlineData("deep", "nested more than 64 deep")]
    [InlineData("document type", "document type")]
    [InlineData("many", "places more than")]
    [InlineData("latin letters", "encoding is iso-8859-1")]
    [InlineData("entity", "not well formed")]
    public void A_broken_model_is_refused_with_its_place(string fault, string why)
    {
        string doubling = string.Concat(Enumerable.Range(2, 30).Select(id => $"<object id=\"{id}\"><components><component objectid=\"{id - 1}\"/><component objectid=\"{id - 1}\"/></components></object>"));
        byte[] file = fault switch
        {
            "two corners" => File((Resources + Build).Replace("v2=\"2\"", "v2=\"0\"", StringComparison.Ordinal)),
            "no such point" => File((Resources + Build).Replace("v3=\"3\"", "v3=\"4\"", StringComparison.Ordinal)),
            "no such object" => File(Resources + """<build><item objectid="7"/></build>"""),
            "itself" => File("""<resources><object id="1"><components><component objectid="1"/></components></object></resources>""" + Build),
            "same id" => File($"""<resources><object id="1">{Corner}</object><object id="1">{Corner}</object></resources>""" + Build),
            "eleven numbers" => File(Resources + """<build><item objectid="1" transform="1 0 0 0 1 0 0 0 1 0 0"/></build>"""),
            "flattened" => File(Resources + """<build><item objectid="1" transform="1 0 0 0 1 0 0 0 0 0 0 0"/></build>"""),
            "unit" => File(Resources + Build, "unit=\"furlong\""),
            "extension" => File(Resources + Build, "xmlns:b=\"http://example.org/beams\" requiredextensions=\"b\""),
            "number" => File((Resources + Build).Replace("x=\"1\"", "x=\"1,5\"", StringComparison.Ordinal)),
            "build first" => File(Build + Resources),
            "unknown element" => File(Resources + "<surprise/>" + Build),
            "deep" => File(Resources + Build + string.Concat(Enumerable.Repeat("<x xmlns=\"urn:x\">", 100)) + string.Concat(Enumerable.Repeat("</x>", 100))),
            "document type" => Zip(("3D/m.model", "<!DOCTYPE model [<!ENTITY a \"b\">]><model/>")),
            "many" => File($"""<resources><object id="1">{Corner}</object>{doubling}</resources><build><item objectid="31"/></build>"""),
            "latin letters" => Zip(("3D/m.model", "<?xml version=\"1.0\" encoding=\"iso-8859-1\"?><model/>")),
            // Far into a long text the reader first finds this when it is asked for the text.
            "entity" => File($"<metadata name=\"Title\">{new string('x', 9000)} &amp/ more</metadata>{Resources}{Build}"),
            _ => throw new ArgumentException(fault, nameof(fault)),
        };
        var problem = Refused(file);
        Assert.Contains(why, problem.What, StringComparison.Ordinal);
        Assert.NotEqual(Place.None, problem.Place);
        Assert.NotEmpty(problem.Remedy);
    }

    [Fact]
    public void A_package_that_unpacks_to_more_than_it_says_is_refused()
    {
        // The directory claims 1,000 bytes; the deflated data holds two million.
        byte[] file = Zip(("3D/m.model", new string(' ', 2_000_000)));
        var directory = Directory(file, "3D/m.model");
        BitConverter.TryWriteBytes(file.AsSpan(directory + 24), 1000u);
        Assert.Contains("more than the package's directory says", Refused(file).What, StringComparison.Ordinal);
    }

    [Fact]
    public void A_bomb_is_refused_by_its_ratio_before_anything_is_unpacked() =>
        Assert.Contains("unpack to far more", Refused(Zip(("3D/m.model", new string(' ', 2_000_000)))).What, StringComparison.Ordinal);

    [Fact]
    public void A_wrong_check_sum_is_refused()
    {
        byte[] file = File(Resources + Build);
        file[Directory(file, "3D/m.model") + 16] ^= 1;
        Assert.Contains("check sum is wrong", Refused(file).What, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("../evil.txt")]
    [InlineData("/etc/passwd")]
    [InlineData("C:/evil.txt")]
    [InlineData("3D\\m.model")]
    [InlineData("3D//m.model")]
    public void Entries_with_tricky_names_are_refused(string name) =>
        Assert.Contains("forbidden name", Refused(Zip((name, "x"))).What, StringComparison.Ordinal);

    [Fact]
    public void Two_entries_of_one_name_are_refused() =>
        Assert.Contains("two entries named", Refused(Zip(("a.txt", "x"), ("A.TXT", "y"))).What, StringComparison.Ordinal);

    [Fact]
    public void More_than_a_thousand_entries_are_refused() =>
        Assert.Contains("more than 1000 entries", Refused(Zip([.. Enumerable.Range(0, 1001).Select(n => ($"f{n}", "x"))])).What, StringComparison.Ordinal);

    [Fact]
    public void Encrypted_entries_are_refused()
    {
        byte[] file = File(Resources + Build);
        file[Directory(file, "3D/m.model") + 8] |= 1;
        Assert.Contains("is encrypted", Refused(file).What, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_cut_short_file_is_refused()
    {
        byte[] file = File(Resources + Build);
        for (int length = 0; length < file.Length; length++)
            Refused(file[..length]);
    }

    private static Problem Refused(byte[] file)
    {
        Assert.False(ThreeMfReader.TryRead(file, out _, out var problem));
        return problem;
    }

    internal static byte[] File(string inside, string attributes = "") =>
        Zip(("3D/m.model", $"<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<model xmlns=\"{Core}\" {attributes}>{inside}</model>"));

    private static byte[] Zip(params (string Name, string Text)[] entries)
    {
        using var stream = new MemoryStream();
        using (var zip = new ZipArchive(stream, ZipArchiveMode.Create, leaveOpen: true))
        {
            Add("[Content_Types].xml", """<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="model" ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/></Types>""");
            Add("_rels/.rels", """<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="a" Target="/3D/m.model" Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/></Relationships>""");
            foreach (var (name, text) in entries)
                Add(name, text);

            void Add(string name, string text)
            {
                var entry = zip.CreateEntry(name);
                entry.LastWriteTime = new DateTimeOffset(2026, 1, 1, 0, 0, 0, TimeSpan.Zero);
                using var writer = new StreamWriter(entry.Open(), new UTF8Encoding(false));
                writer.Write(text);
            }
        }

        return stream.ToArray();
    }

    /// <summary>Where the directory's entry of that name begins.</summary>
    private static int Directory(byte[] file, string name)
    {
        int at = file.AsSpan().LastIndexOf(Encoding.UTF8.GetBytes(name)) - 46;
        Assert.Equal(0x02014b50u, BitConverter.ToUInt32(file, at));
        return at;
    }
}
