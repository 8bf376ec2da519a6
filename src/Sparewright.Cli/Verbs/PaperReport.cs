using System.Text.Json;
using Sparewright.Handover.Papers;
using Sparewright.Remake.Reports;

namespace Sparewright.Cli.Verbs;

/// <summary>What <c>bundle</c> and <c>unbundle</c> say: which files there are, and what was left out or changed.</summary>
internal static class PaperReport
{
    public static Report Of(JobPapers papers, string done) => new(
    [
        .. papers.All.Select(p => new ReportPart.Line(p.Name)),
        .. papers.Remarks.Select(r => new ReportPart.Line(r, Tone.LookHere)),
        new ReportPart.Line(done, Tone.Good),
    ]);

    public static byte[] Json(JobPapers papers, Action<Utf8JsonWriter> head)
    {
        using var stream = new MemoryStream();
        using (var json = new Utf8JsonWriter(stream, new JsonWriterOptions { Indented = true }))
        {
            json.WriteStartObject();
            head(json);
            json.WriteStartArray("files");
            foreach (Paper paper in papers.All) json.WriteStringValue(paper.Name);
            json.WriteEndArray();
            json.WriteStartArray("remarks");
            foreach (string remark in papers.Remarks) json.WriteStringValue(remark);
            json.WriteEndArray();
            json.WriteEndObject();
        }

        stream.WriteByte((byte)'\n');
        return stream.ToArray();
    }
}
