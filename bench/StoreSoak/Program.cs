using System.Globalization;
using Sparewright.StoreSoak;

// dotnet run -c Release --project bench/StoreSoak -- [rounds, default 500] [seed, default 1] [sqlite | postgresql, default both]
// Kills writers, and the database server, at random moments and looks whether anything acknowledged was lost; then traces 1,000 writes for the sync before each acknowledgement.
// Ends with 1 if anything was lost or not synced. (write … and scarce … are what it, and the tests, start as the victims.)
switch (args)
{
    case ["write", var kind, var place, var most]:
        return await Victim.WriteAsync(kind, place, int.Parse(most, CultureInfo.InvariantCulture)).ConfigureAwait(false);
    case ["scarce", var place]:
        return await Victim.WriteWithoutFilesAsync(place).ConfigureAwait(false);
}

int rounds = args.Length > 0 ? int.Parse(args[0], CultureInfo.InvariantCulture) : 500;
int seed = args.Length > 1 ? int.Parse(args[1], CultureInfo.InvariantCulture) : 1;
string[] kinds = args.Length > 2 ? [args[2]] : ["sqlite", "postgresql"];
bool good = true;
foreach (string kind in kinds)
{
    using PostgresServer? server = kind == "postgresql" ? new PostgresServer() : null;
    KillReport report = await KillRounds.RunAsync(rounds, seed, server, Console.Error).ConfigureAwait(false);
    Console.WriteLine(report);
    good &= report.IsGood;
}

if (kinds.Contains("sqlite"))
{
    SyncReport traced = SyncTrace.Run(1000);
    Console.WriteLine(traced);
    good &= traced.IsGood;
}

return good ? 0 : 1;
