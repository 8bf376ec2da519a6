using System.Text.Json;
using Sparewright.Fit.Coupons;
using Sparewright.Reconcile;
using Sparewright.Reconcile.Findings;
using Sparewright.Remake.Bearing;
using Sparewright.Remake.Coupons;
using Sparewright.Remake.Fits;
using Sparewright.Remake.Ladders;
using Sparewright.Remake.Trials;

namespace Sparewright.Remake.Reports;

/// <summary>What a run found and made, for other programs. Lengths in mm, times in s.</summary>
public static class RemadeJson
{
    private static readonly JsonWriterOptions Indented = new() { Indented = true };

    /// <summary>The reconciled sizes and readings.</summary>
    public static byte[] Of(OpenedJob job, Reconciled reconciled) => Written(json =>
    {
        Head(json, job);
        ReconcileJson.WriteMembers(json, reconciled);
        json.WriteBoolean("needsAttention", reconciled.NeedsAttention);
    });

    /// <summary>The odds that everything fits, and the sizes to draw.</summary>
    public static byte[] Of(FoundFits found) => Written(json =>
    {
        Head(json, found.Job);
        FitJson.WriteMembers(json, found);
        TrialFindings.WriteShort(json, found.Trials);
        json.WriteBoolean("needsAttention", found.NeedsAttention);
    });

    /// <summary>What trials taught.</summary>
    /// <param name="written">Whether a trial was written into the job just now.</param>
    public static byte[] Of(FoundTrials found, bool written) => Written(json =>
    {
        Head(json, found.Now.Job);
        json.WriteBoolean("written", written);
        TrialFindings.WriteMembers(json, found);
        json.WriteBoolean("needsAttention", found.NeedsAttention);
    });

    /// <summary>A capability coupon.</summary>
    public static byte[] Of(OpenedJob job, Coupon coupon, MadeCoupon? made) => Written(json =>
    {
        Head(json, job);
        CouponFindings.WriteMembers(json, job, coupon, made);
    });

    /// <summary>The gauges that settle the fits.</summary>
    public static byte[] Of(FoundFits found, IReadOnlyList<PlannedLadder> planned, IReadOnlyList<MadeLadder> made, IReadOnlyDictionary<string, LadderWorth> worth) => Written(json =>
    {
        Head(json, found.Job);
        LadderFindings.WriteMembers(json, planned, made, worth);
    });

    /// <summary>The same with the files of the part drawn for the fits.</summary>
    public static byte[] Fit(Remade remade) => Written(json =>
    {
        Head(json, remade.Job, remade.State, remade.StateInWords);
        FitJson.WriteMembers(json, remade.Fits! with { PartMm3 = remade.Facts.VolumeMm3 });
        Files(json, remade);
        Times(json, remade);
    });

    /// <summary>The facts of the solid, and the files.</summary>
    public static byte[] Solid(Remade remade) => Written(json =>
    {
        Head(json, remade.Job);
        remade.Facts.WriteMembers(json);
        Files(json, remade);
        Times(json, remade);
    });

    /// <summary>Everything.</summary>
    /// <param name="inFile">True for the summary that lies beside the files: without times and folder, so that the same job gives the same file.</param>
    public static byte[] Of(Remade remade, bool inFile = false) => Written(json =>
    {
        Head(json, remade.Job, remade.State, remade.StateInWords);
        json.WriteStartObject("reconcile");
        ReconcileJson.WriteMembers(json, remade.Reconciled);
        json.WriteEndObject();
        if (remade.Fits is { } fits)
        {
            json.WriteStartObject("fit");
            FitJson.WriteMembers(json, fits);
            json.WriteEndObject();
        }

        json.WriteStartObject("solid");
        remade.Facts.WriteMembers(json);
        json.WriteEndObject();
        Files(json, remade, inFile);
        if (!inFile) Times(json, remade);
    });

    /// <summary>Whether it will hold.</summary>
    public static byte[] Of(StrengthFound found) => Written(json =>
    {
        Head(json, found.Job);
        StrengthJson.WriteMembers(json, found);
    });

    /// <summary>What was wrong, for those who asked for JSON.</summary>
    public static byte[] Of(Failure failure) => Written(json =>
    {
        json.WriteBoolean("jobIsWrong", failure.JobIsWrong);
        json.WriteStartArray("problems");
        foreach (string message in failure.Messages) json.WriteStringValue(message);
        json.WriteEndArray();
    });

    private static void Head(Utf8JsonWriter json, OpenedJob job, string state = JobCautions.State, string drawn = JobCautions.AsMeasured)
    {
        json.WriteString("part", job.Job.PartName);
        json.WriteString("state", state);
        json.WriteBoolean("couldInjure", job.Job.CouldInjure.Could);
        json.WriteStartArray("cautions");
        foreach (string caution in JobCautions.Of(job.Job)) json.WriteStringValue(caution);
        json.WriteStringValue(drawn);
        foreach (string always in Handover.Cautions.Always) json.WriteStringValue(always);
        json.WriteEndArray();
    }

    private static void Files(Utf8JsonWriter json, Remade remade, bool inFile = false)
    {
        json.WriteStartArray("files");
        foreach (MadeFile file in remade.Files)
        {
            json.WriteStartObject();
            json.WriteString("name", file.Name);
            if (!inFile) json.WriteString("path", Path.Combine(remade.Folder!, file.Name));
            json.WriteString("for", file.For);
            if (!inFile) json.WriteBoolean("upToDate", file.UpToDate);
            json.WriteEndObject();
        }

        json.WriteEndArray();
    }

    private static void Times(Utf8JsonWriter json, Remade remade)
    {
        json.WriteBoolean("needsAttention", remade.NeedsAttention);
        json.WriteBoolean("upToDate", remade.IsUpToDate);
        json.WriteNumber("seconds", Math.Round(remade.Seconds, 4));
        json.WriteStartArray("stages");
        foreach (StageTime stage in remade.Stages)
        {
            json.WriteStartObject();
            json.WriteString("name", stage.Stage.Name());
            json.WriteNumber("seconds", Math.Round(stage.Seconds, 4));
            json.WriteBoolean("upToDate", stage.UpToDate);
            json.WriteEndObject();
        }

        json.WriteEndArray();
    }

    private static byte[] Written(Action<Utf8JsonWriter> members)
    {
        using var stream = new MemoryStream();
        using (var json = new Utf8JsonWriter(stream, Indented))
        {
            json.WriteStartObject();
            members(json);
            json.WriteEndObject();
        }

        stream.WriteByte((byte)'\n');
        return stream.ToArray();
    }
}
