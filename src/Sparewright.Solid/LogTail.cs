using System.Text;

namespace Sparewright.Solid;

/// <summary>The end of a log, and no more of it than is worth showing.</summary>
internal sealed class LogTail(int most)
{
    private readonly byte[] _ring = new byte[most];
    private long _written;

    public string Text
    {
        get
        {
            lock (_ring)
            {
                int length = (int)Math.Min(_written, most), start = (int)((_written - length) % most);
                var tail = new byte[length];
                for (int k = 0; k < length; k++) tail[k] = _ring[(start + k) % most];
                return Encoding.UTF8.GetString(tail).Trim();
            }
        }
    }

    /// <summary>Reads to the end of the stream, so that the writer never waits.</summary>
    public async Task KeepAsync(Stream stream)
    {
        var piece = new byte[4096];
        try
        {
            int got;
            while ((got = await stream.ReadAsync(piece).ConfigureAwait(false)) > 0)
            {
                lock (_ring)
                    for (int k = 0; k < got; k++) _ring[_written++ % most] = piece[k];
            }
        }
        catch (Exception e) when (e is IOException or ObjectDisposedException)
        {
            // The worker is gone; what was kept stays.
        }
    }
}
