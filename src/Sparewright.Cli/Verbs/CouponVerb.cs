using System.CommandLine;
using Sparewright.Cli.Showing;
using Sparewright.Fit.Coupons;
using Sparewright.Measure.Quantities;
using Sparewright.Remake;
using Sparewright.Remake.Coupons;
using Sparewright.Remake.Reports;
using Sparewright.Solid;

namespace Sparewright.Cli.Verbs;

/// <summary><c>coupon JOB [--out DIR]</c>: the capability coupon for the process that a job is going to be printed with, and what is measured on it.</summary>
internal static class CouponVerb
{
    public static Command Grammar(Surroundings around)
    {
        var job = Common.Job();
        var output = Common.Out("where the coupon, its picture and the table for its readings go; without it nothing is written");
        var json = Common.Json();
        var inches = Common.Inches();
        var quiet = Common.Quiet();
        var verb = new Command("coupon", "A coupon that shows what a printer does to sizes: printed and measured once for a machine, material and setting, and learnt from with `trial coupon`.")
        { job, output, json, inches, quiet };
        verb.SetAction((parsed, stop) => RunAsync(around, parsed.GetRequiredValue(job), parsed.GetValue(output), parsed.GetValue(json), parsed.Unit(inches), parsed.GetValue(quiet), stop));
        return verb;
    }

    private static async Task<int> RunAsync(Surroundings around, string path, string? outFolder, bool json, LengthUnit unit, bool quiet, CancellationToken stop)
    {
        Result<OpenedJob> opened = OpenedJob.Open(path);
        if (opened.Value is not { } job) return Answer.With(around, json, opened.Failure!);
        MadeCoupon? made = null;
        if (outFolder is not null)
        {
            Outcome<KernelProgram> kernel = around.FindKernel();
            if (!kernel.IsGood) return Answer.With(around, json, new Failure(false, [kernel.Problem.ToString()]));
            using var progress = new ProgressLine(around.Error, around.MovesError, quiet);
            Result<MadeCoupon> making = await new CouponWork(kernel.Value, around.Fonts, around.Clock).MakeAsync(job.Job.Print, outFolder, progress, stop).ConfigureAwait(false);
            progress.Dispose();
            if ((made = making.Value) is null) return Answer.With(around, json, making.Failure!);
        }

        Coupon coupon = made?.Coupon ?? Coupon.For(job.Job.Print);
        return Answer.With(around, json, () => RemadeJson.Of(job, coupon, made), () => RemadeReport.Of(job, coupon, made, outFolder, unit), false);
    }
}
