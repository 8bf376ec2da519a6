using Sparewright.Part.Record;
using Sparewright.Part.Sizes;
using Sparewright.Reconcile.Findings;
using Sparewright.Reconcile.Readings;

namespace Sparewright.Web.Sizes;

/// <summary>What one reading says of a size, all others at their adjusted values; mm or degrees.</summary>
/// <param name="PlusMinus">Half of the interval that holds in 95 of 100 cases.</param>
/// <param name="Decides">Whether it carries a share of the size.</param>
/// <param name="LeftOut">Whether it is set aside.</param>
public sealed record EvidenceMark(string Id, double Says, double PlusMinus, bool Decides, bool LeftOut);

/// <summary>The evidence for one size: what each reading says of it beside the adjusted value.</summary>
/// <param name="PlusMinus">Of the adjusted value; infinite when nothing decides it, 0 when it is bound.</param>
public sealed record Evidence(string Size, Quantity Quantity, double Value, double PlusMinus, IReadOnlyList<EvidenceMark> Marks)
{
    private const double Normal95 = 1.959963984540054;

    /// <summary>A reading that moves by less than this when the size moves by one says next to nothing of it.</summary>
    private const double LeastSlope = 0.05;

    /// <summary>More marks than these no longer make a picture; those that say it most surely stay.</summary>
    private const int MostMarks = 8;

    /// <summary>The evidence for every free size of a job; a size that follows from others has none of its own.</summary>
    public static IReadOnlyDictionary<string, Evidence> Of(Job job, Reconciled reconciled)
    {
        var all = new Dictionary<string, Evidence>(StringComparer.Ordinal);
        (ReconciledReading Reading, Measure.Numbers.Dual Mm)[] readings = [.. reconciled.Readings
            .Where(r => r is { Reading: CaliperReading { Worn: false }, Measured: not null, Observed: not null })
            .Select(r => (r, CaliperGeometry.Of((CaliperReading)r.Reading, reconciled.Shape).Mm))
            .Where(t => t.Mm is not null).Select(t => (t.r, t.Mm!.Value))];
        for (int k = 0; k < job.Sizes.Free.Count; k++)
        {
            Size size = job.Sizes.Free[k];
            ReconciledSize found = reconciled.Sizes.First(s => s.Name == size.Name);
            var marks = new List<EvidenceMark>();
            foreach (var (reading, mm) in readings)
            {
                double slope = mm.Gradient.By(k);
                // In degrees a slope is small by nature: a degree moves an edge at 60 mm by 1 mm.
                if (Math.Abs(slope) < (size.Quantity == Quantity.Angle ? LeastSlope / 60 : LeastSlope)) continue;
                marks.Add(new(reading.Reading.Id, found.Estimate + (reading.Observed!.Value - mm.Value) / slope, reading.Measured!.Budget.ExpandedMm(0.95) / Math.Abs(slope),
                    found.DecidedBy.Contains(reading.Reading.Id), reading.Verdict == ReadingVerdict.SetAside));
            }

            // A round between two gauge leaves: the middle, and half of what lies between them.
            foreach (GaugeLeafReading leaf in reconciled.Readings.Select(r => r.Reading).OfType<GaugeLeafReading>())
                if (Ledger.RoundOf(leaf, reconciled.Shape)?.Radius is { } radius && Math.Abs(radius.Gradient.By(k)) >= LeastSlope)
                    marks.Add(new(leaf.Id, found.Estimate + (0.5 * (leaf.BiggerThanMm + leaf.SmallerThanMm) - radius.Value) / radius.Gradient.By(k),
                        0.5 * (leaf.SmallerThanMm - leaf.BiggerThanMm) / Math.Abs(radius.Gradient.By(k)), found.DecidedBy.Contains(leaf.Id), false));

            if (size.Given is Given.Likely likely) marks.Add(new("likely", likely.Value, likely.PlusMinus, true, false));
            EvidenceMark[] kept = [.. marks.OrderByDescending(m => m.Decides || m.LeftOut).ThenBy(m => m.PlusMinus).Take(MostMarks)];
            all[size.Name] = new(size.Name, size.Quantity, found.Estimate, Normal95 * found.StandardUncertainty, [.. marks.Where(kept.Contains)]);
        }

        return all;
    }
}
