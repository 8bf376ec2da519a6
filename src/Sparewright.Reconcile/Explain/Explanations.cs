using System.Collections.Frozen;
using System.Globalization;
using Sparewright.Measure;
using Sparewright.Measure.Quantities;
using Sparewright.Measure.Uncertainty;
using Sparewright.Part.Elements;
using Sparewright.Part.Record;
using Sparewright.Reconcile.Adjust;
using Sparewright.Reconcile.Readings;

namespace Sparewright.Reconcile.Explain;

/// <summary>
/// Why a reading is wrong. Each way in which it may have come about foretells what would have been written down, from what all other readings say of
/// its place; Bayes' rule weighs the ways by how well they foretold it and by how common they are (Data/slip-weights.csv). A reading taken at another
/// place foretells by that place's own geometry. For what is altered on the display no refit is needed: the sizes without the reading do not change.
/// </summary>
internal static class Explanations
{
    /// <summary>Usual amounts, mm: how far a zero drifts unnoticed (standard deviation), how far surfaces wear (mean). Common practice, no source.</summary>
    private const double ZeroShiftMm = 0.2, MeanWearMm = 0.3;

    /// <summary>Chords of inside jaws, mm, between which a flat may lie: the range seen on calipers, our judgement.</summary>
    private const double LeastFlatMm = 0.1, MostFlatMm = 1.2;

    /// <summary>What is not thought of may be anything up to the size of the reading itself, and this much, mm.</summary>
    private const double LeastReachMm = 10;

    /// <summary>Below these odds a way is not worth the reader's time.</summary>
    private const double WorthTelling = 0.02;

    private const int MostTold = 5;

    private static readonly FrozenDictionary<string, (double Digital, double Analogue)> Weights = DataTable.Rows(typeof(Explanations), "slip-weights.csv")
        .ToFrozenDictionary(row => row[0], row => (double.Parse(row[1], CultureInfo.InvariantCulture), double.Parse(row[2], CultureInfo.InvariantCulture)));

    /// <summary>One way, with what it makes of the evidence.</summary>
    /// <param name="Evidence">Weight times likelihood.</param>
    private sealed record Way(SlipKind Kind, string Why, double? ShouldHaveReadMm, double Evidence);

    /// <param name="entry">The reading that is taken to be wrong.</param>
    /// <param name="without">The adjustment without it.</param>
    /// <param name="shape">The part at the sizes of <paramref name="without"/>.</param>
    /// <returns>The likeliest first, and how well all of them together foretold what was written down (a density, 1/mm); null where nothing else says anything of the reading's place.</returns>
    public static (IReadOnlyList<Explanation> Told, double Density)? Of(LedgerEntry entry, AdjustmentResult without, Ledger ledger, PlacedShape shape)
    {
        if (entry.Evidence is not { } evidence || evidence.Shows(shape) is not { HasValue: true } span) return null;
        DerivedValue foretold = without.Of(_ => ledger.Shared.Shown(span.Mm, ledger.Shared.Of(evidence.Parts), without.Estimates));
        if (!foretold.IsDecided) return null;

        bool analogue = evidence.With.Kind is not (InstrumentKind.DigitalCaliper or InstrumentKind.Micrometer or InstrumentKind.Scale);
        var caliper = entry.Reading as CaliperReading;
        double Weight(SlipKind kind) => analogue ? Weights[Name(kind)].Analogue : Weights[Name(kind)].Digital;
        List<Way> ways =
        [
            .. OnTheDisplay(evidence, foretold, ledger).Select(w => w with { Evidence = w.Evidence * Weight(w.Kind) }),
            .. OnTheOther(evidence, without, ledger, shape).Select(w => w with { Evidence = w.Evidence * Weight(w.Kind) }),
            .. (caliper is null ? [] : Elsewhere(caliper, entry.Measured!, without, ledger, shape)).Select(w => w with { Evidence = w.Evidence * Weight(w.Kind) }),
            .. (caliper is null ? [] : ByTheTool(caliper, entry.Measured!, foretold, ledger, shape)).Select(w => w with { Evidence = w.Evidence * Weight(w.Kind) }),
        ];
        var none = new Way(SlipKind.NoneOfThese, "none of these", null, Weight(SlipKind.NoneOfThese) * Anything(foretold.Value));
        double total = ways.Sum(w => w.Evidence) + none.Evidence;

        // Two ways to the same value are told as one, by the name of the likelier.
        var told = ways.GroupBy(w => w.ShouldHaveReadMm is { } mm ? $"{Math.Round(mm, 3)}" : w.Why)
            .Select(same => new Explanation(same.MaxBy(w => w.Evidence)!.Why, same.First().ShouldHaveReadMm, same.Sum(w => w.Evidence) / total))
            .Where(e => e.Odds >= WorthTelling).OrderByDescending(e => e.Odds).Take(MostTold);
        double applicable = ways.Select(w => w.Kind).Append(SlipKind.NoneOfThese).Distinct().Sum(Weight);
        return ([.. told, new Explanation(none.Why, null, none.Evidence / total) { IsNoneOfThese = true }], total / applicable);
    }

