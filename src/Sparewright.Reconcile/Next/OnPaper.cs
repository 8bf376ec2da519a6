using Sparewright.Reconcile.Readings;

namespace Sparewright.Reconcile.Next;

/// <summary>A reading taken or to be taken: how it depends on the sizes and the shared errors behind them, over its own standard uncertainty.</summary>
/// <param name="Whole">Its whole variance over its own.</param>
internal sealed record Line(string Name, PossibleReading? Possible, int[] Unknowns, double[] Slopes, double Whole);

/// <summary>
/// What would be known after some readings, none of which need be taken: the covariance of the sizes and the shared errors, which a reading a turns from C into C − Ca(Ca)ᵀ/(1 + aᵀCa), and which C + Ca(Ca)ᵀ/(1 − aᵀCa)
/// turns back (the rank-one update of least squares).
/// </summary>
/// <param name="sizes">So many of the unknowns are sizes, the first ones.</param>
/// <param name="covariance">Before any reading.</param>
internal sealed class OnPaper(int sizes, double[,] covariance)
{
    private readonly List<Line> _taken = [];

    public IReadOnlyList<Line> Taken => _taken;

    /// <summary>Of a size.</summary>
    public double Variance(int size) => covariance[size, size];

    public void Take(Line line)
    {
        Update(line, -1 / (1 + Product(line, line)));
        _taken.Add(line);
    }

    /// <summary>The same without a reading that was taken.</summary>
    public OnPaper Without(Line line)
    {
        var rest = new OnPaper(sizes, (double[,])covariance.Clone());
        rest._taken.AddRange(_taken);
        rest._taken.Remove(line);
        rest.Update(line, 1 / Math.Max(1e-12, 1 - Product(line, line)));
        return rest;
    }

    /// <summary>The same with one more.</summary>
    public OnPaper With(Line line)
    {
        var more = new OnPaper(sizes, (double[,])covariance.Clone());
        more._taken.AddRange(_taken);
        more.Take(line);
        return more;
    }

    /// <summary>Variance of what a reading would show by the sizes alone, in its own.</summary>
    public double Spread(Line line) => Product(line, line, sizes);

    /// <summary>What the others say of one that was taken, as <see cref="Adjust.AdjustedObservation.Check"/> (its own say is in the covariance).</summary>
    public double Check(Line taken) => (1 - Product(taken, taken)) * taken.Whole;

    /// <summary>By how much a candidate would raise that.</summary>
    public double Shared(Line taken, Line candidate)
    {
        double shared = Product(taken, candidate);
        return shared * shared / (1 + Product(candidate, candidate)) * taken.Whole;
    }

    /// <summary>By how much a candidate would narrow the sizes: the sum of the logarithms of the ratios of their standard uncertainties.</summary>
    public double Narrowing(Line candidate)
    {
        // One logarithm of the product: this is asked of every candidate for every place of a plan.
        double variance = 1 + Product(candidate, candidate), sum = 0, left = 1;
        for (int k = 0; k < sizes; k++)
        {
            if (covariance[k, k] <= 0) continue;
            double move = Move(candidate, k);
            left *= Math.Max(1e-12, 1 - move * move / (variance * covariance[k, k]));
            if (left > 1e-200) continue;
            sum -= 0.5 * Math.Log(left);
            left = 1;
        }

        return sum - 0.5 * Math.Log(left);
    }

    private double Product(Line a, Line b, int unknowns = int.MaxValue)
    {
        double sum = 0;
        for (int i = 0; i < a.Unknowns.Length; i++)
            for (int j = 0; j < b.Unknowns.Length; j++)
                if (a.Unknowns[i] < unknowns && b.Unknowns[j] < unknowns) sum += a.Slopes[i] * b.Slopes[j] * covariance[a.Unknowns[i], b.Unknowns[j]];
        return sum;
    }

    /// <summary>One entry of C·a.</summary>
    private double Move(Line line, int unknown)
    {
        double move = 0;
        for (int i = 0; i < line.Unknowns.Length; i++) move += covariance[unknown, line.Unknowns[i]] * line.Slopes[i];
        return move;
    }

    private void Update(Line line, double factor)
    {
        int n = covariance.GetLength(0);
        var moves = new double[n];
        for (int k = 0; k < n; k++) moves[k] = Move(line, k);
        for (int a = 0; a < n; a++)
            for (int b = 0; b < n; b++) covariance[a, b] += factor * moves[a] * moves[b];
    }
}
