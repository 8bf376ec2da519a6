using System.Globalization;
using Sparewright.Fit.Capability;
using Sparewright.Fit.Ladder;
using Sparewright.Fit.Odds;
using Sparewright.Measure;
using Sparewright.Measure.Quantities;
using Sparewright.Part;
using Sparewright.Part.Record;
using Sparewright.Reconcile.Readings;

namespace Sparewright.Fit.Counterparts;

/// <summary>Something of a trial from which nothing is learnt.</summary>
/// <param name="What">What of it, for people.</param>
/// <param name="Remedy">What to do so that it counts; null where it belongs to another process and is right as it is.</param>
public sealed record UnusedTrial(DateOnly On, string What, string Why, string? Remedy, Place Place);

/// <summary>What a job's own trials show about the process that it is going to be printed with.</summary>
/// <param name="OfGauges">Answers of gauges.</param>
/// <param name="OfParts">Answers of the part itself.</param>
/// <param name="Unused">What does not count, and why.</param>
public sealed record JobTrials(IReadOnlyList<MeasuredTrial> Measured, IReadOnlyList<TriedTrial> OfGauges, IReadOnlyList<TriedTrial> OfParts, IReadOnlyList<UnusedTrial> Unused)
{
    public static JobTrials None { get; } = new([], [], [], []);

    public IReadOnlyList<TrialEvidence> Evidence => [.. Measured, .. OfGauges, .. OfParts];

    /// <summary>True where a counterpart goes in a tighter gauge and not in a looser one.</summary>
    public bool Contradict => OfGauges.Any(a => a.Answer > TrialAnswer.TooTight && OfGauges.Any(b => b.Answer == TrialAnswer.TooTight && b.Counterpart == a.Counterpart && b.Kind == a.Kind && a.Sense * (b.DrawnMm - a.DrawnMm) > 0));

    /// <summary>All but the answers of gauges for this counterpart.</summary>
    public IReadOnlyList<TrialEvidence> Besides(string counterpart) => [.. Measured, .. OfGauges.Where(g => g.Counterpart != counterpart), .. OfParts];

    /// <summary>Reads a job's trials as evidence.</summary>
    /// <param name="fits">Where its counterparts meet the part.</param>
    public static JobTrials Of(Job job, JobFits fits)
    {
        var reader = new Reader(job, fits);
        foreach (Trial trial in job.Trials) reader.Read(trial);
        return new(reader.Measured, reader.OfGauges, reader.OfParts, reader.Unused);
    }

    private sealed class Reader(Job job, JobFits fits)
    {
        public List<MeasuredTrial> Measured { get; } = [];

        public List<TriedTrial> OfGauges { get; } = [];

        public List<TriedTrial> OfParts { get; } = [];

        public List<UnusedTrial> Unused { get; } = [];

        public void Read(Trial trial)
        {
            if (OtherProcess(trial) is { } other)
            {
                Unused.Add(new(trial.On, What(trial), other, null, trial.Place));
                return;
            }

            foreach (MeasuredFeature feature in trial.Measured) Read(trial.On, feature);
            foreach (GaugeTrial gauges in trial.Gauges) Read(trial.On, gauges);
            if (trial.Part is { } part) Read(trial.On, part);
        }

        private static string What(Trial trial) => string.Join(", ", (string[])
        [
            .. trial.Gauges.Select(g => $"gauges for {g.Counterpart}"), .. trial.Measured.Count == 0 ? Array.Empty<string>() : ["measured features"], .. trial.Part is null ? Array.Empty<string>() : ["the part itself"],
        ]);

        /// <summary>In what a trial's process differs from the one of the part; null where it is the same.</summary>
        private string? OtherProcess(Trial trial)
        {
            PrintPlan plan = job.Print ?? PrintPlan.Unsaid;
            PrintPlan its = plan with { Machine = trial.Machine ?? plan.Machine, Material = trial.Material ?? plan.Material, NozzleMm = trial.NozzleMm ?? plan.NozzleMm, LayerMm = trial.LayerMm ?? plan.LayerMm };
            ProcessSetting part = JobProcess.Of(plan), here = JobProcess.Of(its);
            string[] differs =
            [
                .. Same(part.Machine, here.Machine) ? Array.Empty<string>() : [$"printed on {here.Machine}"],
                .. Same(part.Material, here.Material) ? Array.Empty<string>() : [$"printed in {here.Material}"],
                .. Same(part.Settings, here.Settings) ? Array.Empty<string>() : [$"printed with {here.Settings}"],
            ];
            return differs.Length == 0 ? null : $"{string.Join(", ", differs)}; the part will be otherwise";
        }

        private static bool Same(string a, string b) => string.Equals(a.Trim(), b.Trim(), StringComparison.OrdinalIgnoreCase);