    /// <summary>How well "it may be anything" foretells a value, 1/mm.</summary>
    public static double Anything(double foretold) => 0.5 / Math.Max(LeastReachMm, Math.Abs(foretold));

    /// <summary>Something else was written down than the display said: once, or each time that it was read.</summary>
    private static IEnumerable<Way> OnTheDisplay(Evidence evidence, DerivedValue foretold, Ledger ledger)
    {
        double resolution = ledger.ResolutionOf(evidence.Reading);
        IReadOnlyList<double> reads = evidence.Reads;
        bool isLength = evidence.Unit.Kind == QuantityKind.Length, round = evidence.Reading is CaliperReading { Second: null, Across: null };
        IEnumerable<DisplaySlip> Slips(double shown) => DisplaySlips.Of(shown, resolution).Where(s => isLength || s.Kind is not (SlipKind.WrongUnit or SlipKind.WholeStep));
        Way As(SlipKind kind, string why, double meant, double share, double[] instead)
        {
            Evidence then = evidence.IfRead(instead);
            return new(kind, why, meant, share * Normal.Density(then.Observed - foretold.Value, Both(ledger.Shared.Of(then.Parts), foretold)));
        }

        for (int k = 0; k < reads.Count; k++)
            foreach (DisplaySlip slip in Slips(reads[k]).Where(s => reads.Count == 1 || !IsOfEach(s.Kind)))
                yield return As(slip.Kind, slip.Words, slip.MeantMm, slip.Share * (reads.Count == 1 ? 1 : OneOfThemShare / reads.Count), [.. reads.Select((r, i) => i == k ? slip.MeantMm : r)]);
        if (reads.Count > 1)
            // What is wrong with the unit or the count of divisions is wrong each time; digits often are, where somebody looks up from the paper and sees what was written before.
            foreach (DisplaySlip slip in Slips(reads[0]).Where(s => IsOfEach(s.Kind) || SameDigits(reads)))
                yield return As(slip.Kind, IsOfEach(slip.Kind) ? slip.Words : $"{slip.Words}, each time", slip.MeantMm, slip.Share * (IsOfEach(slip.Kind) ? 1 : 1 - OneOfThemShare),
                    [.. reads.Select(r => slip.Kind is SlipKind.WrongUnit or SlipKind.DecimalPoint ? r * (slip.MeantMm / reads[0]) : r + slip.MeantMm - reads[0])]);
        if (round)
        {
            yield return As(SlipKind.RadiusForDiameter, "a radius written down for a diameter", 2 * reads.Average(), 1, [.. reads.Select(r => 2 * r)]);
            yield return As(SlipKind.DiameterForRadius, "doubled, as if a radius had been read", 0.5 * reads.Average(), 1, [.. reads.Select(r => 0.5 * r)]);
        }
    }

