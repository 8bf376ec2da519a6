namespace Sparewright.Fit.Capability;

/// <summary>The unknowns of one kind of surface (bias, proportional part, small-hole part; width of the lines behind the bias; lengths of counterparts that were tried; shifts of instruments and of days) under evidence, for a given spread.</summary>
internal sealed class KindRegression
{
    /// <summary>Constant, proportional, small hole, and the width of lines.</summary>
    public const int Terms = 4;

    /// <summary>Which of the unknowns the width of lines is.</summary>
    public const int Walls = 3;

    private readonly List<(double[] Sum, double ValueMm, double VarianceMm2, double SpreadShare)> _measured = [];
    private readonly List<(double[] Sum, double Low, double High, double VarianceMm2, double SpreadShare)> _tried = [];
    private readonly double[] _mean;
    private readonly double[,] _covariance;
    private readonly int _firstDay;
    private readonly double _dayShare;

    public KindRegression(KindPrior prior, IReadOnlyList<TrialEvidence> evidence)
    {
        TriedTrial[] tried = [.. evidence.OfType<TriedTrial>()];
        MeasuredTrial[] measured = [.. evidence.OfType<MeasuredTrial>()];
        Counterparts = [.. tried.Select(t => t.Counterpart).Distinct().Order(StringComparer.Ordinal)];
        string[] instruments = [.. measured.Where(m => m.InstrumentShiftMm > 0).Select(m => m.Instrument).Distinct().Order(StringComparer.Ordinal)];
        // A day with one piece only says nothing of its own shift.
        _dayShare = prior.DayShare;
        DateOnly[] days = _dayShare == 0 ? [] : [.. evidence.GroupBy(e => e.On).Where(d => d.Skip(1).Any()).Select(d => d.Key).Order()];
        _firstDay = Terms + Counterparts.Count + instruments.Length;
        int unknowns = _firstDay + days.Length;
        (_mean, _covariance) = (new double[unknowns], new double[unknowns, unknowns]);
        // The width of lines is behind a part of the bias; what other kinds have shown of it moves that part.
        double ofWalls = prior.Kind.WallSense() * Math.Sqrt(prior.WallShare) * prior.BiasUncertaintyMm;
        SetPrior(0, prior.BiasMm + ofWalls * prior.Walls.MeanMm, Math.Sqrt((1 - prior.WallShare) * prior.BiasUncertaintyMm * prior.BiasUncertaintyMm + ofWalls * ofWalls * prior.Walls.VarianceMm2));
        SetPrior(Walls, prior.Walls.MeanMm, prior.Walls.StandardDeviationMm);
        _covariance[0, Walls] = _covariance[Walls, 0] = ofWalls * prior.Walls.VarianceMm2;
        SetPrior(1, prior.Proportional, prior.ProportionalUncertainty);
        SetPrior(2, prior.SmallHoleMm2, prior.SmallHoleUncertaintyMm2);
        for (int i = 0; i < Counterparts.Count; i++)
        {
            NormalLength length = tried.Where(t => t.Counterpart == Counterparts[i]).MinBy(t => (t.Length.StandardDeviationMm, t.Length.MeanMm))!.Length;
            SetPrior(Terms + i, length.MeanMm, length.StandardDeviationMm);
        }

        for (int i = 0; i < instruments.Length; i++)
            SetPrior(Terms + Counterparts.Count + i, 0, measured.Where(m => m.Instrument == instruments[i]).Max(m => m.InstrumentShiftMm));

        double OfDay(TrialEvidence one, double[] sum, double sense)
        {
            int day = Array.IndexOf(days, one.On);
            if (day < 0) return 1;
            sum[_firstDay + day] = sense;
            return 1 - _dayShare;
        }

        foreach (MeasuredTrial m in measured)
        {
            var sum = new double[unknowns];
            Factors(m.DrawnMm, sum);
            double share = OfDay(m, sum, 1);
            int instrument = Array.IndexOf(instruments, m.Instrument);
            if (instrument >= 0 && m.InstrumentShiftMm > 0) sum[Terms + Counterparts.Count + instrument] = 1;
            _measured.Add((sum, m.PrintedMm - m.DrawnMm, m.UncertaintyMm * m.UncertaintyMm + prior.SlicedVarianceMm2(m.DrawnMm), share));
        }

        foreach (TriedTrial t in tried)
        {
            // Clearance = ±(printed − counterpart); what is drawn goes into the bounds.
            var sum = new double[unknowns];
            Factors(t.DrawnMm, sum);
            for (int i = 0; i < 3; i++) sum[i] *= t.Sense;
            sum[Terms + Counterparts.ToList().IndexOf(t.Counterpart)] = -t.Sense;
            double drawn = t.Sense * t.DrawnMm, share = OfDay(t, sum, t.Sense);
            _tried.Add((sum, t.Bounds.LowMm - drawn, t.Bounds.HighMm - drawn, t.FeelMm * t.FeelMm + prior.SlicedVarianceMm2(t.DrawnMm), share));
        }
    }

    public IReadOnlyList<string> Counterparts { get; }

    /// <summary>The factors of bias, proportional and small-hole part for a size drawn so.</summary>
    public static void Factors(double drawnMm, double[] sum) => (sum[0], sum[1], sum[2]) = (1, drawnMm, 1 / Math.Max(drawnMm, 0.1));

    /// <summary>What is believed when the spread is so much.</summary>
    public Belief At(double spreadMm)
    {
        double spread = spreadMm * spreadMm;
        var covariance = (double[,])_covariance.Clone();
        for (int i = _firstDay; i < _mean.Length; i++) covariance[i, i] = _dayShare * spread;
        var belief = new Belief([.. _mean], covariance);
        foreach (var (sum, value, variance, share) in _measured) belief.Measured(sum, value, variance + share * spread);
        return belief.Within([.. _tried.Select(t => (t.Sum, t.Low, t.High, t.VarianceMm2 + t.SpreadShare * spread))]);
    }

    private void SetPrior(int unknown, double mean, double uncertainty) => (_mean[unknown], _covariance[unknown, unknown]) = (mean, uncertainty * uncertainty);
}
