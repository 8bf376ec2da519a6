using System.Runtime.InteropServices;
using Sparewright.Cli;

using var stop = new CancellationTokenSource();
// The first signal stops the work, which clears up after itself; a second one ends the program at once.
void OnSignal(PosixSignalContext context)
{
    if (stop.IsCancellationRequested) return;
    context.Cancel = true;
    stop.Cancel();
}

using PosixSignalRegistration interrupt = PosixSignalRegistration.Create(PosixSignal.SIGINT, OnSignal);
using PosixSignalRegistration terminate = PosixSignalRegistration.Create(PosixSignal.SIGTERM, OnSignal);
return await CommandLine.RunAsync(args, Surroundings.OfThisProcess(), stop.Token).ConfigureAwait(false);
