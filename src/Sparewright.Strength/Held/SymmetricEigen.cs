namespace Sparewright.Strength.Held;

/// <summary>Eigenvalues and eigenvectors of a small symmetric matrix by Jacobi's rotations (Golub and Van Loan, Matrix Computations, 8.5, from memory).</summary>
internal static class SymmetricEigen
{
    public static (double[] Values, double[][] Vectors) Of(double[,] matrix)
    {
        int n = matrix.GetLength(0);
        var a = (double[,])matrix.Clone();
        var v = new double[n][];
        for (int m = 0; m < n; m++)
        {
            v[m] = new double[n];
            v[m][m] = 1;
        }

        for (int sweep = 0; sweep < 60; sweep++)
        {
            double off = 0, all = 0;
            for (int p = 0; p < n; p++)
                for (int q = 0; q < n; q++)
                {
                    all += a[p, q] * a[p, q];
                    if (p != q) off += a[p, q] * a[p, q];
                }

            if (off <= 1e-30 * all) break;
            for (int p = 0; p < n; p++)
                for (int q = p + 1; q < n; q++)
                {
                    if (a[p, q] == 0) continue;
                    double theta = (a[q, q] - a[p, p]) / (2 * a[p, q]);
                    double t = Math.Sign(theta) is 0 ? 1 : Math.Sign(theta) / (Math.Abs(theta) + Math.Sqrt(theta * theta + 1));
                    double c = 1 / Math.Sqrt(t * t + 1), s = t * c;
                    for (int m = 0; m < n; m++) (a[m, p], a[m, q]) = (c * a[m, p] - s * a[m, q], s * a[m, p] + c * a[m, q]);
                    for (int m = 0; m < n; m++)
                    {
                        (a[p, m], a[q, m]) = (c * a[p, m] - s * a[q, m], s * a[p, m] + c * a[q, m]);
                        (v[p][m], v[q][m]) = (c * v[p][m] - s * v[q][m], s * v[p][m] + c * v[q][m]);
                    }
                }
        }

        return ([.. Enumerable.Range(0, n).Select(m => a[m, m])], v);
    }
}
