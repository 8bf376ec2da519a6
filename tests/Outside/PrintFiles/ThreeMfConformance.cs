using System.Globalization;
using System.IO.Compression;
using System.Xml;
using System.Xml.Schema;
using Sparewright.Handover.PrintFiles.ThreeMf;
using Xunit;

namespace Sparewright.Outside;

/// <summary>
/// Our 3MF reader and writer against the 3MF Consortium's own files and schema (BSD-2-Clause):
/// 3MFConsortium/spec_core@997b385 appendix B.1.1 for Core 1.4.0, 3MFConsortium/3mf-samples@665e20dc for the files.
/// </summary>
public sealed class ThreeMfConformance
{
    /// <summary>
    /// 3.4.1a asks to refuse an unknown metadata name, but must-accept file 3.4.1c asks to ignore one.
    /// 2.3.2c asks to refuse an attribute of a foreign namespace, but Core 1.4.0 says that readers must ignore those.
    /// </summary>
    private static readonly string[] Contradictory = ["MUSTFAIL_Chapter3.4.1a_MissingMetadataName", "MUSTFAIL_Chapter2.3.2c_UndefinedNameSpaceInXDS"];

    [Fact]
    public void All_13_must_accept_files_are_read()
    {
        var files = Directory.GetFiles(Checks.Path("3mf/mustpass"), "*.3mf");
        Assert.Equal(13, files.Length);
        Assert.All(files, file => Assert.True(ThreeMfReader.TryRead(File.ReadAllBytes(file), out _, out var problem), $"{Path.GetFileName(file)}: {problem?.What}"));
    }

    [Fact]
    public void Eighteen_of_the_20_must_refuse_files_are_refused_and_the_two_others_contradict_the_standard()
    {
        var files = Directory.GetFiles(Checks.Path("3mf/mustfail"), "*.3mf");
        Assert.Equal(20, files.Length);
        var accepted = files.Where(file => ThreeMfReader.TryRead(File.ReadAllBytes(file), out _, out _)).Select(file => Path.GetFileNameWithoutExtension(file));
        Assert.Equal(Contradictory.Order(StringComparer.Ordinal), accepted.Order(StringComparer.Ordinal));
    }

    [Theory]
    [InlineData("2.1.1a", "starts from 0 models")]
    [InlineData("2.1.1b", "leads outside the package")]
    [InlineData("2.1.2", "starts from 2 models")]
    [InlineData("2.1.3", "/Metadata/nothumbnailfile.png is named but not in the package")]
    [InlineData("2.1.4", "two relationships have the id rel0")]
    [InlineData("2.3.2a", "is not UTF-8 text")]
    [InlineData("2.3.2b", "document type")]
    [InlineData("2.3.2d", "'dcterms' is an undeclared prefix")]
    [InlineData("2.3.4", "xml:space")]
    [InlineData("3.4.1b", "the metadata name Title is used twice")]
    [InlineData("3.4.3.1a", "there is no object 14")]
    [InlineData("3.4.3.1b", "the type \"other\"")]
    [InlineData("3.4a", "not well formed")]
    [InlineData("3.4b", "there is no build")]
    [InlineData("3.4c", "no resources")]
    [InlineData("4a", "the object type \"invalidtype\" is not known")]
    [InlineData("4b", "a pindex but no pid")]
    [InlineData("5a", "two resources have the id 1")]
    public void Each_refusal_names_the_rule_that_its_file_breaks(string chapter, string why)
    {
        string file = Assert.Single(Directory.GetFiles(Checks.Path("3mf/mustfail"), $"MUSTFAIL_Chapter{chapter}_*.3mf"));
        Assert.False(ThreeMfReader.TryRead(File.ReadAllBytes(file), out _, out var problem));
        Assert.Contains(why, problem.What, StringComparison.Ordinal);
        Assert.NotEmpty(problem.Remedy);
    }

    [Fact]
    public void The_8_samples_have_their_reference_volume_area_and_triangles()
    {
        // Reference: tables/3mf_core_samples_reference.csv, computed apart from this reader by the divergence theorem.
        var rows = File.ReadLines(Checks.Path("tables/3mf_core_samples_reference.csv")).Skip(1).Select(line => line.Split(',')).ToList();
        Assert.Equal(8, rows.Count);
        foreach (var row in rows)
        {
            Assert.True(ThreeMfReader.TryRead(File.ReadAllBytes(Checks.Path($"3mf/samples/{row[0]}")), out var shape, out var problem), $"{row[0]}: {problem?.What}");
            Assert.Equal(int.Parse(row[4], CultureInfo.InvariantCulture), shape.TriangleCount);
            Assert.Equal(Number(row[5]), shape.VolumeMm3, Math.Max(6e-4, 1e-6 * Number(row[5])));
            Assert.Equal(Number(row[6]), shape.Surfaces.Sum(s => s.AreaMm2), Math.Max(6e-4, 1e-6 * Number(row[6])));
        }
    }

    [Fact]
    public void What_we_write_has_no_error_against_the_schema_of_core_1_4_0()
    {
        var schemas = new XmlSchemaSet { XmlResolver = null };
        schemas.Add("http://www.w3.org/XML/1998/namespace", Xml(Checks.Path("3mf/xml.xsd")));
        schemas.Add(null, Xml(Checks.Path("3mf/core-1.4.0.xsd")));
        schemas.Compile();

        var errors = new List<string>();
        var settings = new XmlReaderSettings { Schemas = schemas, ValidationType = ValidationType.Schema, ValidationFlags = XmlSchemaValidationFlags.ReportValidationWarnings };
        settings.ValidationEventHandler += (_, e) => errors.Add(e.Message);
        using var zip = new ZipArchive(new MemoryStream(PrintedPart.ThreeMf()));
        using var reader = XmlReader.Create(zip.GetEntry("3D/3dmodel.model")!.Open(), settings);
        int elements = 0;
        while (reader.Read())
            elements += reader.NodeType == XmlNodeType.Element ? 1 : 0;
        Assert.Empty(errors);
        Assert.True(elements > 300, "the schema must have seen the mesh");
    }

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);

    // The schema of xml: attributes carries the W3C's document type; it is our own file and is read without fetching anything.
    private static XmlReader Xml(string path) => XmlReader.Create(path, new XmlReaderSettings { DtdProcessing = DtdProcessing.Ignore, XmlResolver = null });
}
