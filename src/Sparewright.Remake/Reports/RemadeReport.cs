using System.Globalization;
using Sparewright.Fit.Coupons;
using Sparewright.Measure.Quantities;
using Sparewright.Reconcile.Findings;
using Sparewright.Remake.Coupons;
using Sparewright.Remake.Fits;
using Sparewright.Remake.Ladders;
using Sparewright.Remake.Trials;

namespace Sparewright.Remake.Reports;

/// <summary>Reports of what a run found and made.</summary>
public static class RemadeReport
{
    /// <summary>Sizes and contradictions alone.</summary>
    /// <param name="budgets">With the budget of each reading.</param>
    public static Report Of(OpenedJob job, Reconciled reconciled, LengthUnit unit, bool budgets = false) => new(
    [
        new ReportPart.Heading(job.Job.PartName),
        .. CautionLines(job),
        .. Findings.Of(reconciled, unit),
        .. budgets ? Findings.Budgets(reconciled) : [],
        .. reconciled.NeedsAttention ? Array.Empty<ReportPart>() : [new ReportPart.Line("All readings agree.", Tone.Good)],
    ]);

    /// <summary>Fits and the sizes to draw for them.</summary>
    public static Report Of(FoundFits found, LengthUnit unit) => new(
    [
        new ReportPart.Heading(found.Job.Job.PartName),
        .. CautionLines(found.Job),
        .. FitFindings.Of(found, unit),
        .. TrialFindings.InShort(found, unit),
        .. found.Reconciled.NeedsAttention ? [new ReportPart.Line("The readings of the old part need a look as well: `sparewright reconcile` says which.", Tone.LookHere)] : Array.Empty<ReportPart>(),
    ]);

    /// <summary>What trials taught, for whoever has the job before them.</summary>
    public static Report OfTrials(FoundTrials found, LengthUnit unit) => new([.. TrialFindings.Of(found, unit)]);

    /// <summary>What trials taught.</summary>
    public static Report Of(FoundTrials found, LengthUnit unit) => new(
    [
        new ReportPart.Heading(found.Now.Job.Job.PartName),
        .. CautionLines(found.Now.Job),
        .. TrialFindings.Of(found, unit),
    ]);

    /// <summary>A capability coupon.</summary>
    public static Report Of(OpenedJob job, Coupon coupon, MadeCoupon? made, string? folder, LengthUnit unit) => new([.. CouponFindings.Of(job, coupon, made, folder, unit)]);

    /// <summary>The gauges that settle the fits.</summary>
    public static Report Of(FoundFits found, IReadOnlyList<PlannedLadder> planned, IReadOnlyList<MadeLadder> made, IReadOnlyDictionary<string, LadderWorth> worth, string? folder, LengthUnit unit) => new(
    [
        new ReportPart.Heading(found.Job.Job.PartName),
        .. CautionLines(found.Job),
        .. LadderFindings.Of(found, planned, made, worth, folder, unit),
    ]);

    /// <summary>The whole account of a run.</summary>
    /// <param name="inFile">True for the summary that lies beside the files and must be the same however often it is made.</param>
    public static Report Of(Remade remade, LengthUnit unit, bool inFile = false) => new(
    [
        new ReportPart.Heading(remade.Job.Job.PartName),
        .. CautionLines(remade.Job),
        .. remade.Job.Job.About is { } about ? [new ReportPart.Line(about)] : Array.Empty<ReportPart>(),
        .. Findings.Of(remade.Reconciled, unit),
        .. Fits(remade, unit),
        new ReportPart.Heading("The solid"),
        .. Solid(remade.Facts),
        .. remade.Files.Count == 0 ? [] : Files(remade, inFile),
        new ReportPart.Heading("What to do next"),
        .. Next(remade),
    ]);

    /// <summary>Fits, and the files of the part drawn for them.</summary>
    public static Report OfFits(Remade remade, LengthUnit unit) => new(
    [
        .. Of(remade.Fits! with { PartMm3 = remade.Facts.VolumeMm3 }, unit).Parts,
        .. Solid(remade.Facts),
        .. remade.Files.Count == 0 ? [] : Files(remade, inFile: false),
        new ReportPart.Line(JobCautions.AsFitted),
        .. NotBevelled(remade) is { } byHand ? [byHand] : Array.Empty<ReportPart>(),
        new ReportPart.Line(string.Join(' ', Handover.Cautions.Always)),
    ]);

