using Microsoft.Net.Http.Headers;
using Sparewright.Shop;
using Sparewright.Web.HandOver;

namespace Sparewright.Web.Data;

/// <summary>The files that were made for a job.</summary>
internal static class FileData
{
    public static string Address(JobId job, string name) => $"jobs/{job}/files/{Uri.EscapeDataString(name)}";

    public static void MapFiles(this WebApplication app) => app.MapGet("/jobs/{id}/files/{name}", (string id, string name, Makings makings) =>
    {
        Making making = makings.Of(new JobId(id));
        // Only what the last run has listed: a name in an address is never a path.
        return making.State.Done?.Files.FirstOrDefault(f => f.Name == name) is { } file && new FileInfo(Path.Combine(making.Folder, file.Name)) is { Exists: true } there
            ? Results.File(there.FullName, MediaType(file.Name), file.Name, lastModified: there.LastWriteTimeUtc, entityTag: new EntityTagHeaderValue($"\"{there.Length:x}-{there.LastWriteTimeUtc.Ticks:x}\""))
            : Results.NotFound();
    });

    private static string MediaType(string name) => Path.GetExtension(name) switch
    {
        ".png" => "image/png",
        ".json" => "application/json",
        ".txt" => "text/plain; charset=utf-8",
        ".3mf" => "model/3mf",
        ".stl" => "model/stl",
        ".step" => "model/step",
        _ => "application/octet-stream",
    };
}
