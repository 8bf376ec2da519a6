using System.Globalization;
using System.Text.Json;
using System.Xml.Linq;
using Sparewright.Handover.PrintFiles;
using Sparewright.Handover.PrintFiles.ThreeMf;
using Sparewright.Part;
using Sparewright.Part.Record;
using Sparewright.Solid;
using Xunit;

namespace Sparewright.Journeys;

/// <summary>The main job on the example, done once for all journeys that begin with it or ask about it.</summary>
public sealed class ExampleMade : IAsyncLifetime
{
    private readonly Scratch _scratch = new();

    public string Folder => _scratch["out"];

    internal Ran ForPeople { get; private set; } = null!;

    internal Ran Again { get; private set; } = null!;

    internal Dictionary<string, (DateTime Written, string Hash)> First { get; private set; } = null!;

    internal JsonElement Json => Again.Json;

    /// <summary>What lies there, once more elsewhere.</summary>
    public void CopyTo(string folder)
    {
        Directory.CreateDirectory(folder);
        foreach (string file in Directory.EnumerateFiles(Folder)) File.Copy(file, Path.Combine(folder, Path.GetFileName(file)));
    }

    public string Made(string ending) => Directory.EnumerateFiles(Folder, "*" + ending).Single();

    public async ValueTask InitializeAsync()
    {
        ForPeople = await Tool.RunAsync("remake", Tool.Example("vent-knuckle"), "--out", Folder);
        First = Scratch.Files(Folder);
        Again = await Tool.RunAsync("remake", Tool.Example("vent-knuckle"), "--out", Folder, "--json");
    }

    public ValueTask DisposeAsync()
    {
        _scratch.Dispose();
        return ValueTask.CompletedTask;
    }
}

/// <summary>The journeys that share what was made of the example.</summary>
[CollectionDefinition(Name)]
public sealed class MadeJourneys : ICollectionFixture<ExampleMade>
{
    public const string Name = "what was made of the example";
}

/// <summary>From caliper readings to a printable, proven part.</summary>
[Collection(MadeJourneys.Name)]
public sealed class ExampleJourney(ExampleMade made)
{
    private JsonElement Solid => made.Json.GetProperty("solid");

    /// <summary>A size as it is drawn: for the fits where they decide it, else as measured.</summary>
    private double Drawn(string size) => made.Json.GetProperty("fit").GetProperty("drawn").TryGetProperty(size, out JsonElement mm) ? mm.GetDouble()
        : made.Json.GetProperty("reconcile").GetProperty("sizes").GetProperty(size).GetProperty("estimate").GetDouble();

