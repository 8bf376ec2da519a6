using System.Globalization;
using Sparewright.Measure.Uncertainty;
using Sparewright.Reconcile;
using Sparewright.Reconcile.Adjust;
using Sparewright.Reconcile.Findings;

namespace Sparewright.BlindRemakes;

/// <summary>How often the tool was right.</summary>
internal sealed class Score
{
    /// <summary>A mistake counts as one over six standard deviations of what the reading should have shown.</summary>
    private const double LargeW = 6, Checked = 0.1;

    private int _covered, _sizes, _nominalRight, _nominalKnown, _sureWrong, _sure, _half, _tenth, _found, _alone, _large, _explained, _explainable, _alarms, _clean, _failed, _jobs, _same, _sameWrong, _middle, _middleWrong, _told, _halfTold, _tenthTold;

    /// <summary>Sums: of the logarithms of the odds given to the truth, of the theoretical powers of finding the mistakes.</summary>
    private double _log, _power;

    public void Take(Case drawn, Reconciled? reconciled)
    {
        _jobs++;
        if (reconciled is null)
        {
            _failed++;
            return;
        }

        bool mistaken = drawn.Mistake is not null;
        if (!mistaken)
        {
            _clean++;
            if (reconciled.Contradictions.Count > 0 || reconciled.ContradictionOpen) _alarms++;
        }
        else
        {
            TakeMistake(drawn.Mistake!, reconciled);
        }

        // A mistake that nobody can see spoils the sizes, whatever the tool: sizes are scored where there was none, or it was set aside.
        if (mistaken && !(reconciled.Contradictions is [{ SetAside: true, Ids: [var only] }] && only == $"m{drawn.Mistake!.Reading}")) return;
        foreach (ReconciledSize size in reconciled.Sizes.Where(s => s.Status is SizeStatus.Decided or SizeStatus.Weak))
        {
            double truth = drawn.Sizes[size.Name];
            _sizes++;
            if (size.Low95 <= truth && truth <= size.High95) _covered++;
            if (Is(Math.Round(size.Estimate * 2) / 2, truth)) _half++;
            if (Is(Math.Round(size.Estimate * 10) / 10, truth)) _tenth++;
            if (size.Nominal is { Best: var best } nominal)
            {
                _told++;
                if (Is(Math.Round(size.Estimate * 2) / 2, truth)) _halfTold++;
                if (Is(Math.Round(size.Estimate * 10) / 10, truth)) _tenthTold++;
                // Neither of the two that are told: what is left of one.
                double other = 1 - best.Odds - (nominal.RunnerUp?.Odds ?? 0);
                _log += Math.Log(Is(best.Value, truth) ? best.Odds : nominal.RunnerUp is { } second && Is(second.Value, truth) ? second.Odds : Math.Max(1e-6, other));
                if (best.Odds > 0.9)
                {
                    _sure++;
                    if (!Is(best.Value, truth)) _sureWrong++;
                }
            }

            if (size.SameAs is { Odds: > 0.9 } same)
            {
                _same++;
                if (!Is(drawn.Sizes[same.Size], truth)) _sameWrong++;
            }

            if (size.Centred is { Odds: > 0.9 } middle)
            {
                _middle++;
                if (!Is(Middle(middle.Written, drawn.Sizes), truth)) _middleWrong++;
            }

            if (size.StandardUncertainty < StepOf(truth, drawn.IsMetric) / 6)
            {
                _nominalKnown++;
                if (size.Nominal is { Best: var meant } && Is(meant.Value, truth)) _nominalRight++;
            }
        }
    }

