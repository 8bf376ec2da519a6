namespace Sparewright.Part;

/// <summary>Trials written into the text of a job.</summary>
public static class TrialRecord
{
    private const string Key = "trials";

    /// <summary>The text with one more trial behind the others; each begins a line of its own.</summary>
    /// <param name="trial">Its keys, as the reference has them.</param>
    public static JobEdit Added(string text, JobValue trial)
    {
        bool isFirst = Written.Read(text, out _)?.At(Key) is not Written.List;
        JobEdit edit = JobText.WithValue(text, [Key, JobText.NewEntry], trial);
        if (!isFirst || edit.Text is null) return edit;

        string written = TextEdit.Render(trial), end = text.Contains("\r\n", StringComparison.Ordinal) ? "\r\n" : "\n";
        string inLines = edit.Text.Replace($"\n{Key}: [{written}]", $"\n{Key}:{end}  - {written}", StringComparison.Ordinal);
        return Written.Read(inLines, out _)?.At(Key) is Written.List { Items.Count: 1 } ? new JobEdit(inLines, null) : edit;
    }
}
