using System.Runtime.Versioning;
using Xunit;

[assembly: SupportedOSPlatform("linux")]
[assembly: AssemblyFixture(typeof(Sparewright.Solid.Tests.WarmWorker))]

namespace Sparewright.Solid.Tests;

/// <summary>Workers for the tests; a missing executable fails them with its remedy.</summary>
internal static class Workers
{
    public static KernelProgram Program => KernelProgram.Find().OrThrow();

    /// <summary>Where time is not what is tested, a busy machine may take its time.</summary>
    private static readonly WorkerLimits Patient = new() { PerRequest = TimeSpan.FromMinutes(5), ToStart = TimeSpan.FromMinutes(2) };

    public static KernelWorker Fresh(WorkerLimits? limits = null) => new(Program, limits ?? Patient, allowFaults: true);

    /// <summary>Tells a worker to break.</summary>
    public static Task<Outcome<WorkerAnswer>> BreakAsync(this KernelWorker worker, string how, CancellationToken cancel = default) =>
        worker.AskAsync(json =>
        {
            json.WriteString("do", "fault");
            json.WriteString("how", how);
        }, null, cancel);
}

/// <summary>One warm worker for all tests that only ask.</summary>
public sealed class WarmWorker : IAsyncLifetime
{
    internal KernelWorker Worker { get; private set; } = null!;

    public ValueTask InitializeAsync()
    {
        Worker = Workers.Fresh();
        return ValueTask.CompletedTask;
    }

    public ValueTask DisposeAsync() => Worker.DisposeAsync();

    internal async Task<ExactSolid> BuildAsync(string features, params (string Name, double Value)[] sizes) =>
        (await Worker.BuildAsync(Shapes.RecipeOf(features, sizes))).OrThrow();
}
