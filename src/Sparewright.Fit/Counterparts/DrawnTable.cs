using Sparewright.Part.Elements;
using Sparewright.Part.Record;
using Sparewright.Part.Sizes;
using Sparewright.Reconcile.Findings;

namespace Sparewright.Fit.Counterparts;

/// <summary>The job's lengths all set free, at the values of the part as measured: what binds the finished part may still be drawn otherwise for a counterpart and a printer.</summary>
internal sealed class DrawnTable
{
    private readonly Job _job;
    private readonly SizeTable _table;
    private readonly double[] _values;

    public DrawnTable(Job job, Reconciled reconciled)
    {
        _job = job;
        _table = new([.. job.Sizes.All.Select(s => s is { Given: Given.Fixed f, Quantity: Quantity.Length } ? s with { Given = new Given.About(f.Value) } : s)]);
        _values = [.. _table.Free.Select(s => reconciled.Shape.Sizes[s.Name].Value)];
        HashSet<string> changeable = [.. job.Counterparts.Select(c => c.Changes).OfType<string>()];
        Changeable = _table.Free.Where(s => changeable.Contains(s.Name)).ToDictionary(s => s.Name, s => reconciled.Shape.Sizes[s.Name].Value, StringComparer.Ordinal);
    }

    /// <summary>The sizes that the fits may change, as measured.</summary>
    public IReadOnlyDictionary<string, double> Changeable { get; }

    /// <summary>In the order of the derivatives of <see cref="Shape"/>.</summary>
    public IReadOnlyList<Size> Free => _table.Free;

    public double ValueOf(string size) => _values[_table.Free.Index().First(s => s.Item.Name == size).Index];

    /// <summary>The part at these sizes, changed by so much, in mm.</summary>
    public PlacedShape Shape(IReadOnlyDictionary<string, double>? byMm = null) =>
        ShapePlacer.Place(_job.Shape, _table.At([.. _values.Select((v, k) => v + (byMm?.GetValueOrDefault(_table.Free[k].Name) ?? 0))]));
}
