using System.Text;
using Sparewright.Shop;
using Sparewright.Web.Desk;
using Sparewright.Web.Readings.Csv;

namespace Sparewright.Web.Data;

/// <summary>The readings of a job as a table to save.</summary>
internal static class ReadingsData
{
    public static void MapReadings(this WebApplication app) => app.MapGet("/jobs/{id}/readings.csv", async (string id, Desks desks, HttpResponse response) =>
    {
        Kept<JobDesk> desk = await desks.OpenAsync(new JobId(id)).ConfigureAwait(false);
        if (desk.Value?.Live.Job is not { } job) return Results.NotFound();
        response.Headers.CacheControl = "no-store";
        return Results.File(Encoding.UTF8.GetBytes(ReadingsTable.Of(desk.Value.Live.Text, job)), "text/csv; charset=utf-8; header=present", "readings.csv");
    });
}
