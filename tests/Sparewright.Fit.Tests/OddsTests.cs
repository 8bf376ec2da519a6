using CsCheck;
using Sparewright.Fit.Capability;
using Sparewright.Fit.Odds;
using Sparewright.Measure.Uncertainty;
using Xunit;

namespace Sparewright.Fit;

public sealed class OddsTests
{
    /// <summary>By plain drawing, from the same description but nothing else of the machinery.</summary>
    private static double Drawn(ProcessCapability process, int n, Func<Func<double>, Func<SurfaceKind, double, double>, bool> fits)
    {
        var random = new Random(11);
        int good = 0;
        double Z() => Normal.Quantile(random.NextDouble());
        for (int i = 0; i < n; i++)
        {
            // What all walls have in common: the printer's width of lines, and the day's.
            double line = Z(), today = Z();
            Dictionary<SurfaceKind, (double A, double B, double C, double Spread, double Day)> printer = [];
            double Printed(SurfaceKind kind, double drawn)
            {
                if (!printer.TryGetValue(kind, out var p))
                {
                    KindPrior prior = process[kind].Prior;
                    double chi = Enumerable.Range(0, (int)prior.SpreadDegrees).Sum(_ => { double z = Z(); return z * z; });
                    printer[kind] = p = (prior.BiasMm + prior.BiasUncertaintyMm * (kind.WallSense() * Math.Sqrt(prior.WallShare) * line + Math.Sqrt(1 - prior.WallShare) * Z()), prior.Proportional + prior.ProportionalUncertainty * Z(),
                        prior.SmallHoleMm2 + prior.SmallHoleUncertaintyMm2 * Z(), prior.SpreadMm * Math.Sqrt(prior.SpreadDegrees / chi), kind.WallSense() == 0 ? Z() : kind.WallSense() * today);
                }

                double share = process[kind].Prior.DayShare;
                return drawn + p.A + p.B * drawn + p.C / drawn + p.Spread * (Math.Sqrt(share) * p.Day + Math.Sqrt(1 - share) * Z());
            }

            if (fits(Z, Printed)) good++;
        }

        return (double)good / n;
    }

    [Fact]
    public void Odds_of_an_unmeasured_printer_are_what_drawing_shows()
    {
        FitCase fit = new(Cases.Assumed, Cases.Nothing, [Cases.Rod(12.5, 11.95, 0.03), Cases.Rod(8.45, 8, 0.02, name: "pin", size: "pin_d"), Cases.TwoScrews(34.05, 4.7, 34, 0.05, 4.1)]);
        FitOdds odds = FitOdds.Of(fit);
        bool Rod(Func<double> z, Func<SurfaceKind, double, double> p, double bore, double rod, double u)
        {
            double clearance = p(SurfaceKind.HoleUpright, bore) - rod - u * z();
            return clearance is >= 0.1 and <= 0.4;
        }

        bool Screws(Func<double> z, Func<SurfaceKind, double, double> p)
        {
            double screw = 4.1 + 0.02 * z(), off = p(SurfaceKind.CentreDistance, 34.05) - 34 - 0.05 * z();
            double a = 0.5 * (p(SurfaceKind.HoleUpright, 4.7) - screw), b = 0.5 * (p(SurfaceKind.HoleUpright, 4.7) - screw);
            return a >= 0 && b >= 0 && Math.Abs(off) <= a + b;
        }

        Assert.Equal(Drawn(Cases.Assumed, 400_000, (z, p) => Rod(z, p, 12.5, 11.95, 0.03)), odds.Each[0].Odds.Value, 0.003);
        Assert.Equal(Drawn(Cases.Assumed, 400_000, Screws), odds.Each[2].Odds.Value, 0.003 + odds.Each[2].Odds.Error95);
        Assert.Equal(Drawn(Cases.Assumed, 400_000, (z, p) => Rod(z, p, 12.5, 11.95, 0.03) & Rod(z, p, 8.45, 8, 0.02) & Screws(z, p)), odds.AllTogether.Value, 0.003 + odds.AllTogether.Error95);
        Assert.InRange(odds.AllTogether.Error95, 1e-9, FitOdds.EnoughError);
        // They share the printer's doubts: together they are likelier than if each had a printer of its own.
        Assert.True(odds.AllTogether.Value > odds.Each.Aggregate(1.0, (all, e) => all * e.Odds.Value));
    }

