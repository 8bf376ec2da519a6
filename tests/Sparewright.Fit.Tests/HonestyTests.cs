using Sparewright.Fit.Capability;
using Sparewright.Fit.Drawn;
using Sparewright.Fit.Odds;
using Sparewright.Measure.Uncertainty;
using Xunit;

namespace Sparewright.Fit;

/// <summary>Whether what is stated comes true, over many hidden printers.</summary>
public sealed class HonestyTests
{
    private sealed class HiddenPrinter(Random random)
    {
        private readonly Dictionary<SurfaceKind, double> _today = [];

        /// <summary>By how much its lines are too wide, and today's besides: of all walls alike.</summary>
        private readonly double _line = Z(random);

        private double _todaysLine = Z(random);

        private readonly Dictionary<SurfaceKind, (double Bias, double OfLine, double Share, double Small, double Spread, double DayShare)> _kinds = KindPrior.Assumed(ProcessKind.Mex).ToDictionary(p => p.Key, p =>
        {
            KindPrior k = p.Value;
            double chi = Enumerable.Range(0, (int)k.SpreadDegrees).Sum(_ => Math.Pow(Z(random), 2));
            return (k.BiasMm + k.BiasUncertaintyMm * Math.Sqrt(1 - k.WallShare) * Z(random), k.Kind.WallSense() * Math.Sqrt(k.WallShare) * k.BiasUncertaintyMm, k.Proportional + k.ProportionalUncertainty * Z(random), k.SmallHoleMm2 + k.SmallHoleUncertaintyMm2 * Z(random),
                k.SpreadMm * Math.Sqrt(k.SpreadDegrees / chi), k.DayShare);
        });

        public double Print(SurfaceKind kind, double drawnMm)
        {
            var (bias, ofLine, share, small, spread, day) = _kinds[kind];
            if (!_today.TryGetValue(kind, out double today)) _today[kind] = today = kind.WallSense() == 0 ? Z(random) : kind.WallSense() * _todaysLine;
            return drawnMm + bias + ofLine * _line + share * drawnMm + small / drawnMm + spread * (Math.Sqrt(day) * today + Math.Sqrt(1 - day) * Z(random));
        }

        /// <summary>What is printed from here on is another print.</summary>
        public void NextPrint()
        {
            _today.Clear();
            _todaysLine = Z(random);
        }

        public static double Z(Random random) => Normal.Quantile(random.NextDouble());
    }

    /// <summary>
    /// A bore and a peg for counterparts of which one is read badly. With a coupon of four holes and four pegs, measured by a caliper that may be off, or without any: of all jobs the share that fits must be
    /// the mean of the odds that were stated, and of those with high odds more must fit than of those with low ones.
    /// </summary>
    [Theory]
    [InlineData(false, 600)]
    [InlineData(true, 600)]
    public void Stated_odds_come_true(bool coupon, int jobs)
    {
        var random = new Random(coupon ? 21 : 20);
        double Z() => HiddenPrinter.Z(random);
        List<(double Stated, bool Fits)> all = [];
        for (int job = 0; job < jobs; job++)
        {
            var printer = new HiddenPrinter(random);
            ProcessCapability process = Cases.Assumed;
            if (coupon)
            {
                double shift = 0.015 * Z();
                process = process.With([.. from kind in (SurfaceKind[])[SurfaceKind.HoleUpright, SurfaceKind.Outside] from d in (double[])[4, 8, 10, 15]
                    select new MeasuredTrial(kind, d, Cases.Day, printer.Print(kind, d) + shift + 0.01 * Z(), 0.01) { Instrument = "caliper", InstrumentShiftMm = 0.015 }]);
            }

            printer.NextPrint();
            double u = job % 2 == 0 ? 0.01 : 0.08, rod = 9 + u * Z(), socket = 15 + 0.02 * Z();
            FitCase fit = new(process, Cases.Nothing,
            [
                Cases.Rod(9.2, 9, u, 0.1, 0.5),
                new OneClearance("peg", new LengthSum(0, [new(SurfaceKind.Outside, 14.8, -1, new Dictionary<string, double> { ["peg_d"] = 1 })], [new("socket", new(15, 0.02), 1)], []), new(0.0, 0.4, "test")),
            ]);
            DrawnSizes drawn = DrawnSizes.Best(fit);
            double bore = drawn.Case.Conditions[0].Lengths[0].Printed[0].DrawnMm, peg = drawn.Case.Conditions[1].Lengths[0].Printed[0].DrawnMm;
            double inBore = printer.Print(SurfaceKind.HoleUpright, bore) - rod, inSocket = socket - printer.Print(SurfaceKind.Outside, peg);
            all.Add((drawn.Odds.AllTogether.Value, inBore is >= 0.1 and <= 0.5 && inSocket is >= 0 and <= 0.4));
        }

        double stated = all.Average(a => a.Stated), fits = all.Average(a => a.Fits ? 1.0 : 0.0);
        // Three standard deviations of counting.
        Assert.Equal(stated, fits, 3 * Math.Sqrt(stated * (1 - stated) / jobs));
        var high = all.Where(a => a.Stated > stated).ToArray();
        var low = all.Where(a => a.Stated <= stated).ToArray();
        Assert.True(high.Average(a => a.Fits ? 1.0 : 0.0) > low.Average(a => a.Fits ? 1.0 : 0.0));
    }

