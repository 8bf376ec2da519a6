using System.Net;
using System.Net.Http.Headers;
using System.Xml.Linq;
using Sparewright.Remake.Live;
using Sparewright.Web.Data;
using Xunit;

namespace Sparewright.Web.Tests.PartView;

/// <summary>What browsers fetch for the picture: the very bytes, kept for ever under their tag, and nothing that changes anything.</summary>
public class PictureDataTests(OpenDoor door) : IClassFixture<OpenDoor>
{
    private const string Knuckle = "vent-knuckle";

    private string Mesh => PictureData.MeshAddress(door.Desk(Knuckle).Head.Job, door.Part(Knuckle).Key);

    private string View(string name) => $"{PictureData.ViewsAddress(door.Desk(Knuckle).Head.Job, door.Part(Knuckle).Key)}/{name}.svg";

    [Fact]
    public async Task The_mesh_comes_as_made_and_is_not_sent_twice()
    {
        HttpResponseMessage answer = await door.Browser.GetAsync(Mesh);
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        Assert.Equal("application/octet-stream", answer.Content.Headers.ContentType!.MediaType);
        Assert.Equal(DisplayMesh.Of(door.Part(Knuckle)).ToBytes(), await answer.Content.ReadAsByteArrayAsync());
        Assert.False(answer.Headers.ETag!.IsWeak);
        Assert.Contains("immutable", answer.Headers.CacheControl!.ToString());

        using var again = new HttpRequestMessage(HttpMethod.Get, Mesh);
        again.Headers.IfNoneMatch.Add(answer.Headers.ETag);
        HttpResponseMessage unchanged = await door.Browser.SendAsync(again);
        Assert.Equal(HttpStatusCode.NotModified, unchanged.StatusCode);
        Assert.Empty(await unchanged.Content.ReadAsByteArrayAsync());

        using var other = new HttpRequestMessage(HttpMethod.Get, Mesh);
        other.Headers.IfNoneMatch.Add(new EntityTagHeaderValue("\"another\""));
        Assert.Equal(HttpStatusCode.OK, (await door.Browser.SendAsync(other)).StatusCode);
    }

    [Fact]
    public async Task What_is_not_in_view_is_not_there()
    {
        string job = door.Desk(Knuckle).Head.Job.ToString();
        foreach (string address in new[] { $"jobs/{job}/mesh/0000", $"jobs/{job}/margin/0000", $"jobs/nothing/mesh/{door.Part(Knuckle).Key}", $"jobs/{job}/view/0000/front.svg", View("askew"), "lettering/7", "lettering/-1" })
            Assert.Equal(HttpStatusCode.NotFound, (await door.Browser.GetAsync(address)).StatusCode);
    }

    [Theory]
    [InlineData("POST")]
    [InlineData("PUT")]
    [InlineData("DELETE")]
    public async Task Only_reading_is_offered(string method)
    {
        int revision = door.Desk(Knuckle).Head.Latest.Number;
        foreach (string address in new[] { Mesh, View("front") })
        {
            using var request = new HttpRequestMessage(new HttpMethod(method), address);
            HttpResponseMessage answer = await door.Browser.SendAsync(request);
            Assert.False(answer.IsSuccessStatusCode, $"{method} {address}: {answer.StatusCode}");
        }

        Assert.Equal(revision, door.Desk(Knuckle).Head.Latest.Number);
    }

    [Fact]
    public async Task A_stranger_gets_nothing()
    {
        foreach (string address in new[] { Mesh, View("front"), "lettering/0" })
            Assert.Equal(HttpStatusCode.Forbidden, (await door.Stranger.GetAsync(address)).StatusCode);
    }

    [Fact]
    public async Task Every_standard_view_is_drawn_with_its_hidden_lines_apart()
    {
        foreach (StandardView view in StandardView.All)
        {
            HttpResponseMessage answer = await door.Browser.GetAsync(View(view.Name));
            Assert.Equal("image/svg+xml", answer.Content.Headers.ContentType!.MediaType);
            string text = await answer.Content.ReadAsStringAsync();
            Assert.DoesNotContain("style=", text, StringComparison.Ordinal);
            XElement svg = XElement.Parse(text);
            Assert.Equal($"Vent knuckle, {view.Name}", svg.Elements().Single(e => e.Name.LocalName == "title").Value);
            string[] kinds = [.. svg.Elements().Where(e => e.Name.LocalName == "path").Select(e => (string)e.Attribute("class")!)];
            Assert.Contains("visible", kinds);
            Assert.Contains("hidden", kinds);
        }
    }

    [Fact]
    public async Task The_lettering_is_the_distribution_s_own_file()
    {
        string file = Handover.Picture.Lettering.UsualFiles[0];
        Assert.SkipUnless(File.Exists(file), $"{file} is not installed");
        HttpResponseMessage answer = await door.Browser.GetAsync("lettering/0");
        Assert.Equal("font/ttf", answer.Content.Headers.ContentType!.MediaType);
        Assert.Equal(await File.ReadAllBytesAsync(file), await answer.Content.ReadAsByteArrayAsync());
    }
}
