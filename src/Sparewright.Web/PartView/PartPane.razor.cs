using System.Globalization;
using Microsoft.AspNetCore.Components;
using Microsoft.JSInterop;
using Sparewright.Handover.Picture;
using Sparewright.Measure.Quantities;
using Sparewright.Reconcile.Findings;
using Sparewright.Remake.Bearing;
using Sparewright.Remake.Live;
using Sparewright.Remake.Reports;
using Sparewright.Web.Data;
using Sparewright.Web.Desk;

namespace Sparewright.Web.PartView;

/// <summary>
/// The part in view: the picture with its controls, what stands out on it in words, and its faces as a list. Picture and list say the same;
/// whatever is done in one can be done in the other.
/// </summary>
public sealed partial class PartPane : ScriptedPane
{
    private const int MostTold = 4, MostFailures = 4;

    private static readonly TimeSpan TryAgainAfter = TimeSpan.FromMilliseconds(400), LongestWait = TimeSpan.FromMilliseconds(400);

    private ElementReference _root;
    private PartInView? _worded, _asked;
    private IReadOnlyList<FaceInWords> _faces = [];
    private int _changes, _told;
    private int? _picked;
    private LengthUnit _measuredIn;
    private bool _showsSizes, _prefersDrawn, _cannotShade, _telling;
    private LinearDimension? _readingPlace;

    /// <summary>How what is in view stands to the text, in words.</summary>
    private (string Words, bool IsCalling) Standing => Live switch
    {
        { SolidProblem: { } problem } => ($"Cannot be built: {problem.What}. {AsSentence(problem.Remedy)}{LastGood}", true),
        { Reconciled: null, Problems: [var first, ..] } => ($"Put right first: {first.What}. {AsSentence(first.Remedy)}{LastGood}", true),
        { IsBuilding: true, InView: null } => ("The part is being built …", false),
        { IsOutOfDate: true } => ("Out of date: a new picture is under way …", false),
        { IsBuilding: true, InView: not null } => ("Drawn; what the volume of the whole says of the sizes is still being worked out …", false),
        { InView: { Job.Readings.Count: 0 } } => ("Drawn from first guesses: nothing is measured yet.", false),
        { InView: not null } => ("Drawn from the readings as they stand.", false),
        _ => ("There is nothing to draw yet.", false),
    };

    private string LastGood => Live.InView is { } last ? string.Create(CultureInfo.InvariantCulture, $" The picture is out of date: it shows revision {last.Version}.") : "";

    private string Sentence => Live.InView is { } part ? (Live.IsOutOfDate ? "Out of date. " : "") + PartInWords.Of(part, Attention.Unit) : "There is no picture of the part yet.";

    private string MarginSentence => Margin is { } m ? $" Coloured by margin under “{m.Of.Load.Name}”: {LeastOf(m.Of)}, {WhereOf(m.Of)}. {string.Join("; ", Steps(m.Of).Select(s => $"{s.Words}: {s.Share}"))}." : "";

    /// <summary>The margin to colour the part by, where it belongs to the part in view.</summary>
    private ShownMargin? Margin => Attention.Margin is { } margin && _worded?.Version == margin.Version ? margin : null;

    /// <summary>The faces that stand out; the one that was picked comes first.</summary>
    private IReadOnlyList<FaceInWords> Outstanding => [.. _faces.Where(IsOutstanding).OrderByDescending(f => f.Number == _picked)];

    protected override void OnParametersSet()
    {
        base.OnParametersSet();
        Attention.Changed -= Look;
        Attention.Changed += Look;
        Reword();
    }

    protected override void OnJobChanged()
    {
        Reword();
        // At once, and not when the browser has drawn all that changed beside the picture.
        _ = TellAtOnceAsync();
    }

    protected override async Task OnAfterRenderAsync(bool firstRender)
    {
        if (await AttachAsync("browser/part-view.js", _root, Self) && await AskAsync<PictureFacts>("facts") is { } facts)
        {
            _cannotShade = !facts.CanShade;
            if (facts.Inches) Attention.Show(LengthUnit.Inch);
            if (_cannotShade) StateHasChanged();
        }

        await TellPictureAsync();
    }

    [JSInvokable]
    public void FacePicked(int number)
    {
        bool isFace = number >= 0 && number < _faces.Count;
        _picked = isFace ? number : null;
        Attention.Pick(isFace ? _faces[number].Names : []);
    }

    /// <summary>The browser took away what shading needs, or gave it back.</summary>
    [JSInvokable]
    public void ShadingLost(bool lost)
    {
        _cannotShade = lost;
        StateHasChanged();
    }

    protected override void Dispose(bool disposing)
    {
        Attention.Changed -= Look;
        base.Dispose(disposing);
    }

    private void Look() => _ = InvokeAsync(() =>
    {
        _changes++;
        if (_measuredIn != Attention.Unit)
        {
            Measure();
            // The picture has the faces in words, too.
            _asked = null;
        }

        // Something else was made to stand out than the face that was picked.
        if (_picked is { } picked && !ReferenceEquals(Attention.Elements, _faces[picked].Names)) _picked = null;
        PlaceReading();
        StateHasChanged();
    });

    private void PlaceReading() => _readingPlace = _worded is { } part && Attention.Reading is { } reading ? DimensionsInView.Reading(part, reading, Attention.Unit) : null;

    /// <summary>Puts lengths into words, in the unit of the window.</summary>
    private void Measure()
    {
        _measuredIn = Attention.Unit;
        _faces = _worded is null ? [] : FaceInWords.AllOf(_worded, Attention.Unit);
        _changes++;
        PlaceReading();
    }

