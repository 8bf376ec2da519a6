using System.Globalization;
using Sparewright.Fit.Coupons;
using Sparewright.Handover.Picture;
using Sparewright.Handover.PrintFiles.ThreeMf;
using Sparewright.Part;
using Sparewright.Part.Record;
using Sparewright.Reconcile.Findings;
using Sparewright.Remake.Live;
using Sparewright.Remake.Outputs;
using Sparewright.Solid;

namespace Sparewright.Remake.Coupons;

/// <summary>A coupon that was made.</summary>
public sealed record MadeCoupon(Coupon Coupon, double VolumeMm3, IReadOnlyList<MadeFile> Files);

/// <summary>Makes the files of a capability coupon: its own job, what is printed, a picture with the numbers of its readings, and the table for them.</summary>
/// <param name="fonts">The files of the drawing's lettering (<see cref="Lettering.UsualFiles"/>).</param>
public sealed class CouponWork(KernelProgram kernel, IReadOnlyList<string> fonts, TimeProvider clock)
{
    public const string JobName = "coupon.yaml", TableName = "coupon-readings.csv";

    /// <summary>It is printed as drawn: what the printer adds is what it is to show.</summary>
    private const string State = "as drawn";

    /// <summary>Makes the coupon for a process and puts its files into the folder. A table of readings that lies there already is left as it is.</summary>
    /// <param name="print">How it is going to be printed.</param>
    /// <exception cref="OperationCanceledException">Stopped; nothing is left half-written.</exception>
    public async Task<Result<MadeCoupon>> MakeAsync(PrintPlan? print, string outFolder, IProgress<StageProgress> progress, CancellationToken cancel)
    {
        Coupon coupon = Coupon.For(print);
        Result<Reconciled> reconciling = new OpenedJob(JobName, coupon.Job, "", 0).ReconcileWithoutVolume();
        if (reconciling.Value is not { } reconciled) return reconciling.Failure!;
        Outcome<Recipe> recipe = Recipe.Of(coupon.Shape);
        if (!recipe.IsGood) return Failure.Of(JobName, recipe.Problem, Place.None);
        await using var work = new SolidWork(kernel, progress, cancel);
        Outcome<MadeSolid> making = await work.MakeAsync(recipe.Value, coupon.Shape, [.. coupon.Readings.Select(r => new ObservedReading(r.Reading, r.DrawnMm))], Wanted.Mesh | Wanted.Isometric | Wanted.Views, null, coupon.Job.PartName).ConfigureAwait(false);
        if (!making.IsGood) return Failure.Of(JobName, making.Problem, Place.None);
        MadeSolid made = making.Value;
        if (made.Remeasured.FirstOrDefault(r => !r.Agrees) is { } off)
            return new Failure(false, [$"reading {off.Id} taken on the coupon's solid is not what was drawn ({off.WhyNot ?? "it differs"}); that is a fault of this program, please report it"]);

        DateOnly today = DateOnly.FromDateTime(clock.GetLocalNow().DateTime);
        string identification = made.Solid.Key[..12], about = "Print it as it stands, with the settings of the part; measure what the numbers point to, and write it into the table.";
        var inView = new PartInView(0, made.Solid.Key, coupon.Job, reconciled, made.Solid, made.Mesh!);
        var picture = new PartPicture(new TitleBlock(coupon.Job.PartName, about, identification, today, State, RemakePipeline.Program), made.Views, [.. Dimensions(coupon, inView)], [], [], [new Note("Numbers are those of the table; sizes as drawn, in mm.")], made.Mesh!);
        var label = new PartLabel(coupon.Job.PartName, $"{coupon.Job.About} {about}", identification, today, RemakePipeline.Program, State);
        var aid = new PrintAid(coupon.Job.PartName, label, made.Mesh!, picture, "printing: the coupon, as it stands", "looking: where each reading is taken");
        Result<IReadOnlyList<MadeFile>> written = aid.Write(JobName, fonts, outFolder,
        [
            (new(JobName, "the coupon's own job: its shape, and how it is printed", false), coupon.Text),
            (new(TableName, "writing down what the caliper shows", File.Exists(Path.Combine(outFolder, TableName))), CouponTable.Of(coupon)),
        ], cancel);
        return written.Value is { } files ? new MadeCoupon(coupon, made.Solid.VolumeMm3, files) : written.Failure!;
    }

    /// <summary>A dimension for each place that is read, with the numbers of its readings.</summary>
    private static IEnumerable<Dimension> Dimensions(Coupon coupon, PartInView part)
    {
        foreach (var place in coupon.Readings.GroupBy(r => (r.Reading.Way, r.Reading.First, r.Reading.Second)))
            if (DimensionsInView.Reading(part, place.First().Reading) is { } dimension)
                yield return dimension with { Text = $"{string.Join(", ", place.Select(r => r.Number.ToString(CultureInfo.InvariantCulture)))}: {dimension.Text}" };
    }
}
