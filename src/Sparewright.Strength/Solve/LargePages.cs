using System.Runtime.InteropServices;

namespace Sparewright.Strength.Solve;

/// <summary>Memory straight from the system, in large pages where it has them: zero as it comes, and got hold of by whoever touches it first. On Linux.</summary>
internal static unsafe partial class LargePages
{
    /// <summary>Less is not worth a call to the system.</summary>
    public const nuint Size = 1 << 21;

    // Linux, x64 and Arm64: include/uapi/asm-generic/mman-common.h.
    private const int ReadAndWrite = 1 | 2, PrivateWithoutFile = 2 | 0x20, WithLargePages = 14;

    /// <summary>So many bytes of zeros, from a whole page on; null where there are none to be had this way.</summary>
    public static void* Of(nuint bytes)
    {
        if (!OperatingSystem.IsLinux() || bytes < Size) return null;
        nuint kept = Kept(bytes);
        var start = (byte*)Map(null, kept + Size, ReadAndWrite, PrivateWithoutFile, -1, 0);
        if ((nint)start == -1) return null;
        // What lies before the first whole page, and behind the last, is given back at once.
        nuint before = (Size - (nuint)start % Size) % Size;
        if (before > 0) _ = Unmap(start, before);
        _ = Unmap(start + before + kept, Size - before);
        // A hint, which may be in vain.
        _ = Advise(start + before, bytes, WithLargePages);
        return start + before;
    }

    public static void GiveBack(void* start, nuint bytes) => _ = Unmap(start, Kept(bytes));

    /// <summary>The system deals in pages of 4 KiB or a few more.</summary>
    private static nuint Kept(nuint bytes) => (bytes + 0xFFFF) / 0x10000 * 0x10000;

    [LibraryImport("libc", EntryPoint = "mmap")]
    private static partial void* Map(void* wanted, nuint bytes, int access, int kind, int file, nint offset);

    [LibraryImport("libc", EntryPoint = "munmap")]
    private static partial int Unmap(void* start, nuint bytes);

    [LibraryImport("libc", EntryPoint = "madvise")]
    private static partial int Advise(void* start, nuint bytes, int advice);
}