    private static IEnumerable<ReportPart> Fits(Remade remade, LengthUnit unit) => remade.Fits is { } fits
        ? FitFindings.Of(fits, unit)
        : remade.FitsWhyNot.Count == 0 ? [] : [new ReportPart.Heading("Fits"), .. remade.FitsWhyNot.Select(why => new ReportPart.Line($"Not worked out: {why}", Tone.LookHere))];

    private static ReportPart.Line? NotBevelled(Remade remade) => remade.CouldNotBevel
        ? new("The fitting edges on the bed could not be bevelled on this solid: the first layers will stand out there. Cut them off with a knife before anything is tried.", Tone.LookHere)
        : null;

    private static IEnumerable<ReportPart> CautionLines(OpenedJob job) => JobCautions.Of(job.Job).Select(c => new ReportPart.Line(c, Tone.Caution));

    private static IEnumerable<ReportPart> Solid(SolidFacts facts)
    {
        var size = facts.High - facts.Low;
        yield return new ReportPart.Line(string.Create(CultureInfo.InvariantCulture,
            $"One closed solid of {facts.Faces} faces: {facts.VolumeMm3 / 1000:0.00} cm³, {size.X:0.0} × {size.Y:0.0} × {size.Z:0.0} mm. {facts.Triangles} triangles, none farther than {facts.WorstChordMm:0.000} mm from it; they hold {100 * facts.MeshVolumeMm3 / facts.VolumeMm3:0.000} % of its volume."));
        string taken = facts.Taken == 1 ? "1 reading" : $"{facts.Taken} readings";
        if (facts.Taken > 0)
            yield return !facts.Differs
                ? new ReportPart.Line(string.Create(CultureInfo.InvariantCulture, $"{taken} taken again on the solid: largest difference {facts.LargestDifferenceMm:0.0000} mm from what the drawn sizes say."), Tone.Good)
                : new ReportPart.Line(string.Create(CultureInfo.InvariantCulture, $"{taken} taken again on the solid differ by up to {facts.LargestDifferenceMm:0.0000} mm from what the drawn sizes say. That is a fault of this program: do not trust these files, and please report it."), Tone.LookHere);
        foreach (var refused in facts.Remeasured.Where(r => r.SolidMm is null))
            yield return new ReportPart.Line($"{refused.Id} could not be taken again on the solid: {refused.WhyNot}.", Tone.LookHere);
    }

    private static IEnumerable<ReportPart> Files(Remade remade, bool inFile)
    {
        yield return new ReportPart.Heading(inFile ? "Files" : $"Files in {remade.Folder}");
        yield return new ReportPart.Table(["file", "for"], [.. remade.Files.Select(f => new ReportPart.Row(Tone.Plain, f.Name, f.For))]);
        if (!inFile)
            yield return remade.IsUpToDate
                ? new ReportPart.Line("Everything was up to date; nothing was made again.", Tone.Good)
                : new ReportPart.Line(string.Create(CultureInfo.InvariantCulture, $"{remade.Files.Count(f => !f.UpToDate)} of {remade.Files.Count} files made, in {remade.Seconds:0.0} s."));
    }

    private static IEnumerable<ReportPart> Next(Remade remade)
    {
        if (remade.Reconciled.Contradictions is [var contradiction, ..])
            yield return new ReportPart.Line($"Take the reading {string.Join(" or ", contradiction.Ids)} once more, put it right in the job file, and run this again.");
        else if (remade.Reconciled.Undecided is [var undecided, ..])
            yield return new ReportPart.Line($"Measure what decides {string.Join(", ", undecided.Sizes)}, add it under `readings`, and run this again.");
        if (remade.Job.Job.Loads.Count > 0)
            yield return new ReportPart.Line("The job says what the part has to bear; `sparewright strength` says whether it will, and what would better it.");
        yield return new ReportPart.Line(remade.StateInWords);
        if (NotBevelled(remade) is { } byHand) yield return byHand;
        yield return new ReportPart.Line("Print it small and cheap first: only the places that must fit, in a material that costs little.");
        yield return new ReportPart.Line(string.Join(' ', Handover.Cautions.Always));
    }
}