    [Fact]
    public void The_wrong_reading_is_named_and_the_job_asks_for_attention()
    {
        Assert.Equal(1, made.ForPeople.Code);
        JsonElement contradiction = Assert.Single(made.Json.GetProperty("reconcile").GetProperty("contradictions").EnumerateArray());
        Assert.Equal("r15", Assert.Single(contradiction.GetProperty("readings").EnumerateArray()).GetString());
        Assert.True(contradiction.GetProperty("setAside").GetBoolean());
        Assert.Equal(30.41, contradiction.GetProperty("observed").GetDouble(), 0.02);
        // By the sizes from which the readings were made: lug_reach + socket_od / 2 − pin_d / 2.
        Assert.Equal(28 + 17 / 2.0 - 5 / 2.0, contradiction.GetProperty("shouldRead").GetDouble(), 0.05);
        Assert.Contains("r15 (outside socket.side to pin_hole.wall", made.ForPeople.Out, StringComparison.Ordinal);
        Assert.Contains("redundancy", made.ForPeople.Out, StringComparison.Ordinal);
        Assert.Contains("The part is drawn without it", made.ForPeople.Out, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_reading_taken_again_on_the_solid_is_what_the_elements_say()
    {
        JsonElement[] readings = [.. Solid.GetProperty("remeasured").EnumerateArray()];
        int caliperReadings = JobFile.ReadFile(Path.Combine(Tool.Example("vent-knuckle"), "job.yaml")).Job!.Readings.OfType<CaliperReading>().Count();
        Assert.InRange(caliperReadings, 20, 40);
        Assert.Equal(caliperReadings, readings.Length);
        Assert.All(readings, r => Assert.InRange(Math.Abs(r.GetProperty("difference").GetDouble()), 0, 1e-3));
        Assert.Contains($"{caliperReadings} readings taken again on the solid", made.ForPeople.Out, StringComparison.Ordinal);
    }

    [Fact]
    public void The_triangles_hold_the_volume_of_the_solid()
    {
        Assert.True(Solid.GetProperty("valid").GetBoolean());
        double solid = Solid.GetProperty("volumeMm3").GetDouble();
        byte[] stl = File.ReadAllBytes(made.Made("_mm.stl"));
        Assert.Equal(84 + 50L * Solid.GetProperty("triangles").GetInt32(), stl.Length);
        Assert.True(Stl.TryRead(stl, out ReadShape? inStl, out Problem? why), why?.What);
        Assert.Equal(1, inStl.VolumeMm3 / solid, 1e-3);

        Assert.True(ThreeMfReader.TryRead(File.ReadAllBytes(made.Made(".3mf")), out ReadShape? inThreeMf, out why), why?.What);
        Assert.Equal(1, inThreeMf.VolumeMm3 / solid, 1e-3);
        Assert.Equal("Vent knuckle", inThreeMf.Metadata["Title"]);
        Assert.Equal("as drawn for the fits", inThreeMf.Metadata["sw:State"]);
        Assert.Contains("As drawn for the fits", inThreeMf.Metadata["Description"], StringComparison.Ordinal);
        Assert.All(inThreeMf.Surfaces, s => Assert.Null(s.FirstFault()));
    }

    [Fact]
    public async Task The_exact_solid_comes_back_from_its_file()
    {
        await using var worker = new KernelWorker(Tool.Kernel());
        ExactSolid read = (await worker.ReadStepAsync(made.Made(".step"), TestContext.Current.CancellationToken)).OrThrow();
        Assert.Equal(1, read.VolumeMm3 / Solid.GetProperty("volumeMm3").GetDouble(), 1e-6);
        double bore = Drawn("bore_d");
        Assert.True(bore > made.Json.GetProperty("reconcile").GetProperty("sizes").GetProperty("bore_d").GetProperty("estimate").GetDouble() + 0.1);
        Assert.Contains(read.Faces, f => f.Kind == SurfaceKind.Cylinder && !f.Bulges && Math.Abs(f.RadiusMm - bore / 2) < 1e-9);
    }

    [Fact]
    public void The_picture_shows_the_main_sizes_and_flags_the_doubtful_one()
    {
        byte[] png = File.ReadAllBytes(made.Made(".png"));
        Assert.Equal([0x89, (byte)'P', (byte)'N', (byte)'G'], png[..4]);
        XElement svg = XDocument.Load(made.Made(".svg")).Root!;
        string words = string.Join('\n', svg.Descendants(svg.Name.Namespace + "text").Select(t => t.Value));
        foreach (JsonProperty size in made.Json.GetProperty("reconcile").GetProperty("sizes").EnumerateObject())
        {
            string value = Drawn(size.Name).ToString(size.Value.GetProperty("status").GetString() == "undecided" ? "0.##" : "0.00", CultureInfo.InvariantCulture);
            Assert.True(words.Contains(value, StringComparison.Ordinal), $"{size.Name} {value} is not in the picture");
        }

        Assert.Contains("As drawn for the fits", words, StringComparison.Ordinal);
        Assert.Contains("for the fits", words, StringComparison.Ordinal);
        Assert.Contains("drawn otherwise than measured: bore_d", words, StringComparison.Ordinal);
        Assert.Contains("r15", words, StringComparison.Ordinal);
    }

    [Fact]
    public void What_is_up_to_date_is_not_made_again()
    {
        Assert.Equal(1, made.Again.Code);
        Assert.True(made.Json.GetProperty("upToDate").GetBoolean());
        Assert.All(made.Json.GetProperty("stages").EnumerateArray(), s => Assert.True(s.GetProperty("upToDate").GetBoolean(), s.ToString()));
        Assert.Equal(made.First, Scratch.Files(made.Folder));
    }

    [Fact]
    public void The_summary_lies_beside_the_files_and_nothing_hidden_is_left()
    {
        string text = File.ReadAllText(Path.Combine(made.Folder, "summary.txt"));
        Assert.Contains("r15", text, StringComparison.Ordinal);
        Assert.Contains("As drawn for the fits", text, StringComparison.Ordinal);
        Assert.Contains("not an approved spare part", text, StringComparison.Ordinal);
        using JsonDocument json = JsonDocument.Parse(File.ReadAllBytes(Path.Combine(made.Folder, "summary.json")));
        Assert.Equal(Solid.GetProperty("volumeMm3").GetDouble(), json.RootElement.GetProperty("solid").GetProperty("volumeMm3").GetDouble());
        Assert.Equal(
            ["remade.json", "summary.json", "summary.txt", "vent-knuckle_as-drawn-for-the-fits.3mf", "vent-knuckle_as-drawn-for-the-fits.png", "vent-knuckle_as-drawn-for-the-fits.step", "vent-knuckle_as-drawn-for-the-fits.svg", "vent-knuckle_as-drawn-for-the-fits_mm.stl"],
            made.First.Keys.Order(StringComparer.Ordinal));
    }

    [Fact]
    public void No_output_calls_the_part_safe()
    {
        foreach (string text in new[] { made.ForPeople.Out, made.Again.Out, File.ReadAllText(Path.Combine(made.Folder, "summary.txt")), File.ReadAllText(made.Made(".svg")) })
            Assert.DoesNotContain("safe", text, StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public void Results_go_to_standard_output_and_progress_to_standard_error()
    {
        Assert.StartsWith("{", made.Again.Out, StringComparison.Ordinal);
        Assert.Contains("solid: ", made.ForPeople.Error, StringComparison.Ordinal);
        Assert.DoesNotContain("\e", made.ForPeople.Out + made.ForPeople.Error, StringComparison.Ordinal);
    }
}