    [Fact]
    public void Closed_form_and_lattice_rule_agree() =>
        Gen.Select(Gen.Double[8, 9], Gen.Double[0.01, 0.1], Gen.Double[-0.1, 0.2], Gen.Double[0.3, 0.6]).Sample((bore, u, low, high) =>
        {
            FitCase fit = new(Cases.Assumed, Cases.Nothing, [Cases.Rod(bore, 8, u, low, high)]);
            // A second condition that always holds sends the first through the lattice rule.
            FitCase two = fit with { Conditions = [.. fit.Conditions, Cases.Rod(20, 10, 0.01, -5, 25, "certain", "other_d")] };
            Estimate closed = FitOdds.Of(fit).AllTogether, drawn = FitOdds.Of(two).AllTogether;
            Assert.Equal(0, closed.Error95);
            Assert.Equal(closed.Value, drawn.Value, 2 * FitOdds.EnoughError);
        }, iter: 30);

    /// <summary>P(|d| ≤ r) with d and r normal: of two events that exclude each other where r is surely positive.</summary>
    [Fact]
    public void Two_screws_in_closed_form()
    {
        ProcessCapability sure = Cases.Sure(0.05, k => k == SurfaceKind.HoleUpright ? -0.2 : 0);
        FitCase fit = new(sure, Cases.Nothing, [Cases.TwoScrews(34.1, 4.7, 34, 0.1, 4.1)]);
        // Rooms: two of half (4.5 − 4.1), each with half the spread, and the screw's half in common.
        var needed = new NormalLength(0.1, Math.Sqrt(0.05 * 0.05 + 0.1 * 0.1));
        var room = new NormalLength(0.4, Math.Sqrt(2 * 0.25 * 0.05 * 0.05 + 0.02 * 0.02));
        double s = Math.Sqrt(needed.VarianceMm2 + room.VarianceMm2);
        double closed = 1 - Normal.UpperTail((room.MeanMm - needed.MeanMm) / s) - Normal.UpperTail((room.MeanMm + needed.MeanMm) / s);
        Estimate odds = FitOdds.Of(fit).Each[0].Odds;
        Assert.Equal(closed, odds.Value, 1e-3);
        Assert.InRange(odds.Error95, 0, FitOdds.EnoughError);
    }

    /// <summary>Places off by x and y alike normal: the distance is Rayleigh's, P(R ≤ r) = 1 − exp(−r²/2s²).</summary>
    [Fact]
    public void A_rod_through_two_bores_in_closed_form()
    {
        ProcessCapability sure = Cases.Sure(0.06, _ => 0);
        LengthSum Off() => new(0, [new(SurfaceKind.CentreDistance, 0, 1)], [], []);
        LengthSum Room() => new(0.05, [], [], []);
        var bores = new FastenersInPlane("rod", [(0, 0), (0, 0)], [new(0, [], [], []), new(0, [], [], []), Off(), Off()], [Room(), Room()], new(0, double.PositiveInfinity, "test"), MayTurn: false);
        Assert.Equal(1 - Math.Exp(-0.1 * 0.1 / (2 * 0.06 * 0.06)), FitOdds.Of(new(sure, Cases.Nothing, [bores])).Each[0].Odds.Value, 0.002);
    }

