using Sparewright.Measure.Numbers;
using Sparewright.Measure.Quantities;
using Sparewright.Part;
using Sparewright.Part.Elements;
using Sparewright.Part.Record;
using Sparewright.Part.Shape;
using Sparewright.Reconcile.Adjust;
using Sparewright.Reconcile.Readings;
using Quantity = Sparewright.Part.Sizes.Quantity;

namespace Sparewright.Reconcile.Findings;

/// <summary>What the readings leave open, in words: which sizes may move together without any reading noticing, and what would settle it.</summary>
internal static class UndecidedFindings
{
    private const int MostReadingsNamed = 5;

    public static IReadOnlyList<UndecidedSizes> From(Job job, AdjustmentResult result, Ledger ledger, PlacedShape shape)
    {
        if (result.NullSpace.IsEmpty) return [];
        var possible = PossibleReadings.Of(shape, new DraftHeights(job.Drafts, shape, job.Drafts.Count > 0 ? FacesInPlace.Of(shape) : null));
        return [.. result.NullSpace.Directions.Select(direction => Of(job, direction, ledger, shape, possible))];
    }

    private static UndecidedSizes Of(Job job, double[] direction, Ledger ledger, PlacedShape shape, IReadOnlyList<PossibleReading> possible)
    {
        IReadOnlyList<int> moved = NullSpace.Moves(direction);
        string[] names = [.. moved.Select(k => job.Sizes.Free[k].Name)];
        string[] measure =
        [
            .. possible.Where(p => Moves(p.Gradient, direction)).OrderBy(p => p.Gradient.Unknowns.Length).ThenBy(p => p.Text.Length).ThenBy(p => p.Text, StringComparer.Ordinal)
                .Select(p => p.Text).Take(MostReadingsNamed),
        ];
        if (measure.Length == 0) measure = [.. Angles(shape).Where(a => AngleGeometry.Span(a, shape) is { HasValue: true } span && Moves(span.Mm.Gradient, direction)).Select(a => $"angle: {(a.Second is null ? $"{a.First}" : $"[{a.First}, {a.Second}]")}").Take(MostReadingsNamed)];
        if (measure.Length == 0) measure = [.. job.Shape.Where(f => f is EdgeRound or Fillet && shape.Elements.GetValueOrDefault($"{f.Name}.face") is EdgeFaceElement round && Moves(round.Radius.Gradient, direction)).Select(f => $"radius_gauge: {f.Name}")];
        if (measure.Length == 0) measure = [.. names.Select(name => $"something other than a caliper, written as `{name}: {{likely: {{value: …, plus_minus: …}}}}`")];
        string drawn = string.Join(", ", moved.Select(k => $"{job.Sizes.Free[k].Name} {With(shape.Sizes[job.Sizes.Free[k].Name].Value, job.Sizes.Free[k].Quantity)}"));
        return new(names, $"{Why(job, direction, moved, ledger, shape)}; drawn near where the job starts it: {drawn}", measure);
    }

    /// <summary>What a protractor could be laid to: cones, and corners of flat faces.</summary>
    private static IEnumerable<AngleReading> Angles(PlacedShape shape)
    {
        static AngleReading Of(Element first, Element? second) => new("", new(first.Name, Place.None), second is null ? null : new(second.Name, Place.None), [0], null, Place.None);
        Element[] flats = [.. shape.Elements.Values.Where(e => e is FlatElement && !JawRest.IsDatum(e.Name)).OrderBy(e => e.Name, StringComparer.Ordinal)];
        return shape.Elements.Values.Where(e => e is ConeElement).OrderBy(e => e.Name, StringComparer.Ordinal).Select(cone => Of(cone, null))
            .Concat(flats.Index().SelectMany(a => flats.Skip(a.Index + 1), (a, b) => Of(a.Item, b)));
    }

    private static string Why(Job job, double[] direction, IReadOnlyList<int> moved, Ledger ledger, PlacedShape shape)
    {
        string Name(int k) => $"`{job.Sizes.Free[k].Name}`";
        if (moved.Count == 1)
        {
            string[] compared = [.. ledger.Entries.Where(e => !e.Decides && Moves(GradientOf(e, shape), direction)).Select(e => e.Reading.Id)];
            return compared.Length == 0
                ? $"no reading depends on {Name(moved[0])}"
                : $"only {string.Join(", ", compared)}, compared but without a say, depends on {Name(moved[0])}";
        }

        string[] changes = [.. moved.Select(k => $"{Name(k)}{(k == moved[0] ? " could be" : "")} {With(Math.Round(Math.Abs(direction[k]), 3), job.Sizes.Free[k].Quantity)} {(direction[k] > 0 ? "bigger" : "smaller")}")];
        string tradeOff = $"{Listed.Of(changes)}, and every reading would stay the same";
        string all = Listed.Of([.. moved.Select(Name)]);
        if (moved.Count == 2 && Math.Abs(direction[moved[0]]) == Math.Abs(direction[moved[1]]))
            return $"{all} appear only as a {(direction[moved[0]] == direction[moved[1]] ? "difference" : "sum")}: {tradeOff}";
        return $"{all} appear only together: {tradeOff}";
    }

    private static bool Moves(Gradient gradient, double[] direction)
    {
        double change = 0, size = 0;
        for (int k = 0; k < gradient.Unknowns.Length; k++)
        {
            double part = gradient.Derivatives[k] * direction[gradient.Unknowns[k]];
            change += part;
            size += Math.Abs(part);
        }

        return Math.Abs(change) > 1e-6 * size;
    }

    private static Gradient GradientOf(LedgerEntry entry, PlacedShape shape) => entry.Reading switch
    {
        GaugeLeafReading leaf => Ledger.RoundOf(leaf, shape)!.Radius.Gradient,
        _ => entry.Evidence?.Shows(shape).Mm.Gradient ?? Gradient.None,
    };

    private static string With(double value, Quantity quantity) => quantity switch
    {
        Quantity.Length => $"{Shown.Number(Math.Round(value, 3))} mm",
        Quantity.Angle => $"{Shown.Number(Math.Round(value, 3))}°",
        _ => Shown.Number(Math.Round(value, 3)),
    };
}