    public void Take(Score other)
    {
        (_covered, _sizes, _nominalRight, _nominalKnown, _sureWrong, _sure) = (_covered + other._covered, _sizes + other._sizes, _nominalRight + other._nominalRight, _nominalKnown + other._nominalKnown, _sureWrong + other._sureWrong, _sure + other._sure);
        (_half, _tenth, _found, _alone, _large, _explained, _explainable) = (_half + other._half, _tenth + other._tenth, _found + other._found, _alone + other._alone, _large + other._large, _explained + other._explained, _explainable + other._explainable);
        (_told, _halfTold, _tenthTold, _log, _power) = (_told + other._told, _halfTold + other._halfTold, _tenthTold + other._tenthTold, _log + other._log, _power + other._power);
        (_same, _sameWrong, _middle, _middleWrong) = (_same + other._same, _sameWrong + other._sameWrong, _middle + other._middle, _middleWrong + other._middleWrong);
        (_alarms, _clean, _failed, _jobs) = (_alarms + other._alarms, _clean + other._clean, _failed + other._failed, _jobs + other._jobs);
    }

    public string Row(string name) =>
        $"| {name} | {Share(_covered, _sizes)} | {Share(_nominalRight, _nominalKnown)} | {Share(_sureWrong, _sure)} | {Share(_sameWrong, _same)} | {Share(_middleWrong, _middle)} | {Share(_half, _sizes)} | {Share(_tenth, _sizes)} | {Mean(_log, _told)} | {Mean(Always(_halfTold, _told), 1)} | {Mean(Always(_tenthTold, _told), 1)} | {Share(_found, _large)} | {Mean(100 * _power, _large)} % | {Share(_alone, _large)} | {Share(_explained, _explainable)} | {Share(_alarms, _clean)} | {_failed} of {_jobs} |";

    private void TakeMistake(Mistake mistake, Reconciled reconciled)
    {
        string id = $"m{mistake.Reading}";
        ReconciledReading reading = reconciled.Readings.First(r => r.Reading.Id == id);
        bool found = reconciled.Contradictions.Any(c => c.Ids.Contains(id));
        double shift = Math.Abs(mistake.OffMm) / Math.Max(1e-9, reading.Measured!.Budget.StandardUncertaintyMm) * Math.Sqrt(reading.Redundancy ?? 0);
        if (reading.Redundancy < Checked || shift < LargeW) return;
        _large++;
        double critical = Reliability.CriticalW(Reconciliation.FalseAlarmLevel, reconciled.Readings.Count(r => r.Redundancy is not null));
        _power += Normal.UpperTail(critical - shift) + Normal.UpperTail(critical + shift);
        if (!found) return;
        _found++;
        if (reconciled.Contradictions.Any(c => c.Ids is [var only] && only == id)) _alone++;
        if (mistake.Kind == "other") return;
        _explainable++;
        // The value that was meant is what counts; one value may come about in more than one way.
        if (reading.Explanations is [{ ShouldHaveReadMm: { } should }, ..] && Math.Abs(should - (reading.Reading is Sparewright.Part.Record.CaliperReading r ? r.ReadsMm[0] - mistake.OffMm : 0)) < 0.15) _explained++;
    }

    /// <summary>The coarsest step on which a designed size lies.</summary>
    private static double StepOf(double mm, bool metric) => (metric ? [1, 0.5, 0.1] : (double[])[25.4 / 16, 25.4 / 32, 25.4 / 64]).First(step => Math.Abs(mm / step - Math.Round(mm / step)) < 1e-6);

    /// <summary>Of these families only one lets a feature be anywhere: half of another size is its middle.</summary>
    private static double Middle(string written, IReadOnlyDictionary<string, double> sizes) =>
        written.EndsWith("/2", StringComparison.Ordinal) && sizes.TryGetValue(written[..^2], out double whole) ? whole / 2 : throw new InvalidOperationException($"no middle of these families is {written}");

    private static bool Is(double a, double b) => Math.Abs(a - b) < 1e-6;

    private static string Share(int part, int of) => of == 0 ? "–" : string.Create(CultureInfo.InvariantCulture, $"{100.0 * part / of:0.0} % of {of}");

    /// <summary>The log score of a rule that is right in so many cases, and says so each time: the best that it can have.</summary>
    private static double Always(int right, int of)
    {
        double share = (double)right / of;
        return right == 0 || right == of ? 0 : share * Math.Log(share) + (1 - share) * Math.Log(1 - share);
    }

    private static string Mean(double sum, int of) => of == 0 ? "–" : (sum / of).ToString("0.000", CultureInfo.InvariantCulture);
}
