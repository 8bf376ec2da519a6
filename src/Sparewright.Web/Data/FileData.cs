using Microsoft.Net.Http.Headers;
using Sparewright.Remake;
using Sparewright.Shop;
using Sparewright.Web.Fit;
using Sparewright.Web.HandOver;
using Sparewright.Web.Trials;

namespace Sparewright.Web.Data;

/// <summary>The files that were made for a job.</summary>
internal static class FileData
{
    public static string Address(JobId job, string name) => $"jobs/{job}/files/{Uri.EscapeDataString(name)}";

    /// <summary>Of a file of the gauges for a counterpart.</summary>
    public static string GaugesAddress(JobId job, string counterpart, string name) => $"jobs/{job}/gauges/{Uri.EscapeDataString(counterpart)}/{Uri.EscapeDataString(name)}";

    /// <summary>Of a file of the capability coupon that was made for a job.</summary>
    public static string CouponAddress(JobId job, string name) => $"jobs/{job}/coupon/{Uri.EscapeDataString(name)}";

    public static void MapFiles(this WebApplication app)
    {
        app.MapGet("/jobs/{id}/files/{name}", (string id, string name, Makings makings) => File(makings.Of(new JobId(id)).Folder, makings.Of(new JobId(id)).State.Done?.Files, name));

        app.MapGet("/jobs/{id}/gauges/{counterpart}/{name}", (string id, string counterpart, string name, GaugeMakings makings) =>
            makings.Find(new JobId(id), counterpart) is { } making ? File(making.Folder, making.State.Done?.Files, name) : Results.NotFound());

        app.MapGet("/jobs/{id}/coupon/{name}", (string id, string name, CouponMakings makings) =>
            makings.Find(new JobId(id)) is { } making ? File(making.Folder, making.State.Done?.Files, name) : Results.NotFound());
    }

    /// <summary>Only what the last run has listed: a name in an address is never a path.</summary>
    private static IResult File(string folder, IReadOnlyList<MadeFile>? listed, string name) =>
        listed?.FirstOrDefault(f => f.Name == name) is { } file && new FileInfo(Path.Combine(folder, file.Name)) is { Exists: true } there
            ? Results.File(there.FullName, MediaType(file.Name), file.Name, lastModified: there.LastWriteTimeUtc, entityTag: new EntityTagHeaderValue($"\"{there.Length:x}-{there.LastWriteTimeUtc.Ticks:x}\""))
            : Results.NotFound();

    private static string MediaType(string name) => Path.GetExtension(name) switch
    {
        ".png" => "image/png",
        ".json" => "application/json",
        ".txt" => "text/plain; charset=utf-8",
        ".3mf" => "model/3mf",
        ".stl" => "model/stl",
        ".svg" => "image/svg+xml",
        ".csv" => "text/csv; charset=utf-8",
        ".yaml" => "application/yaml",
        ".step" => "model/step",
        _ => "application/octet-stream",
    };
}
