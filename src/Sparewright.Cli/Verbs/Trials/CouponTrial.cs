using System.CommandLine;
using System.Text;
using Sparewright.Fit.Coupons;
using Sparewright.Part;

namespace Sparewright.Cli.Verbs.Trials;

/// <summary><c>trial coupon JOB --table FILE</c>: the readings of a capability coupon.</summary>
internal static class CouponTrial
{
    public static Command Grammar(Surroundings around)
    {
        var table = TrialPrint.Text("--table", "the coupon's table with its readings, as `coupon` made it", "FILE");
        table.Required = true;
        var with = TrialPrint.Text("--with", "the instrument, where the job has several", "NAME");
        return new TrialPrint(around).Grammar("coupon", "A capability coupon was printed and measured: what this printer does to every kind of surface.", [table, with], "measured", p => Said(p.GetValue(table)!, p.GetValue(with)));
    }

    private static Tried Said(string path, string? with)
    {
        string text;
        try
        {
            if (new FileInfo(path) is { Exists: true, Length: > JobFile.LargestBytes }) return new Amiss($"{path} is no table of a coupon", "name the file that `coupon` made");
            text = File.ReadAllText(path, Encoding.UTF8);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException)
        {
            return new Amiss($"{path}: {e.Message.TrimEnd('.')}", "name the file that `coupon` made");
        }

        return CouponTable.TryRead(Coupon.For(null), text, out IReadOnlyList<MeasuredCoupon> measured, out Problem? problem) ? CouponTable.Measured(measured, with)
            : new Amiss($"{path}{(problem.Place.Line > 0 ? $":{problem.Place.Line}" : "")}: {problem.What}", problem.Remedy);
    }
}
