using CsCheck;
using Sparewright.Measure.Numbers;
using Sparewright.Reconcile.Adjust;
using Xunit;

namespace Sparewright.Reconcile.Tests.Adjust;

/// <summary>A random linear problem: each row a few whole coefficients, an observed value, a standard uncertainty.</summary>
internal sealed record LinearNet(int Unknowns, IReadOnlyList<LinearNet.Row> Rows)
{
    internal sealed record Row(IReadOnlyList<(int Unknown, double Coefficient)> Terms, double Observed, double Sigma);

    /// <summary>Up to 7 unknowns, up to 14 rows; often short of rank.</summary>
    public static readonly Gen<LinearNet> Any =
        from unknowns in Gen.Int[1, 7]
        from rows in RowOf(unknowns).Array[1, 14]
        select new LinearNet(unknowns, rows);

    /// <summary>Each unknown is observed by itself as well, so that all are decided.</summary>
    public static readonly Gen<LinearNet> Decided =
        from net in Any
        from direct in Gen.Double[-50, 50].Array[net.Unknowns]
        select net with { Rows = [.. net.Rows, .. direct.Select((value, i) => new Row([(i, 1)], value, 0.3))] };

    private static Gen<Row> RowOf(int unknowns) =>
        from terms in Gen.Select(Gen.Int[0, unknowns - 1], Gen.Int[-2, 2].Where(c => c != 0), (u, c) => (u, (double)c)).Array[1, 3]
        from observed in Gen.Double[-50, 50]
        from sigma in Gen.Double[0.01, 1]
        select new Row([.. terms.DistinctBy(t => t.u)], observed, sigma);

    public AdjustmentProblem Problem => new(
        [.. Enumerable.Range(0, Unknowns).Select(i => new Unknown($"x{i}", 1))],
        [.. Rows.Select((row, i) => new Observation($"r{i}", row.Observed, row.Sigma, ComputedBy(row)))]);

    public static Computed ComputedBy(Row row) => x =>
    {
        Dual sum = 0;
        foreach (var (unknown, coefficient) in row.Terms) sum += coefficient * x[unknown];
        return sum;
    };

    public static AdjustmentResult Solve(AdjustmentProblem problem)
    {
        if (!Adjustment.TrySolve(problem, out var result, out var failure)) throw new InvalidOperationException(failure.ToString());
        return result;
    }

    public static void AssertClose(double expected, double actual, double relative = 1e-8)
    {
        if (double.IsInfinity(expected) && expected.Equals(actual)) return;
        Assert.Equal(expected, actual, relative * (1 + Math.Abs(expected)));
    }
}
