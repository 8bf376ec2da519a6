using Sparewright.Bench;

// bench/run [--quick] [reconcile] [live] [change] [kernel] [job] [stop] [page] [view] [entry] [fit] [ladder] [strength] [case] [general] [hole]: the figures as Markdown on standard output. See bench/README.md.
string[] all = ["reconcile", "live", "change", "kernel", "job", "stop", "page", "view", "entry", "fit", "ladder", "strength", "case"];
bool quick = args.Contains("--quick");
string[] wanted = [.. args.Where(a => a != "--quick")];
// Minutes on a busy machine: only when asked for.
string[] byHand = ["general", "hole"];
if (wanted.Except([.. all, .. byHand]).FirstOrDefault() is { } unknown)
{
    Console.Error.WriteLine($"There is no part {unknown}; there are: {string.Join(' ', all)} {string.Join(' ', byHand)}, and --quick.");
    return 2;
}

int runs = quick ? 2 : 9;
await Machine.WriteAsync();
foreach (string part in wanted.Length > 0 ? wanted : all)
    switch (part)
    {
        case "reconcile": ReconcileBench.Write(quick); break;
        case "live": LiveBench.Write(quick ? 5 : 60); break;
        case "change": await ChangeBench.WriteAsync(runs); break;
        case "kernel": await KernelBench.WriteAsync(runs); break;
        case "job": JobBench.Write(runs); break;
        case "stop": StopBench.Write(10 * runs); break;
        case "page": await PageBench.WriteAsync(2 * runs); break;
        case "view": await ViewBench.WriteAsync(3 * runs); break;
        case "entry": await EntryBench.WriteAsync(runs); break;
        case "strength": StrengthBench.Write(runs); break;
        case "case": await LoadCaseBench.WriteAsync(runs); break;
        case "general": StrengthBench.WriteGeneralPurpose(); break;
        case "hole": HoleBench.Write(runs); break;
        case "fit": FitBench.Write(runs); break;
        case "ladder": await LadderBench.WriteAsync(runs); break;
    }

return 0;
