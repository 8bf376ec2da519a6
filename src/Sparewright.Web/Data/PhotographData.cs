using Microsoft.AspNetCore.Http.Features;
using Microsoft.Net.Http.Headers;
using Sparewright.Handover.Photographs;
using Sparewright.Shop;
using Sparewright.Web.Desk;

namespace Sparewright.Web.Data;

/// <summary>Photographs of a job: taken in one at a time, since a large one needs a lot of memory while it is decoded, and given out again.</summary>
internal sealed class PhotographDesk(IJobStore store, Desks desks) : IDisposable
{
    private readonly SemaphoreSlim _one = new(1, 1);

    /// <summary>Checks, cleans and keeps a photograph, and tells all windows of it.</summary>
    public async Task<Kept<Photograph>> TakeInAsync(JobId job, string name, Stream content, CancellationToken cancel)
    {
        await _one.WaitAsync(cancel).ConfigureAwait(false);
        try
        {
            using var file = new MemoryStream();
            await content.CopyToAsync(file, cancel).ConfigureAwait(false);
            if (!CleanPhotograph.TryRead(file.GetBuffer().AsSpan(0, (int)file.Length), out CleanPhotograph? clean, out var problem)) return new StoreProblem(StoreProblemKind.Refused, problem.What, problem.Remedy);
            Kept<Photograph> kept = await store.AddPhotographAsync(job, name, clean.MediaType, clean.WidthPx, clean.HeightPx, clean.Content, cancel).ConfigureAwait(false);
            if (kept.IsGood) desks.Find(job)?.TellOfPhotographs();
            return kept;
        }
        finally
        {
            _one.Release();
        }
    }

    public void Dispose() => _one.Dispose();
}

/// <summary>The addresses of photographs.</summary>
internal static class PhotographData
{
    /// <summary>A page of ours says so; a form on a foreign page cannot (the rule about origins stands before it).</summary>
    public const string OwnHeader = "X-Sparewright";

    private const int LongestName = 200;

    public static string Address(JobId job, int number) => $"jobs/{job}/photographs/{number}";

    public static void MapPhotographs(this WebApplication app)
    {
        app.MapPost("/jobs/{id}/photographs", async (string id, string name, HttpRequest request, PhotographDesk desk, CancellationToken cancel) =>
        {
            if (request.Headers[OwnHeader] != "1") return Results.BadRequest(new Answer("This is not from a page of the shop."));
            if (request.HttpContext.Features.Get<IHttpMaxRequestBodySizeFeature>() is { IsReadOnly: false } limit) limit.MaxRequestBodySize = CleanPhotograph.MostBytes;
            if (request.ContentLength > CleanPhotograph.MostBytes) return Results.Json(new Answer($"The photograph is larger than {CleanPhotograph.MostBytes / 1_000_000} MB; have the camera make it smaller."), statusCode: StatusCodes.Status413PayloadTooLarge);
            string plain = new([.. name.Where(c => !char.IsControl(c)).Take(LongestName)]);
            Kept<Photograph> kept = await desk.TakeInAsync(new JobId(id), plain.Length == 0 ? "photograph" : plain, request.Body, cancel).ConfigureAwait(false);
            return kept.IsGood ? Results.Json(new Answer(null)) : Results.Json(new Answer($"{kept.Problem.What}; {kept.Problem.Remedy}."), statusCode: StatusCodes.Status400BadRequest);
        }).DisableAntiforgery();

        app.MapGet("/jobs/{id}/photographs/{number:int}", async (string id, int number, IJobStore store, HttpResponse response, CancellationToken cancel) =>
        {
            Kept<JobPhotographs> all = await store.PhotographsAsync(new JobId(id), cancel).ConfigureAwait(false);
            if (all.Value?.There.FirstOrDefault(p => p.Number == number) is not { } photograph) return Results.NotFound();
            Kept<byte[]> content = await store.PhotographContentAsync(photograph.Job, number, cancel).ConfigureAwait(false);
            if (!content.IsGood) return Results.NotFound();
            response.Headers.CacheControl = "private, max-age=31536000, immutable";
            response.Headers.ContentDisposition = "inline";
            return Results.Bytes(content.Value, photograph.MediaType is "image/png" ? "image/png" : "image/jpeg", entityTag: new EntityTagHeaderValue($"\"{photograph.Hash}\""));
        });
    }

    /// <param name="Problem">Why it was not kept, or null.</param>
    private sealed record Answer(string? Problem);
}
