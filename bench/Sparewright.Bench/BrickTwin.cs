using System.Diagnostics;
using System.Runtime.InteropServices;
using Sparewright.Strength.Solve;

namespace Sparewright.Bench;

/// <summary>The strength solver's kernel in C (brick_twin.c beside this), built with gcc for this very machine and called on the same data.</summary>
internal sealed unsafe class BrickTwin : IDisposable
{
    private readonly nint _library;
    private readonly delegate* unmanaged<BrickRows.Run*, int, float*, float*, float*, float*, int, void> _add;

    private BrickTwin(nint library)
    {
        _library = library;
        _add = (delegate* unmanaged<BrickRows.Run*, int, float*, float*, float*, float*, int, void>)NativeLibrary.GetExport(library, "brick_add");
    }

    /// <summary>Null where there is no gcc, or it says no.</summary>
    public static BrickTwin? Build()
    {
        string source = Path.Combine(Repository.Root, "bench", "Sparewright.Bench", "brick_twin.c"), built = Path.Combine(Path.GetTempPath(), $"sparewright-twin-{Environment.ProcessId}.so");
        try
        {
            using Process gcc = Process.Start(new ProcessStartInfo("gcc", ["-O3", "-march=native", "-shared", "-fPIC", "-o", built, source])) ?? throw new InvalidOperationException("gcc did not start");
            gcc.WaitForExit();
            return gcc.ExitCode == 0 ? new(NativeLibrary.Load(built)) : null;
        }
        catch (System.ComponentModel.Win32Exception)
        {
            return null;
        }
        finally
        {
            // What is loaded stays so.
            File.Delete(built);
        }
    }

    /// <summary>r += K u over layers of cells, like the kernel of the solver.</summary>
    public void Add(BrickRows rows, float* shares, in BrickFactors f, float* u, float* r, int fromLayer, int toLayer)
    {
        float* factors = stackalloc float[] { (float)f.K11, (float)f.K12, (float)f.K13, (float)f.K33, (float)f.K44, (float)f.K66 };
        int first = rows.LayerStart[fromLayer];
        fixed (BrickRows.Run* runs = rows.Runs) _add(runs + first, rows.LayerStart[toLayer] - first, shares, factors, u, r, rows.Slots);
    }

    public void Dispose() => NativeLibrary.Free(_library);
}
