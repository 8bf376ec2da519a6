using System.Runtime.InteropServices;

namespace Sparewright.Strength.Solve;

/// <summary>
/// Numbers outside the collector's heap, aligned to whole cache lines and set to zero, with a margin behind the last that vectors may read. Disposing gives the memory back;
/// spans and pointers taken from it must not be used after that.
/// </summary>
internal sealed unsafe class NativeArray<T> : IDisposable where T : unmanaged
{
    /// <summary>Pages of this size spare most of the time that it takes to get hold of large arrays.</summary>
    private const int LargePage = 1 << 21;

    /// <summary>Bytes behind the last number that may be read (never written).</summary>
    private const int MarginBytes = 128;

    private T* _start;

    public NativeArray(int length)
    {
        Length = length;
        nuint bytes = (nuint)length * (nuint)sizeof(T) + MarginBytes;
        bool isLarge = bytes >= 2 * LargePage;
        _start = (T*)NativeMemory.AlignedAlloc(bytes, isLarge ? (nuint)LargePage : 64);
        if (isLarge) LargePages.WantedFor(_start, bytes);
        NativeMemory.Clear(_start, bytes);
        GC.AddMemoryPressure((long)bytes);
    }

    public int Length { get; }

    public T* Start => _start is not null ? _start : throw new ObjectDisposedException(nameof(NativeArray<>));

    public Span<T> Span => new(Start, Length);

    public Span<T> Slice(int start, int length) => Span.Slice(start, length);

    public void Dispose()
    {
        Free();
        GC.SuppressFinalize(this);
    }

    ~NativeArray() => Free();

    private void Free()
    {
        if (_start is null) return;
        NativeMemory.AlignedFree(_start);
        GC.RemoveMemoryPressure((long)Length * sizeof(T) + MarginBytes);
        _start = null;
    }
}