    /// <summary>All within the same room of a common place: the range of n normal lengths; P(range ≤ 3.314 s) = 0.95 for three of them (table of the studentized range, infinite degrees of freedom; from memory).</summary>
    [Fact]
    public void Three_in_a_row_by_the_range_of_three()
    {
        ProcessCapability sure = Cases.Sure(0.05, _ => 0);
        // Each hole's place has an error of its own; the first one's enters both offsets.
        LengthSum Off(string own) => new(0, [], [new("first", new(0, 0.05), -1), new(own, new(0, 0.05), 1)], []);
        LengthSum Room() => new(0.5 * 3.314 * 0.05, [], [], []);
        var row = new FastenersInLine("row", [Off("second"), Off("third")], [Room(), Room(), Room()], new(0, double.PositiveInfinity, "test"));
        Assert.Equal(0.95, FitOdds.Of(new(sure, Cases.Nothing, [row])).Each[0].Odds.Value, 0.002);

        // The same in a plane, with nothing across.
        LengthSum None() => new(0, [], [], []);
        var plane = new FastenersInPlane("row", [(0, 0), (1, 0), (2, 0)], [None(), None(), Off("second"), None(), Off("third"), None()], [Room(), Room(), Room()], row.Window, MayTurn: false);
        Assert.Equal(0.95, FitOdds.Of(new(sure, Cases.Nothing, [plane])).Each[0].Odds.Value, 0.004);
    }

    /// <summary>By drawing, the turn sought in small steps.</summary>
    [Fact]
    public void Four_screws_in_a_square_may_be_pushed_and_turned()
    {
        ProcessCapability sure = Cases.Sure(0.08, _ => 0);
        (double, double)[] places = [(-20, -20), (20, -20), (20, 20), (-20, 20)];
        LengthSum Off() => new(0, [new(SurfaceKind.CentreDistance, 0, 1)], [], []);
        LengthSum Room() => new(0.12, [], [], []);
        FastenersInPlane Square(bool turn) => new("square", places, [.. Enumerable.Range(0, 8).Select(_ => Off())], [.. Enumerable.Range(0, 4).Select(_ => Room())], new(0, double.PositiveInfinity, "test"), turn);
        double fixedWay = FitOdds.Of(new(sure, Cases.Nothing, [Square(false)])).Each[0].Odds.Value, turned = FitOdds.Of(new(sure, Cases.Nothing, [Square(true)])).Each[0].Odds.Value;
        var random = new Random(5);
        int pushedFits = 0, turnedFits = 0, n = 4000;
        for (int i = 0; i < n; i++)
        {
            double[] off = [.. Enumerable.Range(0, 8).Select(_ => 0.08 * Normal.Quantile(random.NextDouble()))];
            bool Fits(double turn)
            {
                (double X, double Y)[] at = [.. Enumerable.Range(0, 4).Select(k => (off[2 * k] + turn * places[k].Item2, off[2 * k + 1] - turn * places[k].Item1))];
                // Where circles have a place in common, one of their crossings is in it (all are of one radius: no circle lies in another).
                return Crossings(at, 0.12).Any(p => at.All(c => Math.Sqrt((c.X - p.X) * (c.X - p.X) + (c.Y - p.Y) * (c.Y - p.Y)) <= 0.12 + 1e-9));
            }

            bool pushed = Fits(0);
            if (pushed) pushedFits++;
            if (pushed || Enumerable.Range(-60, 121).Any(t => Fits(0.0001 * t))) turnedFits++;
        }

        Assert.Equal((double)pushedFits / n, fixedWay, 0.03);
        Assert.Equal((double)turnedFits / n, turned, 0.03);
        Assert.True(turned > fixedWay + 0.02);
    }

    private static IEnumerable<(double X, double Y)> Crossings((double X, double Y)[] centres, double radius) =>
        from i in Enumerable.Range(0, centres.Length)
        from j in Enumerable.Range(0, i)
        let dx = centres[j].X - centres[i].X
        let dy = centres[j].Y - centres[i].Y
        let apart = Math.Sqrt(dx * dx + dy * dy)
        where apart <= 2 * radius
        let up = Math.Sqrt(radius * radius - 0.25 * apart * apart) / apart
        from side in (int[])[1, -1]
        select (centres[i].X + 0.5 * dx - side * up * dy, centres[i].Y + 0.5 * dy + side * up * dx);