        private void Read(DateOnly on, MeasuredFeature feature)
        {
            var (with, why) = Instruments.Of(feature.With, QuantityKind.Length, job.Instruments);
            SurfaceKind kind = SurfaceKinds.Of(feature.Surface);
            if (with is null)
            {
                Unused.Add(new(on, Words(kind, feature.DrawnMm), why!.Reason, why.Remedy, feature.Place));
                return;
            }

            bool round = kind is SurfaceKind.HoleUpright or SurfaceKind.HoleLying;
            MeasuredLength length = MeasuredLength.From(new LengthReading(with, kind.IsHollow() ? ReadingWay.Inside : ReadingWay.Outside, feature.ReadsMm, round), InstrumentDefaults.Published);
            Measured.Add(new(kind, feature.DrawnMm, on, length.ValueMm, length.Budget.OwnMm)
            {
                Instrument = with.Name,
                InstrumentShiftMm = length.Budget.SharedMm,
            });
        }

        private void Read(DateOnly on, GaugeTrial gauges)
        {
            string what = $"gauges for {gauges.Counterpart}";
            if (Critical(gauges.Counterpart) is not (var condition, null))
            {
                Unused.Add(new(on, what, Critical(gauges.Counterpart).WhyNot!, "measure the printed holes or pegs, and give them as measured features", gauges.Place));
                return;
            }

            PrintedSize printed = condition!.Clearance.Printed[0];
            SurfaceKind kind = gauges.Surface is { } said ? SurfaceKinds.Of(said) : printed.Kind;
            if (kind.IsHollow() != printed.Kind.IsHollow())
            {
                Unused.Add(new(on, what, $"{kind.Words()} is not what {gauges.Counterpart} meets, which is {printed.Kind.Words()}", "correct `surface`, or leave it out", gauges.Place));
                return;
            }

            if (gauges.TooLooseMm.Count > 0 && double.IsInfinity(condition.Window.HighMm))
            {
                Unused.Add(new(on, what, $"nothing is too loose for {gauges.Counterpart}: its window of clearance is open above", "write them as those in which it goes", gauges.Place));
                return;
            }

            foreach (var (sizes, answer) in ((IReadOnlyList<double>, TrialAnswer)[])[(gauges.TooTightMm, TrialAnswer.TooTight), (gauges.GoesMm, TrialAnswer.Goes), (gauges.TooLooseMm, TrialAnswer.TooLoose)])
                foreach (double mm in sizes)
                    OfGauges.Add(CriticalFit.Tried(condition, kind, AsPrinted(printed, mm), on, answer));
        }

        private void Read(DateOnly on, PartTrial part)
        {
            foreach (var (names, answer, words) in ((IReadOnlyList<string>, TrialAnswer, string)[])
                [(part.Fits, TrialAnswer.Right, "fits"), (part.TooTight, TrialAnswer.TooTight, "is too tight"), (part.TooLoose, TrialAnswer.TooLoose, "is too loose")])
                foreach (string name in names)
                {
                    string what = $"{name} {words}";
                    if (Critical(name) is not (var condition, null))
                    {
                        Unused.Add(new(on, what, Critical(name).WhyNot!, null, part.Place));
                        continue;
                    }

                    PrintedSize printed = condition!.Clearance.Printed[0];
                    string? size = printed.PerSize.Keys.SingleOrDefault();
                    if (size is not null && !part.DrawnMm.ContainsKey(size))
                        Unused.Add(new(on, what, $"nothing says how {size} was drawn", $"add drawn: {{{size}: …}}", part.Place));
                    else if (answer == TrialAnswer.TooLoose && double.IsInfinity(condition.Window.HighMm))
                        Unused.Add(new(on, what, "its window of clearance is open above", "give the clearance that you want", part.Place));
                    else
                        OfParts.Add(new TriedTrial(printed.Kind, size is null ? printed.DrawnMm : AsPrinted(printed, part.DrawnMm[size]), on, condition.Clearance.Counterparts[0].Name, condition.Clearance.Counterparts[0].Length, condition.Window, answer));
                }
        }

        /// <summary>A fit of one printed size and one counterpart, or why trying it tells nothing of a single size.</summary>
        private (OneClearance? Condition, string? WhyNot) Critical(string counterpart)
        {
            if (fits.Case.Conditions.FirstOrDefault(c => c.Name == counterpart) is not OneClearance condition) return (null, "it meets a pattern of holes, where the distances have a say as well");
            string? why = CriticalFit.WhyNot(condition);
            if (why is null && condition.Clearance.Printed[0].PerSize.Count > 1) why = "its printed size hangs on more than one size that may change";
            return (condition, why);
        }

        private double AsPrinted(PrintedSize printed, double sizeMm) => CriticalFit.PrintedMm(printed, sizeMm, fits.DrawnMm);

        private static string Words(SurfaceKind kind, double mm) => string.Create(CultureInfo.InvariantCulture, $"{kind.Words()} of {mm:0.###} mm");
    }
}
