namespace Sparewright.Handover.Picture;

/// <summary>A point on the page in mm; in a view's own lines y points up, on the sheet down.</summary>
internal readonly record struct PagePoint(double X, double Y)
{
    public double Length => Math.Sqrt(X * X + Y * Y);

    public PagePoint Unit => this * (1 / Length);

    /// <summary>A quarter turn to the left where y points up.</summary>
    public PagePoint Left => new(-Y, X);

    public static PagePoint operator +(PagePoint a, PagePoint b) => new(a.X + b.X, a.Y + b.Y);

    public static PagePoint operator -(PagePoint a, PagePoint b) => new(a.X - b.X, a.Y - b.Y);

    public static PagePoint operator *(PagePoint a, double factor) => new(a.X * factor, a.Y * factor);

    public static double Dot(PagePoint a, PagePoint b) => a.X * b.X + a.Y * b.Y;

    public static PagePoint Toward(double degrees) => new(Math.Cos(degrees * Math.PI / 180), Math.Sin(degrees * Math.PI / 180));
}

/// <summary>A straight piece of a drawn line.</summary>
internal readonly record struct Piece(PagePoint A, PagePoint B)
{
    /// <summary>Whether the two run through each other; touching does not count.</summary>
    public bool Crosses(Piece other) => Parts(other.A, other.B) && other.Parts(A, B);

    private bool Parts(PagePoint a, PagePoint b)
    {
        var normal = (B - A).Left;
        return PagePoint.Dot(normal, a - A) * PagePoint.Dot(normal, b - A) < 0;
    }
}

/// <summary>An upright box on the page.</summary>
internal readonly record struct Box(double MinX, double MinY, double MaxX, double MaxY)
{
    public static readonly Box Empty = new(double.PositiveInfinity, double.PositiveInfinity, double.NegativeInfinity, double.NegativeInfinity);

    public bool IsEmpty => MinX > MaxX;

    public double Width => MaxX - MinX;

    public double Height => MaxY - MinY;

    public PagePoint Middle => new((MinX + MaxX) / 2, (MinY + MaxY) / 2);

    public static Box Of(IEnumerable<PagePoint> points) => points.Aggregate(Empty, (box, p) => box.With(p));

    public Box With(PagePoint p) => new(Math.Min(MinX, p.X), Math.Min(MinY, p.Y), Math.Max(MaxX, p.X), Math.Max(MaxY, p.Y));

    public Box With(Box other) =>
        new(Math.Min(MinX, other.MinX), Math.Min(MinY, other.MinY), Math.Max(MaxX, other.MaxX), Math.Max(MaxY, other.MaxY));

    public Box Grown(double by) => new(MinX - by, MinY - by, MaxX + by, MaxY + by);

    public bool Overlaps(Box other) => MinX < other.MaxX && other.MinX < MaxX && MinY < other.MaxY && other.MinY < MaxY;

    public bool Holds(PagePoint p) => p.X >= MinX && p.X <= MaxX && p.Y >= MinY && p.Y <= MaxY;

    /// <summary>Whether a straight piece touches the box (clipping by Liang and Barsky, ACM Transactions on Graphics 3, 1984; from memory).</summary>
    public bool Meets(Piece piece)
    {
        double from = 0, to = 1;
        var d = piece.B - piece.A;
        return Clip(-d.X, piece.A.X - MinX) && Clip(d.X, MaxX - piece.A.X) && Clip(-d.Y, piece.A.Y - MinY) && Clip(d.Y, MaxY - piece.A.Y);

        bool Clip(double p, double q)
        {
            if (p == 0)
                return q >= 0;
            double t = q / p;
            if (p < 0)
                from = Math.Max(from, t);
            else
                to = Math.Min(to, t);
            return from <= to;
        }
    }
}
