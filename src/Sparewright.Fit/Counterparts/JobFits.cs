using System.Diagnostics.CodeAnalysis;
using System.Globalization;
using Sparewright.Fit.Capability;
using Sparewright.Fit.Odds;
using Sparewright.Fit.Tables;
using Sparewright.Fit.Windows;
using Sparewright.Measure.Numbers;
using Sparewright.Part;
using Sparewright.Part.Elements;
using Sparewright.Part.Record;
using Sparewright.Part.Shape;
using Sparewright.Part.Sizes;
using Sparewright.Reconcile.Adjust;
using Sparewright.Reconcile.Findings;
using Sparewright.Reconcile.Nominals;

namespace Sparewright.Fit.Counterparts;

/// <summary>A counterpart where it meets the part.</summary>
/// <param name="Surfaces">One, or one for each hole of a pattern.</param>
/// <param name="Own">Its own size as far as it is known; null for a pattern of holes that does not say it.</param>
/// <param name="Pitch">How far its own holes are apart; null for what is no pattern.</param>
/// <param name="Window">The clearances that will do; null for a pattern of holes.</param>
/// <param name="Condition">What must hold for this one, by itself.</param>
public sealed record MetCounterpart(Counterpart Counterpart, IReadOnlyList<MetSurface> Surfaces, OwnLength? Own, OwnLength? Pitch, ClearanceWindow? Window, FitCondition Condition)
{
    /// <summary>What was taken for granted, for whoever reads the result.</summary>
    public IReadOnlyList<string> Remarks { get; init; } = [];
}

/// <summary>All counterparts of a job where they meet the part as drawn, as one case for the odds.</summary>
/// <param name="Case">The conditions of all, each thing that is not known once.</param>
/// <param name="DrawnMm">The sizes that the fits may change, as drawn now.</param>
public sealed record JobFits(FitCase Case, IReadOnlyList<MetCounterpart> Met, IReadOnlyDictionary<string, double> DrawnMm)
{
    /// <summary>Finds where each counterpart of a job meets the part at the reconciled sizes.</summary>
    /// <param name="process">What the printer is known or assumed to do.</param>
    /// <param name="problems">What must be put right in the job first, each with its place.</param>
    public static bool TryFind(Job job, Reconciled reconciled, ProcessCapability process, [NotNullWhen(true)] out JobFits? fits, out IReadOnlyList<Problem> problems)
    {
        var finder = new Finder(job, reconciled, process);
        MetCounterpart[] met = finder.FindAll();
        problems = finder.Problems;
        fits = problems.Count > 0 ? null : new(new FitCase(process, finder.Read, [.. finder.Conditions]), met, finder.Changeable);
        return fits is not null;
    }

    /// <summary>The part drawn with sizes changed by so much, in mm.</summary>
    public static PlacedShape ShapeChanged(Job job, Reconciled reconciled, IReadOnlyDictionary<string, double> byMm) => new DrawnTable(job, reconciled).Shape(byMm);

    private sealed class Finder : IPatternLengths
    {
        /// <summary>How far a size that nothing decides may be off, as a standard deviation in mm: so far that nobody relies on it. Our judgement.</summary>
        private const double UndecidedMm = 1;

        private readonly Job _job;
        private readonly DrawnTable _drawn;
        private readonly MetSurfaces _surfaces;
        private readonly CounterpartLengths _lengths;
        private readonly ProcessKind _process;
        private readonly List<Problem> _problems = [];
        private readonly List<FitCondition> _conditions = [];
        private readonly Dictionary<string, int> _readAt;

        public Finder(Job job, Reconciled reconciled, ProcessCapability process)
        {
            _job = job;
            _drawn = new(job, reconciled);
            _process = process.Setting.Process;
            PlacedShape shape = _drawn.Shape();
            _surfaces = new(shape, job.Shape, job.Print?.WayUp ?? Direction.Up);
            _lengths = new(job.Instruments, shape.Sizes);
            Read = ReadSizes(job, reconciled.Adjustment, shape);
            _readAt = Read.Names.Index().ToDictionary(n => n.Item, n => n.Index, StringComparer.Ordinal);
        }

        public IReadOnlyList<Problem> Problems => _problems;

        public IReadOnlyList<FitCondition> Conditions => _conditions;

        public NormalLengths Read { get; }

        public IReadOnlyDictionary<string, double> Changeable => _drawn.Changeable;

