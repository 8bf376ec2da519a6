namespace Sparewright.Fit.Odds;

/// <summary>
/// Fasteners or bores spread over a plane: the part may be pushed about, and turned a little where <paramref name="MayTurn"/>, until every hole lies within its room of its fastener
/// (ISO 5458: the pattern is located as a whole). A rod through two bores is the case of two places on one another that cannot turn.
/// </summary>
/// <param name="PlacesMm">Where the fasteners stand, right and up in the plane.</param>
/// <param name="Offsets">By how much each hole lies off its fastener: right, up, right, up …; two for each place.</param>
/// <param name="Rooms">Of each hole: half its clearance, both sides' for a floating pair.</param>
/// <param name="Window">Of every hole's clearance, i.e. twice its room.</param>
public sealed record FastenersInPlane(
    string Name, IReadOnlyList<(double RightMm, double UpMm)> PlacesMm, IReadOnlyList<LengthSum> Offsets, IReadOnlyList<LengthSum> Rooms, ClearanceWindow Window, bool MayTurn)
    : FitCondition(Name, [.. Offsets, .. Rooms])
{
    public override int Shown => Offsets.Count;

    internal override (double LowMm, double HighMm) Bounds(int length, ReadOnlySpan<double> earlierMm)
    {
        if (length < Offsets.Count) return (double.NegativeInfinity, double.PositiveInfinity);
        double low = 0.5 * Window.LowMm, high = 0.5 * Window.HighMm;
        if (length < Lengths.Count - 1) return (low, high);
        double needed = LastRoom(earlierMm);
        return needed > high ? (double.PositiveInfinity, double.NegativeInfinity) : (Math.Max(low, needed), high);
    }

    public override FitCondition With(IReadOnlyList<LengthSum> lengths) =>
        this with { Offsets = [.. lengths.Take(Offsets.Count)], Rooms = [.. lengths.Skip(Offsets.Count)], Lengths = lengths };

    /// <summary>The room that the last hole needs once all others lie within theirs; infinite when those cannot.</summary>
    private double LastRoom(ReadOnlySpan<double> earlier)
    {
        int last = PlacesMm.Count - 1;
        (double X, double Y) Offset(ReadOnlySpan<double> values, int hole) => (values[2 * hole], values[2 * hole + 1]);
        double Room(ReadOnlySpan<double> values, int hole) => values[Offsets.Count + hole];
        for (int hole = 0; hole < last; hole++)
            if (Room(earlier, hole) < 0) return double.PositiveInfinity;
        var (lastX, lastY) = Offset(earlier, last);
        if (last == 0) return 0;
        if (last == 1)
        {
            var (x, y) = Offset(earlier, 0);
            double rightMm = PlacesMm[1].RightMm - PlacesMm[0].RightMm, upMm = PlacesMm[1].UpMm - PlacesMm[0].UpMm, apart = Math.Sqrt(rightMm * rightMm + upMm * upMm);
            // Turning takes out what lies across the line between the two.
            double off = MayTurn && apart > 0 ? Math.Abs((lastX - x) * rightMm + (lastY - y) * upMm) / apart : Math.Sqrt((lastX - x) * (lastX - x) + (lastY - y) * (lastY - y));
            return Math.Max(0, off - Room(earlier, 0));
        }

        // With more holes: where the last one's wanted room is bisected, and for each the others' common place is sought.
        double enough = 0, least = double.PositiveInfinity;
        double most = Math.Sqrt(lastX * lastX + lastY * lastY);
        for (int hole = 0; hole < last; hole++)
        {
            var (x, y) = Offset(earlier, hole);
            most = Math.Max(most, Math.Sqrt((lastX - x) * (lastX - x) + (lastY - y) * (lastY - y)) + Room(earlier, hole));
        }

        if (!Meet(earlier, 2 * most)) return double.PositiveInfinity;
        least = 2 * most;
        for (int step = 0; step < 16 && least - enough > 1e-4; step++)
        {
            double middle = 0.5 * (enough + least);
            if (Meet(earlier, middle)) least = middle;
            else enough = middle;
        }

        return least;
    }

    /// <summary>Whether all can be had at once, the last hole with this room: the squares of what is wanting, which are convex, pushed to zero by Newton steps, halved where they overshoot.</summary>
    private bool Meet(ReadOnlySpan<double> values, double lastRoom)
    {
        double size = 1e-9;
        foreach (var (right, up) in PlacesMm) size = Math.Max(size, Math.Max(Math.Abs(right), Math.Abs(up)));
        var at = new Wanting(0, 0, 0);
        at.Add(this, values, lastRoom, size);
        for (int step = 0; step < 60 && at.Most > 1e-5; step++)
        {
            var (sx, sy, st) = at.Step();
            if (Math.Abs(sx) + Math.Abs(sy) + Math.Abs(st) < 1e-8) return false;
            for (double length = 1; ; length /= 2)
            {
                var there = new Wanting(at.X + length * sx, at.Y + length * sy, at.Turn + length * st);
                there.Add(this, values, lastRoom, size);
                if (there.Squares >= at.Squares && length > 1e-4) continue;
                if (there.Squares >= at.Squares) return false;
                at = there;
                break;
            }
        }

        return at.Most <= 1e-5;
    }

    /// <summary>What is wanting when the part is pushed and turned so: half the sum of squares, its slope and bend. Turning is in mm at the pattern's rim.</summary>
    private struct Wanting(double x, double y, double turn)
    {
        private double _gx, _gy, _gt, _xx = 1e-9, _xy, _xt, _yy = 1e-9, _yt, _tt = 1e-9;

        public readonly double X => x;

        public readonly double Y => y;

        public readonly double Turn => turn;

        public double Squares { get; private set; }

        public double Most { get; private set; }

        public void Add(FastenersInPlane pattern, ReadOnlySpan<double> values, double lastRoom, double size)
        {
            for (int hole = 0; hole < pattern.PlacesMm.Count; hole++)
            {
                double px = pattern.PlacesMm[hole].RightMm / size, py = pattern.PlacesMm[hole].UpMm / size;
                double dx = values[2 * hole] - x + turn * py, dy = values[2 * hole + 1] - y - turn * px;
                double away = Math.Sqrt(dx * dx + dy * dy), room = hole == pattern.PlacesMm.Count - 1 ? lastRoom : values[pattern.Offsets.Count + hole];
                double over = away - room;
                if (over <= 0) continue;
                Most = Math.Max(Most, over);
                Squares += 0.5 * over * over;
                double ux = dx / away, uy = dy / away, across = over / away;
                (_gx, _gy) = (_gx + over * ux, _gy + over * uy);
                // uuᵀ + (over/away)(1 − uuᵀ), and what of it turning sees.
                double hxx = ux * ux + across * uy * uy, hxy = (1 - across) * ux * uy, hyy = uy * uy + across * ux * ux;
                (_xx, _xy, _yy) = (_xx + hxx, _xy + hxy, _yy + hyy);
                if (!pattern.MayTurn) continue;
                _gt += over * (uy * px - ux * py);
                (_xt, _yt, _tt) = (_xt + hxy * px - hxx * py, _yt + hyy * px - hxy * py, _tt + hyy * px * px - 2 * hxy * px * py + hxx * py * py);
            }
        }

        /// <summary>Three equations by Cramer's rule.</summary>
        public readonly (double X, double Y, double Turn) Step()
        {
            double det = _xx * (_yy * _tt - _yt * _yt) - _xy * (_xy * _tt - _yt * _xt) + _xt * (_xy * _yt - _yy * _xt);
            return ((_gx * (_yy * _tt - _yt * _yt) - _xy * (_gy * _tt - _yt * _gt) + _xt * (_gy * _yt - _yy * _gt)) / det,
                (_xx * (_gy * _tt - _yt * _gt) - _gx * (_xy * _tt - _yt * _xt) + _xt * (_xy * _gt - _gy * _xt)) / det,
                (_xx * (_yy * _gt - _gy * _yt) - _xy * (_xy * _gt - _gy * _xt) + _gx * (_xy * _yt - _yy * _xt)) / det);
        }
    }
}
