using System.Globalization;
using Sparewright.Measure.Numbers;
using Sparewright.Measure.Uncertainty;
using Sparewright.Part.Sizes;
using Sparewright.Reconcile;
using Sparewright.Reconcile.Adjust;
using Sparewright.Reconcile.Findings;
using Sparewright.Reconcile.Nominals;

namespace Sparewright.BlindRemakes;

/// <summary>How often the tool was right.</summary>
internal sealed class Score
{
    /// <summary>A mistake is large from so many standard uncertainties of its reading on, and well checked where others say so much of it.</summary>
    private const double Large = 6, WellChecked = 0.7;

    /// <summary>Where the rows of the table of mistakes by their size end, in standard uncertainties of the reading.</summary>
    private static readonly double[] UpTo = [2, 4, 6, 10, 20, double.PositiveInfinity];

    private readonly Finding[] _bySize = [.. UpTo.Select(_ => new Finding())];
    private readonly Finding _ofLarge = new();

    private int _covered, _sizes, _nominalRight, _nominalKnown, _sureWrong, _sure, _half, _tenth, _explained, _explainable, _alarms, _clean, _failed, _jobs, _same, _sameWrong, _middle, _middleWrong, _told, _halfTold, _tenthTold;

    private int _middles, _middlesFound, _shrunk, _shrunkFound, _unshrunk, _shrunkWrong;

    /// <summary>Sum of the logarithms of the odds given to the truth.</summary>
    private double _log;

