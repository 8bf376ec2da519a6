using Sparewright.Part;

namespace Sparewright.Web.Shape;

/// <summary>The lines of a text, to go from places to characters.</summary>
internal sealed class Lines
{
    private readonly List<int> _starts = [0];
    private readonly int _length;

    /// <param name="text">Places count without a byte order mark.</param>
    public Lines(string text)
    {
        string plain = text.TrimStart('\ufeff');
        _length = plain.Length;
        for (int k = 0; k < plain.Length; k++)
            if (plain[k] == '\n' || (plain[k] == '\r' && (k + 1 == plain.Length || plain[k + 1] != '\n'))) _starts.Add(k + 1);
    }

    public int Count => _starts.Count;

    /// <summary>The character at a place, as near as there is one.</summary>
    public int OffsetOf(Place place) => place.Line < 1 ? 0 : Math.Clamp(_starts[Math.Min(place.Line, Count) - 1] + Math.Max(place.Column, 1) - 1, 0, _length);
}
