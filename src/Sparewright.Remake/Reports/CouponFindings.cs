using System.Globalization;
using System.Text.Json;
using Sparewright.Fit.Capability;
using Sparewright.Fit.Counterparts;
using Sparewright.Fit.Coupons;
using Sparewright.Measure;
using Sparewright.Measure.Quantities;
using Sparewright.Part.Record;
using Sparewright.Remake.Coupons;

namespace Sparewright.Remake.Reports;

/// <summary>A capability coupon as it is planned and made, for people and for programs.</summary>
internal static class CouponFindings
{
    public static IEnumerable<ReportPart> Of(OpenedJob job, Coupon coupon, MadeCoupon? made, string? folder, LengthUnit unit)
    {
        ProcessSetting process = JobProcess.Of(job.Job.Print);
        yield return new ReportPart.Heading("Capability coupon");
        yield return new ReportPart.Line($"For {process.Machine}, in {process.Material}{(process.Settings.Length > 0 ? $", {process.Settings}" : "")}: another machine, material or setting is another process.");
        yield return new ReportPart.Table(["number", "feature", "shows", "jaws", "drawn", "where"], [.. from f in coupon.Features from r in f.Readings
            select new ReportPart.Row(Tone.Plain, Number(r.Number), f.Name, f.Surface.Words(), Way(r), LengthsShown.WithUnit(r.DrawnMm, unit), r.How)]);
        if (made is null)
        {
            yield return new ReportPart.Line("With --out it is made, ready to print, with a picture that bears these numbers and a table for the readings.");
            yield break;
        }

        yield return new ReportPart.Line(string.Create(CultureInfo.InvariantCulture, $"{made.VolumeMm3 / 1000:0.0} cm³ where it is solid; every reading of the plan was taken on the exact solid, and is what was drawn."), Tone.Good);
        yield return new ReportPart.Heading($"Files in {folder}");
        yield return new ReportPart.Table(["file", "for"], [.. made.Files.Select(f => new ReportPart.Row(Tone.Plain, f.Name, f.UpToDate ? $"{f.For}; it lay there already, and is as it was" : f.For))]);
        yield return new ReportPart.Line($"Print it as the part is going to be printed, let it cool, measure each feature once or more, and write the readings into {CouponWork.TableName}. Then: sparewright trial coupon {job.Path} --table {Path.Combine(folder!, CouponWork.TableName)}");
    }

    public static void WriteMembers(Utf8JsonWriter json, OpenedJob job, Coupon coupon, MadeCoupon? made)
    {
        ProcessSetting process = JobProcess.Of(job.Job.Print);
        json.WriteStartObject("process");
        json.WriteString("kind", process.Process.ToString().ToUpperInvariant());
        json.WriteString("machine", process.Machine);
        json.WriteString("material", process.Material);
        json.WriteString("settings", process.Settings);
        json.WriteEndObject();
        json.WriteStartArray("features");
        foreach (CouponFeature feature in coupon.Features)
        {
            json.WriteStartObject();
            json.WriteString("name", feature.Name);
            json.WriteString("surface", feature.Surface.Words());
            json.WriteNumber("drawn", feature.DrawnMm);
            json.WriteStartArray("readings");
            foreach (CouponReading reading in feature.Readings)
            {
                json.WriteStartObject();
                json.WriteNumber("number", reading.Number);
                json.WriteString("way", Way(reading));
                json.WriteNumber("drawn", reading.DrawnMm);
                json.WriteString("where", reading.How);
                json.WriteEndObject();
            }

            json.WriteEndArray();
            json.WriteEndObject();
        }

        json.WriteEndArray();
        if (made is not null) json.WriteNumber("volumeMm3", made.VolumeMm3);
        json.WriteStartArray("files");
        foreach (MadeFile file in made?.Files ?? []) json.WriteStringValue(file.Name);
        json.WriteEndArray();
    }

    private static string Way(CouponReading reading) => reading.Reading.Way == ReadingWay.Inside ? "inside" : "outside";

    private static string Number(int n) => n.ToString(CultureInfo.InvariantCulture);
}