    [Fact]
    public void Inches_give_the_same_odds() =>
        Gen.Select(Gen.Double[8.1, 8.7], Gen.Double[0.01, 0.1], Gen.Int[0, 3]).Sample((bore, u, trials) =>
        {
            const double inch = 25.4;
            MeasuredTrial Trial(double unit, int k) => new(SurfaceKind.HoleUpright, 8 / unit, Cases.Day, (7.8 + 0.03 * k) / unit, 0.02 / unit);
            Estimate At(double unit)
            {
                var priors = KindPrior.Assumed(ProcessKind.Mex).ToDictionary(p => p.Key, p => p.Value with
                {
                    BiasMm = p.Value.BiasMm / unit,
                    BiasUncertaintyMm = p.Value.BiasUncertaintyMm / unit,
                    SpreadMm = p.Value.SpreadMm / unit,
                    SmallHoleMm2 = p.Value.SmallHoleMm2 / unit / unit,
                    SmallHoleUncertaintyMm2 = p.Value.SmallHoleUncertaintyMm2 / unit / unit,
                });
                var process = ProcessCapability.Learn(Cases.Setting, priors, [.. Enumerable.Range(0, trials).Select(k => Trial(unit, k))]);
                return FitOdds.Of(new(process, Cases.Nothing, [Cases.Rod(bore / unit, 8 / unit, u / unit, 0.1 / unit, 0.4 / unit)])).AllTogether;
            }

            Assert.Equal(At(1).Value, At(inch).Value, 1e-6);
        }, iter: 25);

    [Fact]
    public void Sizes_that_were_read_bring_their_covariance()
    {
        // Two plates of the world outside, known only from two readings that share an error: their difference is known better than either.
        var read = new NormalLengths(["a", "b"], [20, 30], new[,] { { 0.01, 0.009 }, { 0.009, 0.01 } });
        ProcessCapability sure = Cases.Sure(0.01, _ => 0);
        FitCondition Gap(string size) => new OneClearance(size, new LengthSum(0, [new(SurfaceKind.Slot, size == "a" ? 20.2 : 30.2, 1)], [], [new(size, -1)]), new(0, 0.4, "test"));
        FitOdds odds = FitOdds.Of(new(sure, read, [Gap("a"), Gap("b")]));
        Assert.Equal(new NormalLength(0.2, Math.Sqrt(0.01 + 0.0001)).Between(0, 0.4), odds.Each[0].Odds.Value, 1e-6);
        Assert.Equal(0.2, odds.Each[0].Clearance.MeanMm, 1e-9);
        Assert.True(odds.AllTogether.Value > odds.Each[0].Odds.Value * odds.Each[1].Odds.Value + 0.01);
    }

    [Fact]
    public void One_surface_scatters_alike_in_all_fits_that_it_enters()
    {
        OneClearance Pin(string name, string? surface) => new(name, new LengthSum(0, [Cases.Hole(8) with { Surface = surface }], [new(name, new(7.75, 0.001), -1)], []), new(0.2, 0.3, "test"));
        ProcessCapability sure = Cases.Sure(0.05, _ => 0);
        FitOdds same = FitOdds.Of(new(sure, Cases.Nothing, [Pin("a", "bore.wall"), Pin("b", "bore.wall")])), apart = FitOdds.Of(new(sure, Cases.Nothing, [Pin("a", null), Pin("b", null)]));
        Assert.Equal(same.Each[0].Odds.Value, same.AllTogether.Value, 0.015);
        Assert.Equal(Math.Pow(apart.Each[0].Odds.Value, 2), apart.AllTogether.Value, 0.002);
    }

    [Fact]
    public void Ten_counterparts_are_known_to_a_tenth_of_a_point()
    {
        FitOdds odds = FitOdds.Of(Cases.Ten());
        Assert.InRange(odds.AllTogether.Error95, 0, FitOdds.EnoughError);
        Assert.InRange(odds.AllTogether.Value, 0.1, 0.95);
    }
}
