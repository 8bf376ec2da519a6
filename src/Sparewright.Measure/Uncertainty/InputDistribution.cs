namespace Sparewright.Measure.Uncertainty;

/// <summary>What is known of an input, as a distribution that can be drawn from (JCGM 101:2008, 6.4).</summary>
public abstract record InputDistribution
{
    private InputDistribution() { }

    /// <summary>One random value.</summary>
    public abstract double Draw(Random random);

    /// <summary>Normal with mean and standard deviation (JCGM 101, 6.4.7; drawn by the polar-free form of Box and Muller, C.4).</summary>
    public sealed record Gaussian(double Mean, double StandardDeviation) : InputDistribution
    {
        public override double Draw(Random random) => Mean + StandardDeviation * StandardNormal(random);
    }

    /// <summary>Every value between the limits equally likely (6.4.2).</summary>
    public sealed record Rectangular(double Low, double High) : InputDistribution
    {
        public override double Draw(Random random) => Low + (High - Low) * random.NextDouble();
    }

    /// <summary>The sum of two equal rectangles (6.4.5).</summary>
    public sealed record Triangular(double Low, double High) : InputDistribution
    {
        public override double Draw(Random random) => Low + 0.5 * (High - Low) * (random.NextDouble() + random.NextDouble());
    }

    /// <summary>U-shaped: a quantity that swings between limits (6.4.6).</summary>
    public sealed record Arcsine(double Low, double High) : InputDistribution
    {
        public override double Draw(Random random) => 0.5 * (Low + High) + 0.5 * (High - Low) * Math.Sin(2 * Math.PI * random.NextDouble());
    }

    /// <summary>A rectangle whose limits are themselves only known to ± <paramref name="LimitHalfWidth"/> (6.4.3).</summary>
    public sealed record CurvilinearTrapezoid(double Low, double High, double LimitHalfWidth) : InputDistribution
    {
        public override double Draw(Random random)
        {
            double low = Low - LimitHalfWidth + 2 * LimitHalfWidth * random.NextDouble();
            double high = Low + High - low;
            return low + (high - low) * random.NextDouble();
        }
    }

    /// <summary>Scaled and shifted Student's t: a mean of few repeats, u = s/√n with ν degrees of freedom (6.4.9).</summary>
    public sealed record ScaledT(double Mean, double StandardUncertainty, int DegreesOfFreedom) : InputDistribution
    {
        public override double Draw(Random random)
        {
            double squares = 0;
            for (int i = 0; i < DegreesOfFreedom; i++)
            {
                double z = StandardNormal(random);
                squares += z * z;
            }

            return Mean + StandardUncertainty * StandardNormal(random) / Math.Sqrt(squares / DegreesOfFreedom);
        }
    }

    private static double StandardNormal(Random random) =>
        Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
}
