using Sparewright.Part;
using Sparewright.Shop;
using Sparewright.Web.Desk;

namespace Sparewright.Web.Readings;

/// <summary>A reading as somebody saw it when they began to change it.</summary>
/// <param name="Index">Its place in the list then.</param>
/// <param name="Text">How it stood in the job's text then.</param>
public sealed record SeenReading(int Index, string Text);

/// <summary>
/// Writes readings into a job, each change a kept revision of its own. A reading is found again by its text when others came or went above it; when somebody
/// else changed this very reading meanwhile nothing is kept, and the answer says what stands there now.
/// </summary>
public sealed class ReadingWriter(JobDesk desk)
{
    private const string List = "readings";

    /// <summary>Others may enter between looking and writing; each time one of them has got on. After so many times it is told instead of tried.</summary>
    private const int Tries = 64;

    /// <summary>
    /// Adds a repeat, never in place of another. That somebody else added one meanwhile is no reason to ask: both count.
    /// </summary>
    public Task<Kept<JobHead>> AppendAsync(SeenReading seen, Entered value, string what) =>
        ChangeAsync(seen, (text, index) => Appended(text, index, value), what, isAddition: true);

    /// <summary>Puts other repeats in the place of those that are there.</summary>
    public Task<Kept<JobHead>> CorrectAsync(SeenReading seen, IReadOnlyList<Entered> values, string what) =>
        ChangeAsync(seen, (text, index) => JobText.WithValue(text, [List, Number(index), "reads"], Reads([.. values.Select(v => v.Written)])), what);

    /// <summary>Changes what else is said of a reading.</summary>
    public Task<Kept<JobHead>> DescribeAsync(SeenReading seen, ReadingDraft draft, string what) =>
        ChangeAsync(seen, (text, index) => Sound(text, draft.WriteOver(text, [List, Number(index)])), what);

    public Task<Kept<JobHead>> RemoveAsync(SeenReading seen, string what) =>
        ChangeAsync(seen, (text, index) => JobText.Without(text, [List, Number(index)]), what);

    /// <summary>Adds a reading at the end of the list. Others may add theirs at the same time.</summary>
    public async Task<Kept<JobHead>> AddAsync(ReadingDraft draft, IReadOnlyList<Entered> values, string what)
    {
        for (int tried = 1; ; tried++)
        {
            Kept<JobHead> kept = await desk.ChangeAsync(List, desk.TextAt(List), text => Sound(text, JobText.WithValue(text, [List, JobText.NewEntry], draft.New(Reads([.. values.Select(v => v.Written)])))), what).ConfigureAwait(false);
            if (kept.Problem is not { Kind: StoreProblemKind.ChangedMeanwhile } || tried == Tries) return kept;
        }
    }

    /// <summary>A change that would leave a sound job unsound (a name given twice, a height that is no expression) is not kept: here it can still be put right.</summary>
    private static JobEdit Sound(string before, JobEdit edit) =>
        edit.Text is { } text && JobFile.Read(text) is { Job: null } unsound && JobFile.Read(before).Job is not null ? new JobEdit(null, unsound.Problems[0]) : edit;

    private async Task<Kept<JobHead>> ChangeAsync(SeenReading seen, Func<string, int, JobEdit> change, string what, bool isAddition = false)
    {
        for (int tried = 1; ; tried++)
        {
            int? found = Find(seen, isAddition);
            int index = found ?? seen.Index;
            string there = isAddition && found is not null ? desk.TextAt($"{List}/{Number(index)}")! : seen.Text;
            Kept<JobHead> kept = await desk.ChangeAsync($"{List}/{Number(index)}", there, text => change(text, index), what).ConfigureAwait(false);
            if (kept.Problem is not { Kind: StoreProblemKind.ChangedMeanwhile } || tried == Tries || Find(seen, isAddition) is null) return kept;
        }
    }

    /// <summary>Where the reading stands now: where it stood, or at the only place that has its text. For an addition one to which only repeats were added is the same.</summary>
    private int? Find(SeenReading seen, bool isAddition)
    {
        if (desk.Written?.At(List) is not Written.List list) return null;
        string text = desk.Head.Latest.Text.TrimStart('\ufeff');
        string At(int k) => text[list.Items[k].Start..list.Items[k].End];
        if (seen.Index < list.Items.Count && (At(seen.Index) == seen.Text || (isAddition && OnlyGained(seen.Text, At(seen.Index))))) return seen.Index;
        int[] same = [.. Enumerable.Range(0, list.Items.Count).Where(k => At(k) == seen.Text)];
        return same.Length == 1 ? same[0] : null;
    }

    /// <summary>Whether a reading differs from what it was only by repeats behind those that were there.</summary>
    internal static bool OnlyGained(string before, string now)
    {
        if (Alone(before) is not { } was || Alone(now) is not { } has) return false;
        IReadOnlyList<string> first = LedgerRow.RawReads(was), then = LedgerRow.RawReads(has);
        return then.Count >= first.Count && first.SequenceEqual(then.Take(first.Count)) && Rest(was).SequenceEqual(Rest(has));
    }

    private static IEnumerable<(string, string)> Rest(Written.Group reading) => reading.Entries.Where(e => e.Key != "reads").Select(e => (e.Key, Flat(e.Value)));

    private static string Flat(Written written) => written switch
    {
        Written.Value v => v.Text,
        Written.List l => string.Join('\n', l.Items.Select(Flat)),
        Written.Group g => string.Join('\n', g.Entries.Select(e => $"{e.Key}: {Flat(e.Value)}")),
        _ => "",
    };

    /// <summary>A reading cut out of its list, read by itself.</summary>
    private static Written.Group? Alone(string item) => Written.Read(RepeatsLine.Indented(item), out _) as Written.Group;

    private static JobEdit Appended(string text, int index, Entered value)
    {
        Written? reading = Written.Read(text, out _)?.At(List, Number(index));
        string[] there = [.. reading is null ? [] : LedgerRow.RawReads(reading)];
        return reading?.At("reads") is Written.List
            ? JobText.WithValue(text, [List, Number(index), "reads", JobText.NewEntry], value.Written)
            : JobText.WithValue(text, [List, Number(index), "reads"], Reads([.. there, value.Written]));
    }

    private static JobValue Reads(IReadOnlyList<string> written) =>
        written.Count == 1 ? written[0] : new JobValue.List([.. written.Select(w => (JobValue)w)]);

    private static string Number(int index) => index.ToString(System.Globalization.CultureInfo.InvariantCulture);
}
