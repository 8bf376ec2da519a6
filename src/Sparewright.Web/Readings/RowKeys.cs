namespace Sparewright.Web.Readings;

/// <summary>
/// Which row of the ledger is which after the job changed: a row keeps its key, and with it what is half typed in it and where the keyboard is, when readings
/// above it come or go.
/// </summary>
public sealed class RowKeys
{
    private IReadOnlyList<string> _texts = [];
    private int _given;

    /// <summary>One key for each row.</summary>
    public IReadOnlyList<int> Keys { get; private set; } = [];

    /// <summary>Takes the new rows. With as many as before each stays what it was; otherwise those that are alike at both ends do, and those between are new.</summary>
    /// <param name="texts">The readings as they stand in the job's text.</param>
    public void Follow(IReadOnlyList<string> texts)
    {
        if (texts.Count != _texts.Count)
        {
            int shorter = Math.Min(texts.Count, _texts.Count), head = 0, tail = 0;
            while (head < shorter && texts[head] == _texts[head]) head++;
            while (tail < shorter - head && texts[^(tail + 1)] == _texts[^(tail + 1)]) tail++;
            IReadOnlyList<int> old = Keys;
            Keys = [.. Enumerable.Range(0, texts.Count).Select(k => k < head ? old[k] : k >= texts.Count - tail ? old[^(texts.Count - k)] : _given++)];
        }

        _texts = texts;
    }
}
