using System.Text;
using Microsoft.Net.Http.Headers;
using Sparewright.Shop;

namespace Sparewright.Web.Shelf;

/// <summary>The text of a job, to be saved: byte for byte as it is kept.</summary>
internal static class JobTextData
{
    public static void MapJobText(this WebApplication app) => app.MapGet("/jobs/{job}/job.yaml", async (string job, IJobStore store, HttpContext context) =>
    {
        Kept<JobHead> head = await store.HeadAsync(new JobId(job), context.RequestAborted).ConfigureAwait(false);
        if (!head.IsGood) return Results.NotFound();
        context.Response.Headers[HeaderNames.CacheControl] = "no-cache";
        return Results.File(new UTF8Encoding(false).GetBytes(head.Value.Latest.Text), "application/yaml", "job.yaml");
    });
}
