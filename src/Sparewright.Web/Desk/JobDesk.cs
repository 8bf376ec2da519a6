using Sparewright.Part;
using Sparewright.Remake.Live;
using Sparewright.Shop;

namespace Sparewright.Web.Desk;

/// <summary>
/// A job lying open in the shop: its latest kept text and what that comes to. All windows on the job share it, so that an entry is reckoned once and seen by all.
/// </summary>
public sealed class JobDesk : IDisposable
{
    private readonly IJobStore _store;
    private readonly LivePart _part;
    private readonly Lazy<LiveFits> _fits;
    private readonly SemaphoreSlim _entering = new(1, 1);
    private Task<Reckoned>? _reckoning;

    internal JobDesk(IJobStore store, LivePart part, JobHead head)
    {
        (_store, _part, Head) = (store, part, head);
        _fits = new(() =>
        {
            var fits = new LiveFits();
            fits.Follow(Live, Settled);
            return fits;
        });
        _part.Changed += () =>
        {
            if (_fits.IsValueCreated) _fits.Value.Follow(Live, Settled);
            Changed?.Invoke();
        };
        _part.Follow(head.Latest.Number, head.Latest.Text);
    }

    /// <summary>Raised on any thread when <see cref="Head"/> or <see cref="Live"/> changed.</summary>
    public event Action? Changed;

    /// <summary>Raised on any thread when a window added, removed or put back a photograph.</summary>
    public event Action? PhotographsChanged;

    /// <summary>The latest kept revision.</summary>
    public JobHead Head { get; private set; }

    /// <summary>What it comes to.</summary>
    public LiveState Live => _part.State!;

    /// <summary>Its fits; worked out from when they are first asked for.</summary>
    public LiveFits Fits => _fits.Value;

    /// <summary>What its fits come to; null where nobody asked for them yet.</summary>
    public FitState? FitsSoFar => _fits.IsValueCreated ? _fits.Value.State : null;

    /// <summary>When no solid is under way any more.</summary>
    public Task Settled => _part.Settled;

    /// <summary>Keeps a whole new text.</summary>
    /// <param name="basedOn">The revision that the writer saw; when it is not the latest any more nothing is kept, and the answer says what stands there now.</param>
    public Task<Kept<JobHead>> EnterAsync(int basedOn, string text, string what) =>
        KeepAsync(() => HandInAsync(basedOn, text, what));

    /// <summary>
    /// Changes one place of the text. When others changed the job meanwhile but not this place, nothing of theirs is lost, and it is kept;
    /// when they changed this very place, the answer says what stands there now.
    /// </summary>
    /// <param name="place">A path such as <c>readings/3/reads</c>.</param>
    /// <param name="seen">What stood at the place when the writer began; null when there was nothing.</param>
    /// <param name="change">Changes the text.</param>
    public Task<Kept<JobHead>> ChangeAsync(string place, string? seen, Func<string, JobEdit> change, string what) =>
        KeepAsync(async () =>
        {
            string text = Head.Latest.Text;
            if (TextAt(place) != seen)
                return new StoreProblem(StoreProblemKind.ChangedMeanwhile, $"another window changed {place} meanwhile", "look at what stands there now, and choose", Head);
            JobEdit edit = change(text);
            return edit.Text is { } changed
                ? await HandInAsync(Head.Latest.Number, changed, what).ConfigureAwait(false)
                : new StoreProblem(StoreProblemKind.Refused, edit.Problem!.What, edit.Problem.Remedy);
        });

    public Task<Kept<JobHead>> UndoAsync() => KeepAsync(() => _store.UndoAsync(Head.Job, Head.Latest.Number));

    public Task<Kept<JobHead>> RedoAsync() => KeepAsync(() => _store.RedoAsync(Head.Job, Head.Latest.Number));

    /// <summary>What is written at a place of the text as it stands, or null when there is nothing.</summary>
    public string? TextAt(string place) => TextAt(Head.Latest.Text, Written, place);

    internal static string? TextAt(string text, string place) => TextAt(text, Part.Written.Read(text, out _), place);

    /// <summary>The latest kept text, taken apart; null when its brackets and indentation cannot be followed.</summary>
    public Written? Written => ReferenceEquals(Live.Text, Head.Latest.Text) ? Live.Written : Part.Written.Read(Head.Latest.Text, out _);

    private static string? TextAt(string text, Written? written, string place) =>
        written?.At(JobPath.Steps(place)) is { } there ? text.TrimStart('\ufeff')[there.Start..there.End] : null;

    /// <summary>Tells all windows that the photographs changed.</summary>
    public void TellOfPhotographs() => PhotographsChanged?.Invoke();

    public void Dispose()
    {
        if (_fits.IsValueCreated) _fits.Value.Dispose();
        _entering.Dispose();
    }

    /// <summary>Gives the store a text, and reckons meanwhile what it comes to: whoever entered it waits for both.</summary>
    private Task<Kept<JobHead>> HandInAsync(int basedOn, string text, string what)
    {
        _reckoning = Task.Run(() => _part.Reckon(text));
        return _store.EnterAsync(Head.Job, basedOn, text, what);
    }

    private async Task<Kept<JobHead>> KeepAsync(Func<Task<Kept<JobHead>>> keep)
    {
        await _entering.WaitAsync().ConfigureAwait(false);
        try
        {
            _reckoning = null;
            Kept<JobHead> kept = await keep().ConfigureAwait(false);
            JobHead? latest = kept.Value ?? kept.Problem?.Head;
            if (latest is null || latest.Latest.Number <= Head.Latest.Number) return kept;
            string text = latest.Latest.Text;
            Reckoned? reckoned = _reckoning is null ? null : await _reckoning.ConfigureAwait(false);
            Head = latest;
            // By undo, or from another window, another text may stand there.
            _part.Follow(latest.Latest.Number, reckoned?.Text == text ? reckoned with { Text = text } : _part.Reckon(text));
            return kept;
        }
        finally
        {
            _entering.Release();
        }
    }
}
