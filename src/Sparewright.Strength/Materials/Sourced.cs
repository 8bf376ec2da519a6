namespace Sparewright.Strength.Materials;

/// <summary>How a value came here.</summary>
public enum Status { Read, Memory, Assumed, Measured }

/// <summary>A value with where it comes from.</summary>
/// <param name="Spread">One standard deviation as a share of the value; 0 where none is known: of strengths and densities it is.</param>
public sealed record Sourced(double Value, double Spread, Status Status, string Source)
{
    /// <summary>Another value that follows from this one by a rule. A rule of thumb makes a measured value an assumed one, but not its spread smaller.</summary>
    internal Sourced Times(Sourced rule) => new(Value * rule.Value, Spread, rule.Status, $"{rule.Source}; from {Source}");
}
