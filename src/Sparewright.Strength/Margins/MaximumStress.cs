namespace Sparewright.Strength.Margins;

/// <summary>In which way it would go.</summary>
public enum FailureMode
{
    TornInLayer,
    CrushedInLayer,
    ShearedInLayer,
    LayersPulledApart,
    LayersSheared,
    LayersCrushed,

    /// <summary>A material without layers.</summary>
    Yields,
}

/// <summary>How many times the stress could grow until it goes, and how it would go. Infinite where nothing acts.</summary>
public readonly record struct Reserve(double Factor, FailureMode Mode)
{
    internal static Reserve Lesser(Reserve a, Reserve b) => b.Factor < a.Factor ? b : a;
}

/// <summary>
/// The criterion of greatest stress: every stress against the strength in its direction, so that the answer names how the part would go. Which way the axes lie in the layer does not matter.
/// </summary>
public static class MaximumStress
{
    /// <summary>The reserve of a state of stress, layers split by pull and shear together: √((⟨σ_zz⟩/Z_t)² + (τ_z/S_z)²) ≤ 1.</summary>
    public static Reserve Of(Stress stress, LayeredStrength strength)
    {
        double half = (stress.XX - stress.YY) / 2, middle = (stress.XX + stress.YY) / 2, radius = Math.Sqrt(half * half + stress.XY * stress.XY);
        Reserve principal = ByAxes(stress with { XX = middle + radius, YY = middle - radius, XY = 0 }, strength);
        // Shear counts on the plane that is neither pulled nor pressed, if there is one: then a plain pull or press is not judged as shear.
        double determinant = middle * middle - radius * radius;
        Reserve shear = determinant < 0 ? ByAxes(stress with { XX = 0, YY = 2 * middle, XY = Math.Sqrt(-determinant) }, strength) : principal;
        return Reserve.Lesser(Reserve.Lesser(principal, shear), Layers(stress, strength));
    }

    /// <summary>The reserve along these very axes, each stress by itself.</summary>
    public static Reserve ByAxes(Stress stress, LayeredStrength strength)
    {
        Reserve least = InLayer(stress.XX);
        least = Reserve.Lesser(least, InLayer(stress.YY));
        least = Reserve.Lesser(least, new(strength.ShearInLayer / Math.Abs(stress.XY), FailureMode.ShearedInLayer));
        least = Reserve.Lesser(least, new(stress.ZZ > 0 ? strength.TensionAcross / stress.ZZ : double.PositiveInfinity, FailureMode.LayersPulledApart));
        least = Reserve.Lesser(least, new(stress.ZZ < 0 ? strength.CompressionAcross / -stress.ZZ : double.PositiveInfinity, FailureMode.LayersCrushed));
        return Reserve.Lesser(least, new(strength.ShearAcross / stress.LayerShear, FailureMode.LayersSheared));

        Reserve InLayer(double along) => along >= 0
            ? new(strength.TensionInLayer / along, FailureMode.TornInLayer)
            : new(strength.CompressionInLayer / -along, FailureMode.CrushedInLayer);
    }

    /// <summary>The reserve of the bond between the layers alone, pulled and sheared at once.</summary>
    public static Reserve Layers(Stress stress, LayeredStrength strength)
    {
        double pull = stress.LayerPull / strength.TensionAcross, shear = stress.LayerShear / strength.ShearAcross;
        return new(1 / Math.Sqrt(pull * pull + shear * shear), pull >= shear ? FailureMode.LayersPulledApart : FailureMode.LayersSheared);
    }

    /// <summary>The reserve of a material that is alike in all directions, such as a moulded original: von Mises, and the greatest tension, since old plastics tear.</summary>
    public static Reserve OfMoulded(Stress stress, double strengthMPa)
    {
        double first = stress.Principal.First;
        return new(strengthMPa / Math.Max(stress.VonMises, first), first >= stress.VonMises ? FailureMode.TornInLayer : FailureMode.Yields);
    }
}