        public MetCounterpart[] FindAll()
        {
            var found = new Dictionary<string, MetCounterpart>(StringComparer.Ordinal);
            // Fasteners first: a pattern of holes needs to know what goes through it.
            foreach (Counterpart counterpart in _job.Counterparts.OrderBy(c => c.Kind == CounterpartKind.Holes))
                if ((counterpart.Kind == CounterpartKind.Holes ? Pattern(counterpart, found.Values) : Single(counterpart)) is { } met)
                    found.Add(counterpart.Name, met);
            return [.. _job.Counterparts.Select(c => found.GetValueOrDefault(c.Name)).OfType<MetCounterpart>()];
        }

        private MetCounterpart? Single(Counterpart counterpart)
        {
            if (Good(_lengths.SizeOf(counterpart)) is not { } own || Surfaces(counterpart, counterpart.How != Meeting.GoesOver, own.Length.MeanMm) is not { } surfaces) return null;
            ClearanceWindow window = FitWindows.Of(counterpart, own.Length, _process);
            double sense = counterpart.How == Meeting.GoesOver ? -1 : 1;
            if (surfaces.Count == 1)
            {
                var one = new OneClearance(counterpart.Name, Clearance(counterpart.Name, surfaces[0], own.Length, sense), window);
                _conditions.Add(one);
                string? remark = counterpart is { Hook: { } hook, Fit: null, Clearance: null } ? new SnapFit(hook).Remark(window) : null;
                return new(counterpart, surfaces, own, null, window, one) { Remarks = remark is null ? [] : [remark] };
            }

            Counterpart? holes = _job.Counterparts.FirstOrDefault(c => c.Kind == CounterpartKind.Holes && SameHoles(c, surfaces, own.Length.MeanMm));
            (OwnLength? pitch, OwnLength? hole) = holes is null ? (null, null) : (Good(_lengths.PitchOf(holes)), holes.Size is null ? null : Good(_lengths.SizeOf(holes)));
            if (holes is not null && pitch is null) return null;
            FitCondition condition = Through(counterpart.Name, surfaces, own, window, holes, pitch, hole);
            _conditions.Add(condition);
            return new(counterpart, surfaces, own, null, window, condition) { Remarks = [.. PatternRemarks(surfaces, holes)] };
        }

        /// <summary>A pattern of holes: whatever goes through it must find its place. Fasteners that are counterparts themselves have said so already.</summary>
        private MetCounterpart? Pattern(Counterpart holes, IEnumerable<MetCounterpart> others)
        {
            OwnLength? own = holes.Size is null ? null : Good(_lengths.SizeOf(holes));
            if (Good(_lengths.PitchOf(holes)) is not { } pitch || (holes.Size is not null && own is null) || Surfaces(holes, true, own?.Length.MeanMm ?? 0) is not { } surfaces) return null;
            if (surfaces.Count < 2)
            {
                _problems.Add(new(holes.Where.Place, $"`{holes.Where.Text}` is one hole, and a pitch takes two", "name the row or ring of holes that these must line up with"));
                return null;
            }

            MetCounterpart? fasteners = others.FirstOrDefault(m => m.Surfaces.Count == surfaces.Count && m.Surfaces[0].Name == surfaces[0].Name);
            var (fastener, remark) = fasteners is not null ? (fasteners.Own!, null) : ByTheHoles(surfaces[0].SizeMm.Value);
            ClearanceWindow goesThrough = new(0, double.PositiveInfinity, "all go through at once");
            FitCondition condition = Through(fasteners?.Counterpart.Name ?? $"screws through {holes.Name}", surfaces, fastener, goesThrough, holes, pitch, own) with { Name = holes.Name };
            if (fasteners is null) _conditions.Add(condition);
            return new(holes, surfaces, own, pitch, null, condition) { Remarks = [.. PatternRemarks(surfaces, holes), .. remark is null ? Array.Empty<string>() : [remark]] };
        }

        /// <summary>Nobody says what goes through: the screw for which such a hole is nearest to the medium one of ISO 273.</summary>
        private static (OwnLength Own, string Remark) ByTheHoles(double holeMm)
        {
            ClearanceHole nearest = ClearanceHoles.All.MinBy(h => Math.Abs(h.MediumMm - holeMm))!;
            Limits screw = Threads.Screw(nearest.Thread)!.Value;
            return (new(new((screw.LowMm + screw.HighMm) / 2, (screw.HighMm - screw.LowMm) / Math.Sqrt(12)), $"{nearest.Thread} screw, by the size of the holes"),
                string.Create(CultureInfo.InvariantCulture, $"nothing says what goes through the holes: by their size ({holeMm:0.00} mm) {nearest.Thread} screws are taken; write them as a counterpart"));
        }

