using System.CommandLine;
using Sparewright.Handover.Picture;
using Sparewright.Shop;
using Sparewright.Solid;
using Sparewright.Web;

var port = new Option<int>("--port") { Description = "port on the loopback address; 0 takes a free one", DefaultValueFactory = _ => 7077 };
var data = new Option<string?>("--data") { Description = "where the shop's data lie (default: sparewright in the user's data folder)", HelpName = "DIR" };
var jobs = new Argument<string[]>("JOB") { Description = "jobs to take into the shop: folders with a job.yaml", Arity = ArgumentArity.ZeroOrMore };
var command = new Command("shop", "Opens the web door: the job card in a browser on this machine.") { jobs, port, data };
command.SetAction(async (parsed, stop) =>
{
    Outcome<KernelProgram> kernel = KernelProgram.Find();
    if (!kernel.IsGood)
    {
        Console.Error.WriteLine(kernel.Problem);
        return 3;
    }

    string folder = parsed.GetValue(data) ?? ShopData.UsualFolder;
    Kept<ShopData> opened = ShopData.Open(folder, TimeProvider.System);
    if (!opened.IsGood)
    {
        Console.Error.WriteLine(opened.Problem);
        return 3;
    }

    await using ShopData shop = opened.Value;
    foreach (string job in parsed.GetValue(jobs)!)
    {
        Kept<JobHead> begun = await shop.Jobs.BeginAsync(await File.ReadAllTextAsync(Path.Combine(job, "job.yaml"), stop).ConfigureAwait(false), $"taken in from {job}", stop).ConfigureAwait(false);
        if (begun.Problem is { } problem) Console.Error.WriteLine(problem);
    }

    WebApplication app = ShopDoor.Build(new DoorSettings(folder, parsed.GetValue(port), kernel.Value, shop.Jobs, TimeProvider.System, Lettering.UsualFiles));
    await using (app.ConfigureAwait(false))
    {
        await app.StartAsync(stop).ConfigureAwait(false);
        Console.WriteLine($"The shop is open at {string.Join(' ', app.Urls)}");
        await app.WaitForShutdownAsync(stop).ConfigureAwait(false);
    }

    return 0;
});
return await command.Parse(args).InvokeAsync(new InvocationConfiguration { ProcessTerminationTimeout = null }).ConfigureAwait(false);
