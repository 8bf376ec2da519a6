using Sparewright.Part;

namespace Sparewright.Web.Shape;

/// <summary>A change of the job's text, in words and in deed.</summary>
/// <param name="Place">The path that it changes; who changes the same place meanwhile is asked.</param>
/// <param name="What">What it does, for the list of revisions.</param>
public sealed record TextChange(string Place, string What, Func<string, JobEdit> Make)
{
    public static TextChange Write(string path, JobValue value, string what) => new(path, what, text => JobText.WithValue(text, path, value));

    public static TextChange Remove(string path, string what) => new(path, what, text => JobText.Without(text, path));

    public static TextChange Insert(string list, int number, JobValue value, string what) => new(list, what, text => JobText.WithEntry(text, list, number, value));

    public static TextChange Move(string list, int from, int to, string what) => new(list, what, text => JobText.WithMoved(text, list, from, to));

    /// <summary>One after the other, kept as one revision; the place must contain all of them.</summary>
    public static TextChange All(string place, string what, params IEnumerable<TextChange> changes)
    {
        TextChange[] all = [.. changes];
        return new(place, what, text => all.Aggregate(new JobEdit(text, null), (edit, change) => edit.Text is { } so ? change.Make(so) : edit));
    }
}

/// <summary>A change that is offered, in a few words.</summary>
public sealed record Offer(string Words, TextChange Change);
