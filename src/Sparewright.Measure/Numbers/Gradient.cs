namespace Sparewright.Measure.Numbers;

/// <summary>
/// The derivatives of a value by the few unknowns on which it depends: unknown index → derivative, indices ascending.
/// Sparse, because a reading depends on three or four sizes of four hundred.
/// </summary>
public sealed class Gradient
{
    /// <summary>Depends on nothing.</summary>
    public static readonly Gradient None = new([], []);

    private readonly int[] _unknowns;
    private readonly double[] _derivatives;

    private Gradient(int[] unknowns, double[] derivatives) => (_unknowns, _derivatives) = (unknowns, derivatives);

    /// <summary>Indices of the unknowns, ascending.</summary>
    public ReadOnlySpan<int> Unknowns => _unknowns;

    /// <summary>Derivatives, one beside each of <see cref="Unknowns"/>.</summary>
    public ReadOnlySpan<double> Derivatives => _derivatives;

    /// <summary>The derivative of an unknown by itself: one.</summary>
    public static Gradient Of(int unknown) => new([unknown], [1.0]);

    /// <summary>The derivative by one unknown, 0 where it has no influence.</summary>
    public double By(int unknown)
    {
        int at = Array.BinarySearch(_unknowns, unknown);
        return at < 0 ? 0 : _derivatives[at];
    }

    /// <summary>How fast the value changes when the unknowns move along a direction: one part for each unknown.</summary>
    public double Along(ReadOnlySpan<double> direction)
    {
        double change = 0;
        for (int k = 0; k < _unknowns.Length; k++) change += _derivatives[k] * direction[_unknowns[k]];
        return change;
    }

    /// <summary>Without the derivatives that are no larger than this: what rounding left of influences that cancel.</summary>
    public Gradient Above(double least)
    {
        int kept = 0;
        foreach (double derivative in _derivatives)
            if (Math.Abs(derivative) > least) kept++;
        if (kept == _derivatives.Length) return this;
        var unknowns = new int[kept];
        var derivatives = new double[kept];
        for (int k = 0, n = 0; k < _derivatives.Length; k++)
            if (Math.Abs(_derivatives[k]) > least) (unknowns[n], derivatives[n++]) = (_unknowns[k], _derivatives[k]);
        return new Gradient(unknowns, derivatives);
    }

    /// <summary>a·first + b·second, the chain rule of every operation with two arguments.</summary>
    public static Gradient Combine(double a, Gradient first, double b, Gradient second)
    {
        if (second._unknowns.Length == 0) return first.Scaled(a);
        if (first._unknowns.Length == 0) return second.Scaled(b);
        if (first._unknowns.AsSpan().SequenceEqual(second._unknowns))
        {
            var same = new double[first._derivatives.Length];
            for (int k = 0; k < same.Length; k++) same[k] = a * first._derivatives[k] + b * second._derivatives[k];
            return new Gradient(first._unknowns, same);
        }

        var unknowns = new int[first._unknowns.Length + second._unknowns.Length];
        var derivatives = new double[unknowns.Length];
        int i = 0, j = 0, n = 0;
        while (i < first._unknowns.Length || j < second._unknowns.Length)
        {
            int left = i < first._unknowns.Length ? first._unknowns[i] : int.MaxValue;
            int right = j < second._unknowns.Length ? second._unknowns[j] : int.MaxValue;
            unknowns[n] = Math.Min(left, right);
            double sum = 0;
            if (left <= right) sum += a * first._derivatives[i++];
            if (right <= left) sum += b * second._derivatives[j++];
            derivatives[n++] = sum;
        }

        return new Gradient(unknowns[..n], derivatives[..n]);
    }

    /// <summary>a·A, the chain rule of every operation with one argument.</summary>
    public Gradient Scaled(double a)
    {
        if (_unknowns.Length == 0 || a == 1) return this;
        if (a == 0) return None;
        var scaled = new double[_derivatives.Length];
        for (int k = 0; k < scaled.Length; k++) scaled[k] = a * _derivatives[k];
        return new Gradient(_unknowns, scaled);
    }
}