        private FitCondition Through(string name, IReadOnlyList<MetSurface> surfaces, OwnLength fastener, ClearanceWindow window, Counterpart? holes, OwnLength? pitch, OwnLength? hole)
        {
            // Holes of the counterpart that are wider than the fastener leave it room as well (a floating pair).
            double play = hole is null ? 0 : hole.Length.MeanMm - fastener.Length.MeanMm;
            bool floats = play > 0;
            LengthSum[] rooms =
            [
                .. surfaces.Select(s => new LengthSum(0, [Printed(s.Kind, s.SizeMm, 0.5) with { Surface = s.Name }],
                    floats ? [new(name, fastener.Length, -1), new(holes!.Name, hole!.Length, 0.5)] : [new(name, fastener.Length, -0.5)], [])),
            ];
            ClearanceWindow both = floats ? window with { LowMm = window.LowMm + play, HighMm = window.HighMm + play } : window;
            return new HolePattern(surfaces).Condition(name, rooms, both, pitch is null ? null : ($"pitch of {holes!.Name}", pitch.Length), this);
        }

        private static IEnumerable<string> PatternRemarks(IReadOnlyList<MetSurface> surfaces, Counterpart? holes)
        {
            if (holes is null) yield return "where the fasteners stand is known only by the old part's readings; measure the holes of the counterpart and write them as `holes`";
            else if (new HolePattern(surfaces).PitchMm is null) yield return $"the holes are neither an even row nor a ring, so the pitch of {holes.Name} cannot be held against them: the old part's readings are used";
        }

        private bool SameHoles(Counterpart holes, IReadOnlyList<MetSurface> surfaces, double ownMm) =>
            _surfaces.Of(holes.Where, true, ownMm, isRound: true).Found is { Count: > 1 } found && found.Count == surfaces.Count && found[0].Name == surfaces[0].Name;

        private LengthSum Clearance(string name, MetSurface surface, NormalLength own, double sense) => new(0, [Printed(surface.Kind, surface.SizeMm, sense) with { Surface = surface.Name }], [new(name, own, -sense)], []);

        public PrintedSize Printed(SurfaceKind kind, Dual drawnMm, double factor) =>
            new(kind, drawnMm.Value, factor, Changeable.Keys.Select(n => (Name: n, By: drawnMm.Gradient.By(Number(n)))).Where(p => p.By != 0).ToDictionary(p => p.Name, p => p.By, StringComparer.Ordinal));

        public (double FixedMm, IReadOnlyList<ReadSize> Read) InTheWorld(Dual lengthMm)
        {
            ReadSize[] read = [.. _drawn.Free.Select((s, k) => (s.Name, By: lengthMm.Gradient.By(k))).Where(r => r.By != 0 && _readAt.ContainsKey(r.Name)).Select(r => new ReadSize(r.Name, r.By))];
            return (lengthMm.Value - read.Sum(r => r.Factor * Read.MeansMm[_readAt[r.Name]]), read);
        }

        private int Number(string size) => _drawn.Free.Index().First(s => s.Item.Name == size).Index;

        private IReadOnlyList<MetSurface>? Surfaces(Counterpart counterpart, bool partIsOutside, double ownMm)
        {
            var (found, problem) = _surfaces.Of(counterpart.Where, partIsOutside, ownMm, counterpart.Kind.IsRound());
            if (problem is null) return found;
            _problems.Add(problem);
            return null;
        }

        private OwnLength? Good(FoundLength found)
        {
            if (found.Problem is { } problem && !_problems.Contains(problem)) _problems.Add(problem);
            return found.Value;
        }

        private static NormalLengths ReadSizes(Job job, AdjustmentResult adjustment, PlacedShape shape)
        {
            Size[] lengths = [.. job.Sizes.Free.Where(s => s.Quantity == Quantity.Length)];
            int[] at = [.. lengths.Select(s => job.Sizes.Free.Index().First(f => f.Item == s).Index)];
            var covariance = new double[lengths.Length, lengths.Length];
            for (int i = 0; i < at.Length; i++)
                for (int j = 0; j < at.Length; j++)
                    covariance[i, j] = adjustment.Covariance(at[i], at[j]) is var c && double.IsNaN(c) ? (i == j ? UndecidedMm * UndecidedMm : 0) : c;
            return new([.. lengths.Select(s => s.Name)], [.. lengths.Select(s => shape.Sizes[s.Name].Value)], covariance);
        }
    }
}
