namespace Sparewright.Strength.Formulas;

/// <summary>A formula's answer beside the solver's, each with its ± as a share of it.</summary>
/// <param name="Name">Which formula, and where.</param>
/// <param name="Unit">MPa or mm.</param>
public sealed record SecondOpinion(string Name, string Unit, double Formula, double FormulaPlusMinus, double Solver, double SolverPlusMinus)
{
    /// <summary>How far they lie apart, as a share of the formula's.</summary>
    public double Difference => Formula == Solver ? 0 : (Solver - Formula) / Math.Abs(Formula);

    /// <summary>Whether they lie further apart than both ± explain: then one of them describes another part.</summary>
    public bool Disagrees
    {
        get
        {
            double of = Math.Abs(Formula) * FormulaPlusMinus, with = Math.Abs(Solver) * SolverPlusMinus;
            return Math.Abs(Solver - Formula) > Math.Sqrt(of * of + with * with);
        }
    }
}
