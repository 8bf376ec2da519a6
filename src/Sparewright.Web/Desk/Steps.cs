using Sparewright.Fit.Counterparts;
using Sparewright.Reconcile.Findings;
using Sparewright.Remake.Bearing;
using Sparewright.Remake.Live;
using Sparewright.Remake.Reports;
using Sparewright.Strength.Margins;

namespace Sparewright.Web.Desk;

/// <summary>A step of the job, as the card's index lists it.</summary>
/// <param name="Path">Its last piece of the address; null while the step is not there yet.</param>
public sealed record Step(int Number, string Name, string? Path)
{
    public static IReadOnlyList<Step> All { get; } =
    [
        new(1, "Intake", "intake"), new(2, "Readings", "readings"), new(3, "Shape", "shape"), new(4, "Sizes", "sizes"),
        new(5, "Fit", "fit"), new(6, "Strength", "strength"), new(7, "Print", null), new(8, "Trials", "trials"), new(9, "Hand-over", "hand-over"),
    ];

    /// <summary>How it stands, in a few words.</summary>
    /// <param name="IsCalling">Whether somebody should look.</param>
    public sealed record State(string Words, bool IsCalling);

    /// <summary>How this step of a job stands.</summary>
    /// <param name="fits">What its fits come to; null where nobody has them worked out.</param>
    /// <param name="strength">How the computing of its strength stands; null where that is not asked.</param>
    public State Of(LiveState live, FitState? fits, WorkState<StrengthFound>? strength) => Path switch
    {
        null => new("not yet in this version", false),
        "intake" => live.Job is { } job ? new(job.CouldInjure.Could ? "could injure: caution" : "noted", job.CouldInjure.Could) : Broken,
        "readings" => Readings(live),
        "shape" => Shape(live),
        "sizes" => Sizes(live),
        "fit" => Fit(live, fits),
        "strength" => Strength(live, strength),
        "trials" => Trials(live, fits),
        "hand-over" => live.Reconciled is null ? new("not yet", false) : new("print files and picture", false),
        _ => throw new InvalidOperationException($"unknown step {Path}"),
    };

    private static readonly State Broken = new("the text must be put right", true);

    private static State Readings(LiveState live)
    {
        if (live.Job is not { } job) return Broken;
        if (job.Readings.Count == 0) return new("none yet", false);
        if (live.Reconciled is not { } reconciled) return new("cannot be reconciled", true);
        int bad = reconciled.HowManyWrong;
        return bad > 0 ? new($"{Count(bad, "reading")} {(bad == 1 ? "disagrees" : "disagree")}", true)
            : reconciled.ReadingsDisagree ? new("something does not agree", true)
            : new($"{Count(job.Readings.Count, "reading")}, all agree", false);
    }

    private static State Shape(LiveState live) =>
        live.Job is null ? Broken
        : live.SolidProblem is not null ? new("cannot be built", true)
        : live.IsBuilding ? new("being built", false)
        : new(Count(live.Job.Shape.Count, "feature"), false);

    private static State Sizes(LiveState live)
    {
        if (live.Reconciled is not { } reconciled) return new("not known", true);
        int open = reconciled.Sizes.Count(s => s.Status == SizeStatus.Undecided);
        return open > 0 ? new($"{Count(open, "size")} undecided", true) : new($"{Count(reconciled.Sizes.Count, "size")}, all decided", false);
    }

    private static State Fit(LiveState live, FitState? fits)
    {
        if (live.Job is not { } job) return Broken;
        if (live.Reconciled is null) return new("not known", true);
        if (job.Counterparts.Count == 0) return new("no counterpart yet", false);
        if (fits is { Failure: not null }) return new("cannot be judged", true);
        if (fits is not { Found: { } found } || fits.IsOutOfDate) return new("being worked out", false);
        return found.Each.Any(f => f.Press is { IsRefused: true }) ? new("a press fit is refused", true)
            : new($"{OddsInWords.Percent(found.AllTogether)} will fit", found.AllTogether < found.WantedOdds);
    }

    private static State Trials(LiveState live, FitState? fits)
    {
        if (live.Job is not { } job) return Broken;
        if (job.Trials.Count == 0) return new("none yet", false);
        JobTrials? trials = fits is { IsOutOfDate: false } ? fits.Found?.Trials : null;
        return trials is { Contradict: true } ? new("answers contradict each other", true)
            : trials?.Unused.Count(u => u.Remedy is not null) is > 0 and var unused ? new($"{Count(unused, "answer")} cannot be used", true)
            : new($"{Count(job.Trials.Count, "trial")}", false);
    }

    private static State Strength(LiveState live, WorkState<StrengthFound>? strength)
    {
        if (strength?.IsRunning == true) return new("being computed", false);
        if (live.Job is { Loads.Count: 0 }) return new("no loads said", false);
        if (strength?.Done is not { } found) return strength?.Failure is { JobIsWrong: true } ? new("cannot be computed", true) : new("not computed yet", false);
        Margin margin = found.Governing.Margin;
        string words = margin.Value < 1 ? $"margin {StrengthReport.Short(margin.Value)}, below 1"
            : margin.HoldsWithItsError ? $"holds {StrengthReport.Short(margin.Value)} times the load (estimate)"
            : $"holds {StrengthReport.Short(margin.Value)} times the load, not by more than its ±";
        return new(strength.DoneRevision == live.Version ? words : $"out of date: {words}", !margin.HoldsWithItsError);
    }

    private static string Count(int n, string word) => n == 1 ? $"1 {word}" : $"{n} {word}s";
}