    /// <summary>What a coupon is said to bring, beside the odds after coupons of many hidden printers.</summary>
    [Fact]
    public void What_a_coupon_promises_comes_true()
    {
        FitCase fit = DrawnSizes.Best(new(Cases.Assumed, Cases.Nothing,
            [Cases.Rod(9.2, 9, 0.01, 0.1, 0.5), new OneClearance("pin", LengthSum.Around(Cases.Hole(5.4, "pin_d", SurfaceKind.HoleLying), "pin", new(5, 0.01)), new(0.1, 0.5, "test"))])).Case;
        Cure coupon = Cases.Cures(fit, 0.99).Single(c => c.Kind == CureKind.Coupon);
        var random = new Random(9);
        const int printers = 200;
        double sum = 0;
        for (int i = 0; i < printers; i++)
        {
            var printer = new HiddenPrinter(random);
            MeasuredTrial Trial(SurfaceKind kind, double drawn) => new(kind, drawn, Cases.Day, printer.Print(kind, drawn) + Cures.ReadingUncertaintyMm * HiddenPrinter.Z(random), Cures.ReadingUncertaintyMm);
            FitCase after = fit with { Process = fit.Process.With([.. from p in fit.Conditions.Select(c => c.Lengths[0].Printed[0]) from _ in Enumerable.Range(0, Cures.FeaturesOfATrial) select Trial(p.Kind, p.DrawnMm)]) };
            sum += DrawnSizes.Best(after).Odds.AllTogether.Value;
        }

        Assert.Equal(sum / printers, coupon.OddsAfter, 0.03);
    }

    /// <summary>Groups of sizes are chosen apart from one another; nowhere near do all together fit noticeably better.</summary>
    [Fact]
    public void Nothing_is_lost_by_choosing_groups_of_sizes_apart()
    {
        DrawnSizes best = DrawnSizes.Best(Cases.Ten());
        var random = new Random(2);
        for (int i = 0; i < 60; i++)
        {
            var moved = best.Case.Changeable.ToDictionary(s => s, _ => 0.03 * HiddenPrinter.Z(random));
            double odds = FitOdds.Of(best.Case.Changed(moved)).AllTogether.Value;
            Assert.True(odds < best.Odds.AllTogether.Value + 2 * FitOdds.EnoughError, $"{odds} beside {best.Odds.AllTogether.Value}");
        }

        foreach (string size in best.Case.Changeable)
            foreach (double by in (double[])[-0.03, -0.015, 0.015, 0.03])
            {
                double odds = FitOdds.Of(best.Case.Changed(new Dictionary<string, double> { [size] = by })).AllTogether.Value;
                Assert.True(odds < best.Odds.AllTogether.Value + 2 * FitOdds.EnoughError, $"{size} {by}: {odds} beside {best.Odds.AllTogether.Value}");
            }
    }
}
