using Microsoft.Net.Http.Headers;
using Sparewright.Remake.Live;
using Sparewright.Shop;
using Sparewright.Web.Strength;

namespace Sparewright.Web.Data;

/// <summary>What the part view fetches: meshes, drawn views, the lettering. Only read, never changed; what an address names is the same for ever.</summary>
internal static class PictureData
{
    private const string ForEver = "private, max-age=31536000, immutable";

    public static string MeshAddress(JobId job, string key) => $"jobs/{job}/mesh/{key}?form={DisplayMesh.Form}";

    public static string MarginAddress(JobId job, string key) => $"jobs/{job}/margin/{key}";

    public static string ViewsAddress(JobId job, string key) => $"jobs/{job}/view/{key}";

    public static void MapPictures(this WebApplication app)
    {
        app.MapGet("/jobs/{id}/mesh/{key}", (string id, string key, Pictures pictures, HttpResponse response) =>
            pictures.Mesh(new JobId(id), key) is { } mesh ? Unchanging(mesh, "application/octet-stream", $"{key}-{DisplayMesh.Form}", response) : Results.NotFound());

        app.MapGet("/jobs/{id}/margin/{key}", (string id, string key, Computings computings, HttpResponse response) =>
            computings.Of(new JobId(id)).State.Done?.Cases.Select(c => c.Picture).FirstOrDefault(p => p?.Key == key) is { } picture ? Unchanging(picture.Bytes.ToArray(), "application/octet-stream", key, response) : Results.NotFound());

        app.MapGet("/jobs/{id}/view/{key}/{name}.svg", async (string id, string key, string name, Pictures pictures, HttpResponse response, CancellationToken cancel) =>
            StandardView.All.FirstOrDefault(v => v.Name == name) is { } view && await pictures.ViewAsync(new JobId(id), key, view, cancel).ConfigureAwait(false) is { } svg
                ? Unchanging(svg, "image/svg+xml", $"{key}-{name}", response)
                : Results.NotFound());

        app.MapGet("/lettering/{number:int}", (int number, DoorSettings settings) => number >= 0 && number < settings.Fonts.Count && new FileInfo(settings.Fonts[number]) is { Exists: true } font
            ? Results.File(font.FullName, "font/ttf", lastModified: font.LastWriteTimeUtc, entityTag: new EntityTagHeaderValue($"\"{font.Length:x}-{font.LastWriteTimeUtc.Ticks:x}\""))
            : Results.NotFound());
    }

    private static IResult Unchanging(byte[] bytes, string mediaType, string tag, HttpResponse response)
    {
        response.Headers.CacheControl = ForEver;
        return Results.Bytes(bytes, mediaType, entityTag: new EntityTagHeaderValue($"\"{tag}\""));
    }
}
