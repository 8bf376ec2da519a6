using Sparewright.Measure.Numbers;

namespace Sparewright.Part.Sizes;

/// <summary>What is said of a size beside the readings.</summary>
public abstract record Given
{
    /// <summary>Nothing: the readings start it and decide it.</summary>
    public sealed record Nothing : Given;

    /// <summary>A starting value, no evidence.</summary>
    public sealed record About(double Value) : Given;

    /// <summary>Evidence of its own: a value with its standard ± (one standard uncertainty is PlusMinus / 2, a 95 % statement).</summary>
    public sealed record Likely(double Value, double PlusMinus) : Given;

    /// <summary>Binds the size.</summary>
    public sealed record Fixed(double Value) : Given;

    /// <summary>Derived from other sizes.</summary>
    public sealed record EqualTo(SizeExpression Expression) : Given;
}

/// <summary>A named linear size in mm, or an angle in degrees.</summary>
public sealed record Size(string Name, Quantity Quantity, Given Given, Place Place);

/// <summary>
/// The sizes of a job in the order in which they are written. The free ones (neither fixed nor derived) are the unknowns, numbered in that order.
/// </summary>
public sealed class SizeTable
{
    private readonly Size[] _evaluationOrder;

    /// <param name="sizes">All sizes; the reader has made sure that names are unique and that derived ones do not run in a circle.</param>
    public SizeTable(IReadOnlyList<Size> sizes)
    {
        All = sizes;
        Free = [.. sizes.Where(s => s.Given is not (Given.Fixed or Given.EqualTo))];
        _evaluationOrder = [.. InOrderOfNeed(sizes)];
    }

    public IReadOnlyList<Size> All { get; }

    /// <summary>The unknowns; the index here is the unknown's number in every <see cref="Gradient"/>.</summary>
    public IReadOnlyList<Size> Free { get; }

    /// <summary>Every size at given values of the free ones, with derivatives by them.</summary>
    /// <param name="free">One value (mm or degrees) for each of <see cref="Free"/>.</param>
    public IReadOnlyDictionary<string, Dual> At(ReadOnlySpan<double> free)
    {
        var values = new Dictionary<string, Dual>(All.Count, StringComparer.Ordinal);
        for (int k = 0; k < Free.Count; k++) values[Free[k].Name] = Dual.Unknown(k, free[k]);
        foreach (Size size in _evaluationOrder)
        {
            if (size.Given is Given.Fixed f) values[size.Name] = f.Value;
            else if (size.Given is Given.EqualTo e) values[size.Name] = e.Expression.At(values);
        }

        return values;
    }

    private static List<Size> InOrderOfNeed(IReadOnlyList<Size> sizes)
    {
        var byName = sizes.ToDictionary(s => s.Name, StringComparer.Ordinal);
        var done = new HashSet<string>(StringComparer.Ordinal);
        var order = new List<Size>(sizes.Count);
        void Visit(Size size)
        {
            if (!done.Add(size.Name)) return;
            if (size.Given is Given.EqualTo e)
                foreach (string name in e.Expression.Names()) Visit(byName[name]);
            order.Add(size);
        }

        foreach (Size size in sizes) Visit(size);
        return order;
    }
}
