using System.CommandLine;
using System.CommandLine.Help;
using System.CommandLine.Invocation;

namespace Sparewright.Cli.Showing;

/// <summary>The usual help, and below it how one would really type it.</summary>
internal sealed class HelpWithExamples(HelpAction usual) : SynchronousCommandLineAction
{
    public override bool ClearsParseErrors => true;

    public override int Invoke(ParseResult parseResult)
    {
        int code = usual.Invoke(parseResult);
        TextWriter output = parseResult.InvocationConfiguration.Output;
        output.WriteLine("Examples:");
        foreach (string example in Of(parseResult.CommandResult.Command.Name)) output.WriteLine($"  {example}");
        if (parseResult.CommandResult.Command.Subcommands.Count == 0) return code;
        output.WriteLine();
        output.WriteLine("Exit codes: 0 done; 1 done, but somebody should look; 2 the job or the command is wrong; 3 a stage failed; 130 stopped.");
        return code;
    }

    private static string[] Of(string verb) => verb switch
    {
        "remake" => ["sparewright remake examples/vent-knuckle --out out/vent-knuckle"],
        "reconcile" => ["sparewright reconcile examples/vent-knuckle", "sparewright reconcile examples/vent-knuckle/job.yaml --json"],
        "settle" => ["sparewright settle examples/vent-knuckle socket_od=17 seat", "sparewright settle examples/vent-knuckle --not bore_d=12.2"],
        "reopen" => ["sparewright reopen examples/vent-knuckle socket_od"],
        "solid" => ["sparewright solid examples/vent-knuckle --out out/solid"],
        "fit" => ["sparewright fit examples/vent-knuckle", "sparewright fit examples/vent-knuckle --out out/fit"],
        "ladder" => ["sparewright ladder examples/vent-knuckle --out out/ladder", "sparewright ladder examples/vent-knuckle --for stay"],
        "coupon" => ["sparewright coupon my-job --out out/coupon", "sparewright trial coupon my-job --table out/coupon/coupon-readings.csv"],
        "trial" => ["sparewright trial my-job", "sparewright trial gauges my-job --for stay --goes 12.20,12.30 --too-tight 12.05", "sparewright trial part my-job --drawn bore_d=12.35 --fits stay"],
        "gauges" => ["sparewright trial gauges my-job --for stay --goes 12.20,12.30 --too-tight 12.05"],
        "measured" => ["sparewright trial measured my-job --surface \"hole upright\" --drawn 8 --reads 7.81,7.79"],
        "part" => ["sparewright trial part my-job --drawn bore_d=12.35 --fits stay", "sparewright trial part my-job --drawn bore_d=12.35 --too-tight stay --broke \"the rim split\""],
        "strength" => ["sparewright strength examples/vent-knuckle", "sparewright strength examples/line-reel-crank --json"],
        "new" => ["sparewright new my-part", "sparewright new my-knob --part \"Oven knob\" --pattern knob --could-injure no"],
        "shop" => ["sparewright shop", "sparewright shop examples/vent-knuckle --port 0"],
        "bundle" => ["sparewright bundle examples/vent-knuckle", "sparewright bundle examples/vent-knuckle --out out/vent-knuckle.zip"],
        "unbundle" => ["sparewright unbundle vent-knuckle.bundle.zip", "sparewright unbundle vent-knuckle.bundle.zip --out out/again"],
        "doctor" => ["sparewright doctor"],
        _ => ["sparewright remake examples/vent-knuckle --out out/vent-knuckle", "sparewright new my-part", "sparewright reconcile --help"],
    };
}