    private static bool IsOfEach(SlipKind kind) => kind is SlipKind.WrongUnit or SlipKind.WholeStep;

    /// <summary>Whether repeats have their leading digits in common, so that the same slip changes each of them by as much.</summary>
    private static bool SameDigits(IReadOnlyList<double> reads) => reads.All(r => Math.Truncate(10 * r) == Math.Truncate(10 * reads[0]));

    /// <summary>Of slips of digits in one of several repeats and in each of them: how many are in one only. Our judgement.</summary>
    private const double OneOfThemShare = 0.7;

    /// <summary>What was read besides was written down wrong: then something else is foretold.</summary>
    private static IEnumerable<Way> OnTheOther(Evidence evidence, AdjustmentResult without, Ledger ledger, PlacedShape shape)
    {
        if (evidence.AlsoRead is not var (what, reads, ifRead)) yield break;
        for (int k = 0; k < reads.Count; k++)
            foreach (DisplaySlip slip in DisplaySlips.Of(reads[k], ledger.ResolutionOf(evidence.Reading)))
            {
                Evidence then = ifRead([.. reads.Select((r, i) => i == k ? slip.MeantMm : r)]);
                if (!double.IsFinite(then.Budget.StandardUncertaintyMm) || then.Shows(shape) is not { HasValue: true } span) continue;
                ReadingError error = ledger.Shared.Of(then.Parts);
                if (without.Of(_ => ledger.Shared.Shown(span.Mm, error, without.Estimates)) is { IsDecided: true } foretold)
                    yield return new(slip.Kind, $"{what}: {slip.Words}", slip.MeantMm, slip.Share / reads.Count * Normal.Density(then.Observed - foretold.Value, Both(error, foretold)));
            }
    }

    /// <summary>The jaws stood at another place, or closed where they should have spread.</summary>
    private static IEnumerable<Way> Elsewhere(CaliperReading reading, MeasuredLength measured, AdjustmentResult without, Ledger ledger, PlacedShape shape)
    {
        // Another place shares a face with the right one, or is one face as it is.
        HashSet<string> own = Names(reading);
        IReadOnlyList<PossibleReading> possible = PossibleReadings.Of(shape, new DraftHeights(reading.Drafts, shape) { Only = reading.AtHeight?.At(shape.Sizes).Value }, (first, second) => reading.Second is null ? second is null : second is not null && (own.Contains(first) || own.Contains(second)));
        PossibleReading[] places = [.. possible.Where(p => IsNeighbour(p.Reading, reading))];
        PossibleReading[] ways = [.. possible.Where(p => p.Reading.Way != reading.Way && SamePlace(p.Reading, reading))];
        foreach (var (kind, all) in ((SlipKind, PossibleReading[])[])[(SlipKind.OtherPlace, places), (SlipKind.OtherWay, ways)])
            foreach (PossibleReading other in all)
            {
                ReadingError error = ledger.ErrorOf(reading with { Way = other.Reading.Way }, measured);
                if (without.Of(_ => ledger.Shared.Shown(other.Mm, error, without.Estimates)) is { IsDecided: true } there)
                    yield return new(kind, kind == SlipKind.OtherWay ? $"read {ReadingWords.Way(other.Reading.Way)}, not {ReadingWords.Way(reading.Way)}" : $"taken at another place: {other.Text}",
                        null, Normal.Density(measured.ValueMm - there.Value, Both(error, there)) / all.Length);
            }
    }