    /// <param name="mended">What the tool says of the same readings without the mistake: by it theory tells how well each reading is checked, for with the mistake others may stand aside in its stead.</param>
    public void Take(Case drawn, Reconciled? reconciled, Reconciled? mended)
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
            TakeMistake(drawn.Mistake!, reconciled, mended ?? reconciled);
        }

        // A mistake that nobody can see spoils the sizes, whatever the tool: sizes are scored where there was none, or it was set aside.
        if (mistaken && !(reconciled.Contradictions is [{ SetAside: true, Ids: [var only] }] && only == $"m{drawn.Mistake!.Reading}")) return;
        TakeShrink(drawn, reconciled);
        foreach (ReconciledSize size in reconciled.Sizes.Where(s => s.Status is SizeStatus.Decided or SizeStatus.Weak))
        {
            double truth = drawn.Sizes[size.Name], meantMm = drawn.Drawn[size.Name];
            bool Right(NominalCandidate c) => c.ShrunkFromMm is { } from ? Is(from, meantMm) : Is(c.Value, meantMm) && Is(meantMm, truth);
            _sizes++;
            if (size.Low95 <= truth && truth <= size.High95) _covered++;
            if (Is(Math.Round(size.Estimate * 2) / 2, meantMm)) _half++;
            if (Is(Math.Round(size.Estimate * 10) / 10, meantMm)) _tenth++;
            if (size.Nominal is { Best: var best } nominal)
            {
                _told++;
                if (Is(Math.Round(size.Estimate * 2) / 2, meantMm)) _halfTold++;
                if (Is(Math.Round(size.Estimate * 10) / 10, meantMm)) _tenthTold++;
                // Neither of the two that are told: what is left of one.
                double other = 1 - best.Odds - (nominal.RunnerUp?.Odds ?? 0);
                _log += Math.Log(Right(best) ? best.Odds : nominal.RunnerUp is { } second && Right(second) ? second.Odds : Math.Max(1e-6, other));
                if (best.Odds > 0.9)
                {
                    _sure++;
                    if (!Right(best)) _sureWrong++;
                }
            }

            if (size.SameAs is { Odds: > 0.9 } same)
            {
                _same++;
                if (!Is(drawn.Sizes[same.Size], truth)) _sameWrong++;
            }

            if (drawn.Family.Middles.Any(m => m.Size == size.Name && Is(m.Middle(drawn.Drawn), meantMm)))
            {
                _middles++;
                if (size.Centred is { } proposed && Is(Middle(proposed.Written, drawn.Sizes), truth)) _middlesFound++;
            }

            if (size.Centred is { Odds: > 0.9 } middle)
            {
                _middle++;
                if (!Is(Middle(middle.Written, drawn.Sizes), truth)) _middleWrong++;
            }

            if (size.StandardUncertainty < StepOf(meantMm, drawn.IsMetric) / 6)
            {
                _nominalKnown++;
                if (size.Nominal is { Best: var meant } && Right(meant)) _nominalRight++;
            }
        }
    }

    public void Take(Score other)
    {
        (_covered, _sizes, _nominalRight, _nominalKnown, _sureWrong, _sure) = (_covered + other._covered, _sizes + other._sizes, _nominalRight + other._nominalRight, _nominalKnown + other._nominalKnown, _sureWrong + other._sureWrong, _sure + other._sure);
        (_half, _tenth, _explained, _explainable) = (_half + other._half, _tenth + other._tenth, _explained + other._explained, _explainable + other._explainable);
        (_told, _halfTold, _tenthTold, _log) = (_told + other._told, _halfTold + other._halfTold, _tenthTold + other._tenthTold, _log + other._log);
        (_same, _sameWrong, _middle, _middleWrong) = (_same + other._same, _sameWrong + other._sameWrong, _middle + other._middle, _middleWrong + other._middleWrong);
        (_middles, _middlesFound, _shrunk, _shrunkFound, _unshrunk, _shrunkWrong) = (_middles + other._middles, _middlesFound + other._middlesFound, _shrunk + other._shrunk, _shrunkFound + other._shrunkFound, _unshrunk + other._unshrunk, _shrunkWrong + other._shrunkWrong);
        (_alarms, _clean, _failed, _jobs) = (_alarms + other._alarms, _clean + other._clean, _failed + other._failed, _jobs + other._jobs);
        foreach (var (mine, its) in _bySize.Append(_ofLarge).Zip(other._bySize.Append(other._ofLarge))) mine.Take(its);
    }

    public string Row(string name) =>
        $"| {name} | {Share(_covered, _sizes)} | {Share(_nominalRight, _nominalKnown)} | {Share(_sureWrong, _sure)} | {Share(_half, _sizes)} | {Share(_tenth, _sizes)} | {Mean(_log, _told)} | {Mean(Always(_halfTold, _told), 1)} | {Mean(Always(_tenthTold, _told), 1)} | {_failed} of {_jobs} |";

    /// <summary>Large mistakes, and alarms where there is none.</summary>
    public string MistakesRow(string name) => $"| {name} | {_ofLarge.Row()} | {Share(_explained, _explainable)} | {Share(_alarms, _clean)} |";

    /// <summary>Mistakes by how large they are beside the standard uncertainty of their reading.</summary>
    public IEnumerable<string> RowsBySize() => _bySize.Select((of, k) => string.Create(CultureInfo.InvariantCulture,
        $"| {(k == 0 ? $"below {UpTo[0]}" : double.IsInfinity(UpTo[k]) ? $"{UpTo[k - 1]} and more" : $"{UpTo[k - 1]} to {UpTo[k]}")} | {of.Row()} |"));

    private void TakeMistake(Mistake mistake, Reconciled reconciled, Reconciled mended)
    {
        string id = $"m{mistake.Reading}";
        ReconciledReading reading = reconciled.Readings.First(r => r.Reading.Id == id);
        bool found = reconciled.Contradictions.Any(c => c.Ids.Contains(id)), alone = reconciled.Contradictions.Any(c => c.Ids is [var only] && only == id);
        double size = Math.Abs(mistake.OffMm) / reading.Measured!.Budget.StandardUncertaintyMm, check = mended.Readings.First(r => r.Reading.Id == id).Redundancy ?? 0;
        AdjustedObservation tested = mended.Adjustment.Observations.First(o => o.Name == id);
        double shift = Math.Abs(mistake.OffMm) * Math.Sqrt(tested.Redundancy) / tested.StandardUncertainty;
        double critical = Reliability.CriticalW(Reconciliation.FalseAlarmLevel, mended.Readings.Count(r => r.Redundancy is not null));
        // What nothing checks cannot be found: its power is none, and it counts all the same.
        double power = check == 0 ? 0 : Normal.UpperTail(critical - shift) + Normal.UpperTail(critical + shift);
        _bySize[Array.FindIndex(UpTo, upTo => size < upTo)].Take(power, found, alone, check >= WellChecked);
        if (size < Large) return;
        _ofLarge.Take(power, found, alone, check >= WellChecked);
        if (!found || mistake.Kind == "other") return;
        _explainable++;
        // The value that was meant is what counts; one value may come about in more than one way.
        if (reading.Explanations is [{ ShouldHaveReadMm: { } should }, ..] && Math.Abs(should - (reading.Reading is Sparewright.Part.Record.CaliperReading r ? r.ReadsMm[0] - mistake.OffMm : 0)) < 0.15) _explained++;
    }

    /// <summary>Of some mistakes: how many were found, beside theory.</summary>
    private sealed class Finding
    {
        private int _all, _found, _alone, _well, _wellFound;

        /// <summary>Sum of the chances that the test of the mistaken reading lies above its critical value.</summary>
        private double _power;

        public void Take(double power, bool found, bool alone, bool wellChecked)
        {
            _all++;
            _power += power;
            if (found) _found++;
            if (alone) _alone++;
            if (!wellChecked) return;
            _well++;
            if (found) _wellFound++;
        }

        public void Take(Finding other) => (_all, _found, _alone, _well, _wellFound, _power) = (_all + other._all, _found + other._found, _alone + other._alone, _well + other._well, _wellFound + other._wellFound, _power + other._power);

        public string Row() => $"{Share(_found, _all)} | {(_all == 0 ? "–" : string.Create(CultureInfo.InvariantCulture, $"{100 * _power / _all:0.0} %"))} | {Share(_wellFound, _well)} | {Share(_alone, _all)}";
    }

    /// <summary>By how much a moulding shrank: told or not, rightly or not.</summary>
    private void TakeShrink(Case drawn, Reconciled reconciled)
    {
        if (!drawn.Family.IsMoulded) return;
        string any = drawn.Sizes.Keys.First();
        double shrink = 1 - drawn.Sizes[any] / drawn.Drawn[any];
        bool told = reconciled.Shrink is { } found && Math.Abs(found.Share - shrink) < 3 * found.StandardUncertainty + 1e-4;
        if (shrink > 1e-9)
        {
            _shrunk++;
            if (told) _shrunkFound++;
        }
        else
        {
            _unshrunk++;
            if (reconciled.Shrink is not null) _shrunkWrong++;
        }
    }

    /// <summary>Middles, and by how much mouldings shrank: what was found where it was true.</summary>
    public string MeantRow(string name) => $"| {name} | {Share(_sameWrong, _same)} | {Share(_middlesFound, _middles)} | {Share(_middleWrong, _middle)} | {Share(_shrunkFound, _shrunk)} | {Share(_shrunkWrong, _unshrunk)} |";

    /// <summary>The coarsest step on which a designed size lies; 0 where it lies on none, as a middle may.</summary>
    private static double StepOf(double mm, bool metric) => (metric ? [1, 0.5, 0.1] : (double[])[25.4 / 16, 25.4 / 32, 25.4 / 64]).FirstOrDefault(step => Math.Abs(mm / step - Math.Round(mm / step)) < 1e-6);

    /// <summary>What an expression of the sizes comes to.</summary>
    private static double Middle(string written, IReadOnlyDictionary<string, double> sizes) =>
        ExpressionParser.Read(written).Expression!.At(sizes.ToDictionary(s => s.Key, s => (Dual)s.Value, StringComparer.Ordinal)).Value;

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
