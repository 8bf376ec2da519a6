using System.Runtime.InteropServices;

namespace Sparewright.Strength.Solve;

/// <summary>Large pages of memory where the system has them.</summary>
internal static unsafe partial class LargePages
{
    private const int MadvHugepage = 14;

    /// <summary>Asks for large pages: a hint that may be in vain. On Linux only.</summary>
    public static void WantedFor(void* start, nuint bytes)
    {
        if (OperatingSystem.IsLinux()) _ = Advise(start, bytes, MadvHugepage);
    }

    [LibraryImport("libc", EntryPoint = "madvise")]
    private static partial int Advise(void* start, nuint bytes, int advice);
}
