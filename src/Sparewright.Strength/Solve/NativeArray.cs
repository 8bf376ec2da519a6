using System.Runtime.InteropServices;

namespace Sparewright.Strength.Solve;

/// <summary>
/// Numbers outside the collector's heap, aligned to whole cache lines and set to zero, with a margin behind the last that vectors may read. Disposing gives the memory back;
/// spans and pointers taken from it must not be used after that.
/// </summary>
internal sealed unsafe class NativeArray<T> : IDisposable where T : unmanaged
{
    /// <summary>Bytes behind the last number that may be read (never written).</summary>
    private const int MarginBytes = 128;

    private readonly bool _isInLargePages;
    private T* _start;

    public NativeArray(int length)
    {
        Length = length;
        nuint bytes = (nuint)length * (nuint)sizeof(T) + MarginBytes;
        _start = (T*)LargePages.Of(bytes);
        _isInLargePages = _start is not null;
        if (!_isInLargePages)
        {
            _start = (T*)NativeMemory.AlignedAlloc(bytes, 64);
            NativeMemory.Clear(_start, bytes);
        }

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
        nuint bytes = (nuint)Length * (nuint)sizeof(T) + MarginBytes;
        if (_isInLargePages) LargePages.GiveBack(_start, bytes);
        else NativeMemory.AlignedFree(_start);
        GC.RemoveMemoryPressure((long)bytes);
        _start = null;
    }
}