    private void Reword()
    {
        if (ReferenceEquals(_worded, Live.InView)) return;
        _worded = Live.InView;
        _picked = null;
        Measure();
    }

    private async Task TellAtOnceAsync()
    {
        try
        {
            await TellPictureAsync();
        }
        catch (Exception e)
        {
            await DispatchExceptionAsync(e);
        }
    }

    /// <summary>Hands the browser what changed. One at a time: what changes meanwhile goes with the next turn of the loop.</summary>
    private async Task TellPictureAsync()
    {
        if (!HasScript || _telling) return;
        _telling = true;
        int failures = 0;
        bool hasWaited = false;
        try
        {
            while (HasScript && _worded is { } part)
            {
                int changes = _changes;
                if (!ReferenceEquals(_asked, part))
                {
                    (_asked, _told) = (part, changes);
                    bool isShown = await AskAsync<bool>("show", new
                    {
                        key = part.Key,
                        mesh = PictureData.MeshAddress(Desk.Head.Job, part.Key),
                        views = PictureData.ViewsAddress(Desk.Head.Job, part.Key),
                        words = _faces.Select(f => f.ToString()),
                        inches = Attention.Unit == LengthUnit.Inch,
                    }, LookOf(part));
                    // It may have been the mesh of a moment ago, or the line was broken: a newer one, or another try.
                    if (isShown) failures = 0;
                    else if (ReferenceEquals(_worded, part) && ++failures < MostFailures)
                    {
                        await Task.Delay(TryAgainAfter);
                        _asked = null;
                    }

                    continue;
                }

                if (_told == changes) return;
                if (Live.IsBuilding && !hasWaited)
                {
                    // A picture that is about to go is not turned first.
                    hasWaited = true;
                    await Task.WhenAny(Desk.Settled, Task.Delay(LongestWait));
                    Reword();
                    continue;
                }

                _told = changes;
                await TellAsync("look", LookOf(part));
            }
        }
        finally
        {
            _telling = false;
        }
    }

    private PictureLook LookOf(PartInView part) => new([.. Outstanding.Select(f => f.Number)], [.. NamedByReading()], [.. DimensionsOf(part)], Margin is { } margin ? new(margin.Address, PlaceOf(margin.Of), margin.Of.Solved.Weakest.Point.Face, LeastOf(margin.Of)) : null);

    private IEnumerable<ShownDimension> DimensionsOf(PartInView part)
    {
        if (_readingPlace is not null) yield return ShownDimension.Of(_readingPlace, inHand: true);
        if (!_showsSizes) yield break;
        foreach (Dimension size in DimensionsInView.Sizes(part, Attention.Unit)) yield return ShownDimension.Of(size, inHand: false);
    }

    private static string LeastOf(CaseFound of) => $"least margin {StrengthReport.WithError(of.Margin)}";

    private static string WhereOf(CaseFound of) => $"{StrengthReport.Words(of.Margin.Mode)}, at {of.Element}";

    private static double[] PlaceOf(CaseFound of) => [of.Solved.Weakest.Point.At.X, of.Solved.Weakest.Point.At.Y, of.Solved.Weakest.Point.At.Z];

    /// <summary>The steps of the margin in words, each with its share of the surface; those that are nowhere are left out.</summary>
    private static IEnumerable<(int Number, string Words, string Share)> Steps(CaseFound of) =>
        of.Picture is { } picture ? MarginPicture.Steps.Select((words, k) => (k + 1, words, Percent(picture.Shares[k]))).Where(s => picture.Shares[s.Item1 - 1] > 0) : [];

    private static string Percent(double share) => share < 0.005 ? "below 1 % of the surface" : string.Create(CultureInfo.InvariantCulture, $"{100 * share:0} % of the surface");

    private bool IsOutstanding(FaceInWords face) => face.Number == _picked || (_picked is null && Attention.Elements.Any(face.Answers));

    private IEnumerable<int> NamedByReading() => Attention.Reading is { } reading
        ? _faces.Where(f => f.Answers(reading.First.Text) || (reading.Second is { } second && f.Answers(second.Text))).Select(f => f.Number)
        : [];

    private void ShowSizes(ChangeEventArgs change)
    {
        _showsSizes = change.Value is true;
        _changes++;
    }

    private async Task PreferDrawn(ChangeEventArgs change)
    {
        _prefersDrawn = change.Value is true;
        await TellAsync("preferDrawn", _prefersDrawn);
    }

    private static bool IsCalling(ReconciledReading reading) => reading.Verdict is ReadingVerdict.SetAside or ReadingVerdict.Suspect or ReadingVerdict.ComparedAndDiffers;

    private string Values(ReconciledReading reading) => reading switch
    {
        { Observed: { } observed, Adjusted: { } adjusted } when IsCalling(reading) => $": {LengthsShown.WithUnit(observed, Attention.Unit)}, but {LengthsShown.WithUnit(adjusted, Attention.Unit)} by all others",
        { Observed: { } observed } => $": {LengthsShown.WithUnit(observed, Attention.Unit)}",
        _ => "",
    };

    private static string AsSentence(string words) => words.Length == 0 ? "" : $"{char.ToUpperInvariant(words[0])}{words[1..]}.";

    /// <summary>What the picture says of itself.</summary>
    /// <param name="Inches">Whether this browser has kept that lengths are wanted in inches.</param>
    internal sealed record PictureFacts(bool CanShade, bool Inches = false);
}
