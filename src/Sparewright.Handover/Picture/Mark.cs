namespace Sparewright.Handover.Picture;

/// <summary>How a line is drawn (ISO 128-2, line group 0.5/0.25 for small sheets).</summary>
internal enum LineStyle { Visible, Smooth, Hidden, Centre, Dimension, Flag, Frame, Rule }

/// <summary>Ordinary ink, fainter ink, or the one colour that says "look here".</summary>
internal enum Tone { Ink, Soft, LookHere }

/// <summary>Which point of the words stands at their place.</summary>
internal enum Anchor { Start, Middle, End }

/// <summary>Something drawn; the smallest things that a page is made of.</summary>
internal abstract record Mark(Tone Tone)
{
    public abstract Mark Moved(PagePoint by, bool turnedOver);

    public abstract Box Box { get; }

    /// <summary>On a sheet y points down; in a view's own lines it points up.</summary>
    protected static PagePoint Move(PagePoint p, PagePoint by, bool turnedOver) => new(p.X + by.X, (turnedOver ? -p.Y : p.Y) + by.Y);
}

/// <summary>A line through points.</summary>
internal sealed record Stroke(IReadOnlyList<PagePoint> Points, LineStyle Style, Tone Tone = Tone.Ink) : Mark(Tone)
{
    public override Box Box => Box.Of(Points);

    public IEnumerable<Piece> Pieces => Points.Zip(Points.Skip(1), (a, b) => new Piece(a, b));

    public override Mark Moved(PagePoint by, bool turnedOver) => this with { Points = [.. Points.Select(p => Move(p, by, turnedOver))] };
}

/// <summary>A filled shape: an arrow head, a flag.</summary>
internal sealed record Fill(IReadOnlyList<PagePoint> Points, Tone Tone = Tone.Ink) : Mark(Tone)
{
    public override Box Box => Box.Of(Points);

    public override Mark Moved(PagePoint by, bool turnedOver) => this with { Points = [.. Points.Select(p => Move(p, by, turnedOver))] };
}

/// <summary>A line of lettering.</summary>
/// <param name="Text">What it says.</param>
/// <param name="At">On its base line.</param>
/// <param name="HeightMm">Height of its capitals (ISO 3098).</param>
/// <param name="WidthMm">As measured with the font.</param>
/// <param name="Upright">Read from the right of the page: it runs up it.</param>
internal sealed record Words(string Text, PagePoint At, double HeightMm, double WidthMm, Anchor Anchor, bool Upright, Tone Tone) : Mark(Tone)
{
    /// <summary>How far it reaches below the base line, as a share of the height: figures and most letters stand on it.</summary>
    private double Below => Text.Any("gjpqy,;()[]_".Contains) ? 0.28 : 0.03;

    /// <summary>How far the run begins before its place.</summary>
    public double Before => Anchor switch { Anchor.Start => 0, Anchor.Middle => WidthMm / 2, _ => WidthMm };

    /// <summary>Whether <see cref="At"/> counts y upward still.</summary>
    public bool YUp { get; init; } = true;

    public override Box Box
    {
        get
        {
            double up = YUp ? 1 : -1;
            var along = Upright ? new PagePoint(0, up) : new PagePoint(1, 0);
            var rise = Upright ? new PagePoint(-1, 0) : new PagePoint(0, up);
            var start = At - along * Before;
            return Box.Of([start - rise * (Below * HeightMm), start + along * WidthMm + rise * HeightMm]);
        }
    }

    public override Mark Moved(PagePoint by, bool turnedOver) => this with { At = Move(At, by, turnedOver), YUp = YUp != turnedOver };
}
