using System.CommandLine;
using System.CommandLine.Help;
using System.Globalization;
using System.Net;
using System.Runtime.InteropServices;
using Sparewright.Handover.Picture;
using Sparewright.Part;
using Sparewright.Shop;
using Sparewright.Solid;
using Sparewright.Web;

const int Done = 0, Wrong = 2, Failed = 3, Stopped = 130;

var jobs = new Argument<string[]>("JOB") { Description = "jobs to take into the shop: folders with a job.yaml", Arity = ArgumentArity.ZeroOrMore };
var port = new Option<int>("--port")
{
    Description = "port on the loopback address; 0 takes a free one",
    DefaultValueFactory = _ => 7077,
    CustomParser = typed =>
    {
        if (int.TryParse(typed.Tokens[0].Value, NumberStyles.None, CultureInfo.InvariantCulture, out int number) && number <= IPEndPoint.MaxPort) return number;
        typed.AddError($"--port is a number between 0 and {IPEndPoint.MaxPort}");
        return 0;
    },
};
var data = new Option<string?>("--data") { Description = "where the shop's data lie (default: sparewright in the user's data folder)", HelpName = "DIR" };
var noBrowser = new Option<bool>("--no-browser") { Description = "only prints the address; on a desktop it is otherwise opened as well" };
var command = new Command("shop", "Opens the web door: the job card in a browser on this machine. Example: ./sparewright shop examples/vent-knuckle") { jobs, port, data, noBrowser };
command.Options.Add(new HelpOption());
command.SetAction((parsed, stop) => OpenAsync(parsed.GetValue(jobs)!, parsed.GetValue(port), parsed.GetValue(data) ?? ShopData.UsualFolder, parsed.GetValue(noBrowser), stop));

ParseResult parsed = command.Parse(args, new ParserConfiguration { ResponseFileTokenReplacer = null });
bool asksForHelp = parsed.Tokens.Any(t => t.Value is "--help" or "-h" or "-?");
string? unknown = parsed.GetResult(jobs)?.Tokens.Select(t => t.Value).FirstOrDefault(t => t.StartsWith("--", StringComparison.Ordinal));
if (!asksForHelp && (parsed.Errors.Count > 0 || unknown is not null))
{
    Console.Error.WriteLine($"sparewright shop: {(unknown is null ? parsed.Errors[0].Message.TrimEnd('.') : $"unknown option {unknown}")}; `sparewright shop --help` shows what there is");
    return Wrong;
}

using var stop = new CancellationTokenSource();
void OnSignal(PosixSignalContext signal)
{
    if (stop.IsCancellationRequested) return;
    signal.Cancel = true;
    stop.Cancel();
}

using PosixSignalRegistration interrupt = PosixSignalRegistration.Create(PosixSignal.SIGINT, OnSignal);
using PosixSignalRegistration terminate = PosixSignalRegistration.Create(PosixSignal.SIGTERM, OnSignal);
return await parsed.InvokeAsync(new InvocationConfiguration { ProcessTerminationTimeout = null, EnableDefaultExceptionHandler = false }, stop.Token).ConfigureAwait(false);

static async Task<int> OpenAsync(IReadOnlyList<string> jobs, int port, string folder, bool noBrowser, CancellationToken stop)
{
    int Refuse(int code, string why)
    {
        Console.Error.WriteLine($"sparewright shop: {why}");
        return code;
    }

    Outcome<KernelProgram> kernel = KernelProgram.Find();
    if (!kernel.IsGood) return Refuse(Failed, kernel.Problem.ToString());
    var texts = new List<(string From, string Text)>();
    foreach (string job in jobs)
    {
        string path = Directory.Exists(job) ? Path.Combine(job, "job.yaml") : job;
        if (JobFile.ReadFile(path) is { Job: null, Problems: var problems } && !File.Exists(path)) return Refuse(Wrong, problems[0].In(path));
        texts.Add((job, await File.ReadAllTextAsync(path, stop).ConfigureAwait(false)));
    }

    Kept<ShopData> opened = ShopData.Open(folder, TimeProvider.System);
    if (!opened.IsGood) return Refuse(Failed, opened.Problem.ToString());
    await using ShopData shop = opened.Value;
    foreach (var (from, text) in texts)
        if ((await shop.Jobs.BeginAsync(text, $"taken in from {Path.GetFileName(Path.GetFullPath(from))}", stop).ConfigureAwait(false)).Problem is { } problem) return Refuse(Failed, problem.ToString());

    WebApplication app;
    try
    {
        app = ShopDoor.Build(new DoorSettings(folder, port, kernel.Value, shop.Jobs, shop.Coupons, TimeProvider.System, Lettering.UsualFiles));
    }
    catch (Exception e) when (e is IOException or UnauthorizedAccessException)
    {
        return Refuse(Failed, $"{folder} cannot be written to; choose another folder with --data");
    }

    await using (app.ConfigureAwait(false))
    {
        try
        {
            await app.StartAsync(stop).ConfigureAwait(false);
        }
        catch (IOException)
        {
            return Refuse(Failed, $"port {port} is taken, perhaps by a shop that is open already; close it, or choose another with --port");
        }

        Console.WriteLine($"The shop is open. Its address, with the word that lets only you in:\n{ShopDoor.Address(app)}\nCtrl-C closes it; everything entered is kept.");
        if (!noBrowser) Desktop.Open(ShopDoor.Address(app), folder);
        await app.WaitForShutdownAsync(stop).ConfigureAwait(false);
    }

    return stop.IsCancellationRequested ? Stopped : Done;
}