    /// <summary>The caliper or the surface was not what it was taken for.</summary>
    private static IEnumerable<Way> ByTheTool(CaliperReading reading, MeasuredLength measured, DerivedValue foretold, Ledger ledger, PlacedShape shape)
    {
        double u = Both(ledger.ErrorOf(reading, measured), foretold), off = measured.ValueMm - foretold.Value;
        double should = measured.MeanMm - off;
        yield return new(SlipKind.Zero, "the caliper did not stand at zero", should, Normal.Density(off, Math.Sqrt(u * u + ZeroShiftMm * ZeroShiftMm)));
        double side = reading.Way switch { ReadingWay.Outside => -1, ReadingWay.Inside => 1, _ => 0 };
        if (side != 0 && !reading.Worn) yield return new(SlipKind.Worn, "the surface is worn, and not marked so", should, WornDensity(side * off, u));
        if (reading.Way == ReadingWay.Inside && reading.Second is null && JawRest.RoundFaceOf(shape.Elements.GetValueOrDefault(reading.First.Text)) is { Hollow: true } && !measured.Corrections.Any(c => c.Name.StartsWith("jaw flats", StringComparison.Ordinal)))
            yield return new(SlipKind.JawFlats, "the flats of the inside jaws in a round hole", should, FlatsDensity(measured.ValueMm, foretold.Value, u));
    }

    /// <summary>Of a normal error plus an amount that only adds and is the rarer the larger it is: the integral of φ((x − e)/u)/u · exp(−e/m)/m over e > 0.</summary>
    private static double WornDensity(double x, double u)
    {
        double m = MeanWearMm, z = u / m - x / u;
        // Far out the tail is φ(z)/z, and the factors before it would overflow.
        if (z > 8) return Normal.Density(x, u) * u / (m * z);
        // ½/m · exp(u²/2m² − x/m) · erfc((u/m − x/u)/√2): the exponentially modified normal density (plain integration; our own statement).
        return 0.5 / m * Math.Exp(u * u / (2 * m * m) - x / m) * 2 * Normal.UpperTail(z);
    }

    private static double FlatsDensity(double value, double diameter, double u)
    {
        const int points = 24;
        double sum = 0;
        int counted = 0;
        for (int k = 0; k < points; k++)
        {
            double flat = LeastFlatMm + (MostFlatMm - LeastFlatMm) * (k + 0.5) / points;
            if (flat >= diameter) break;
            sum += Normal.Density(value - JawFlat.ReadsMm(diameter, flat), u);
            counted++;
        }

        return counted == 0 ? 0 : sum / counted;
    }

    private static bool IsNeighbour(CaliperReading other, CaliperReading reading)
    {
        if (other.Way != reading.Way || SamePlace(other, reading)) return false;
        if (reading.Second is null) return other.Second is null && Feature(other.First.Text) == Feature(reading.First.Text) || (other.Second is null && other.Across == reading.Across);
        string[] own = [reading.First.Text, reading.Second.Text], its = other.Second is null ? [other.First.Text] : [other.First.Text, other.Second.Text];
        return own.Intersect(its, StringComparer.Ordinal).Any();
    }

    private static bool SamePlace(CaliperReading a, CaliperReading b) => a.Across == b.Across && Names(a).SetEquals(Names(b));

    private static HashSet<string> Names(CaliperReading r) => r.Second is null ? [r.First.Text] : [r.First.Text, r.Second.Text];

    private static string Feature(string element) => element.Split('.')[0];

    private static double Both(ReadingError error, DerivedValue foretold) => Math.Sqrt(error.OwnMm * error.OwnMm + foretold.StandardUncertainty * foretold.StandardUncertainty);

    private static string Name(SlipKind kind) => kind switch
    {
        SlipKind.DigitsSwapped => "digits swapped",
        SlipKind.LookAlikeDigit => "look-alike digit",
        SlipKind.OneDigit => "one digit",
        SlipKind.DecimalPoint => "decimal point",
        SlipKind.WrongUnit => "wrong unit",
        SlipKind.WholeStep => "whole step",
        SlipKind.RadiusForDiameter => "radius for diameter",
        SlipKind.DiameterForRadius => "diameter for radius",
        SlipKind.OtherPlace => "other place",
        SlipKind.OtherWay => "other way",
        SlipKind.Zero => "zero",
        SlipKind.JawFlats => "jaw flats",
        SlipKind.Worn => "worn",
        _ => "none of these",
    };
}
