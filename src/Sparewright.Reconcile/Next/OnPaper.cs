using Sparewright.Reconcile.Readings;

namespace Sparewright.Reconcile.Next;

/// <summary>A reading taken or to be taken: how it depends on the sizes and the shared errors behind them, over its own standard uncertainty.</summary>
/// <param name="possible">Readings that are it, where it is still to be taken: taken again, it is the next of them.</param>
/// <param name="ownMm">That uncertainty.</param>
/// <param name="placeMm">How much of it is the same each time the same thing is read.</param>
/// <param name="wholeMm">The whole standard uncertainty, with what it shares with readings of other things.</param>
/// <param name="first">The first reading of the same thing; none where this is that.</param>
internal sealed class Line(string name, IReadOnlyList<PossibleReading> possible, int[] unknowns, double[] slopes, double ownMm, double placeMm, double wholeMm, Line? first = null)
{
    private readonly List<Line> _again = [];

    public string Name => name;

    public PossibleReading? Possible => possible is [var one, ..] ? one : null;

    public int[] Unknowns => unknowns;

    public double[] Slopes => slopes;

    public Line First => first ?? this;

    /// <summary>Its whole variance over its own.</summary>
    public double Whole => wholeMm * wholeMm / (ownMm * ownMm);

    /// <summary>What another reading of the same thing says of it, as <see cref="Adjust.AdjustedObservation.Check"/>: the two differ by what is not of the place.</summary>
    public double CheckByTheSame => first?.CheckByTheSame ?? Math.Min(1, wholeMm * wholeMm / (2 * (ownMm * ownMm - placeMm * placeMm)));

    /// <summary>The same thing read once more after so many times, by what that tells beside them (<see cref="ReadingError.Beyond"/>).</summary>
    public Line After(int times)
    {
        double place = placeMm * placeMm, each = ownMm * ownMm - place;
        for (int k = _again.Count + 1; k <= times; k++)
        {
            double own = ReadingError.Beyond(place, each / k, each);
            IReadOnlyList<PossibleReading> next = [.. possible.Skip(k % Math.Max(1, possible.Count)), .. possible.Take(k % Math.Max(1, possible.Count))];
            _again.Add(new(next is [var one, ..] ? one.Text : name, next, unknowns, [.. slopes.Select(s => s * ownMm / own)], own, placeMm, Math.Sqrt(wholeMm * wholeMm - ownMm * ownMm + own * own), this));
        }

        return times == 0 ? this : _again[times - 1];
    }
}

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

    /// <summary>Takes a reading; one of the same thing as some taken before tells only what it tells beside them.</summary>
    public void Take(Line line)
    {
        line = Next(line);
        Update(line, -1 / (1 + Product(line, line)));
        _taken.Add(line);
    }

    private Line Next(Line line) => line.First.After(TimesTaken(line));

    private int TimesTaken(Line line) => _taken.Count(t => t.First == line.First);

    /// <summary>The same without a reading that was taken; of several of the same thing, without one of them.</summary>
    public OnPaper Without(Line line)
    {
        line = _taken.FindLast(t => t.First == line.First)!;
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
    public double Spread(Line line)
    {
        Line next = Next(line);
        return Product(next, next, sizes);
    }

    /// <summary>The whole variance of a reading over what it would have of its own, if it were taken now.</summary>
    public double Whole(Line line) => Next(line).Whole;

    /// <summary>What the others say of one that was taken, as <see cref="Adjust.AdjustedObservation.Check"/> (its own say is in the covariance).</summary>
    public double Check(Line taken)
    {
        double byOthers = (1 - Product(taken, taken)) * taken.Whole;
        return TimesTaken(taken) > 1 ? Math.Max(taken.CheckByTheSame, byOthers) : byOthers;
    }

    /// <summary>By how much a candidate would raise that.</summary>
    public double Shared(Line taken, Line candidate)
    {
        if (candidate.First == taken.First) return Math.Max(0, taken.CheckByTheSame - Check(taken));
        candidate = Next(candidate);
        double shared = Product(taken, candidate);
        return shared * shared / (1 + Product(candidate, candidate)) * taken.Whole;
    }

    /// <summary>By how much a candidate would narrow the sizes: the sum of the logarithms of the ratios of their standard uncertainties.</summary>
    public double Narrowing(Line candidate)
    {
        candidate = Next(candidate);
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
