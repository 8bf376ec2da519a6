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

/// <summary>What a designer may have meant by a size.</summary>
public abstract record Meant
{
    /// <summary>A value, mm or degrees.</summary>
    public sealed record Value(double MmOrDegrees) : Meant;

    /// <summary>The same as another size, or as what follows from others.</summary>
    /// <param name="Size">Its name, or an expression of sizes as the job writes it.</param>
    public sealed record SameAs(string Size) : Meant;
}

/// <summary>A named linear size in mm, or an angle in degrees.</summary>
/// <param name="Given">What holds beside the readings; a nominal that was accepted binds.</param>
public sealed record Size(string Name, Quantity Quantity, Given Given, Place Place)
{
    /// <summary>The nominal that was accepted, by which the size is bound; null where none was.</summary>
    public Meant? Nominal { get; init; }

    /// <summary>What held if no nominal had been accepted.</summary>
    public Given Otherwise { get; init; } = Given;

    /// <summary>What was looked at and is not what was meant.</summary>
    public IReadOnlyList<Meant> NotMeant { get; init; } = [];
}

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

    /// <summary>The same with the accepted nominal of one size taken back.</summary>
    public SizeTable Reopened(string size) => new([.. All.Select(s => s.Name == size ? s with { Given = s.Otherwise, Nominal = null } : s)]);

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

    /// <summary>The sizes of a circle of derivations, in order, or null where there is none. Every name in them must be known.</summary>
    internal static IReadOnlyList<Size>? FirstCircle(IReadOnlyList<Size> sizes)
    {
        Walk(sizes, [], out var circle);
        return circle;
    }

    private static List<Size> InOrderOfNeed(IReadOnlyList<Size> sizes)
    {
        var order = new List<Size>(sizes.Count);
        Walk(sizes, order, out _);
        return order;
    }

    /// <summary>Depth first, each size after what it needs; without recursion, because a chain of derivations may be as long as the file.</summary>
    private static void Walk(IReadOnlyList<Size> sizes, List<Size> order, out IReadOnlyList<Size>? circle)
    {
        circle = null;
        var byName = sizes.ToDictionary(s => s.Name, StringComparer.Ordinal);
        var begun = new HashSet<string>(StringComparer.Ordinal);
        var done = new HashSet<string>(StringComparer.Ordinal);
        var path = new Stack<(Size Size, IEnumerator<string> Needs)>();
        foreach (Size start in sizes)
        {
            if (begun.Add(start.Name)) path.Push((start, Needs(start)));
            while (path.TryPeek(out var here))
            {
                if (!here.Needs.MoveNext())
                {
                    path.Pop();
                    done.Add(here.Size.Name);
                    order.Add(here.Size);
                }
                else if (begun.Add(here.Needs.Current))
                {
                    Size next = byName[here.Needs.Current];
                    path.Push((next, Needs(next)));
                }
                else if (!done.Contains(here.Needs.Current))
                {
                    circle ??= [.. path.Select(p => p.Size).TakeWhile(s => s.Name != here.Needs.Current).Append(byName[here.Needs.Current]).Reverse()];
                }
            }
        }
    }

    private static IEnumerator<string> Needs(Size size) => (size.Given is Given.EqualTo e ? e.Expression.Names() : []).GetEnumerator();
}
