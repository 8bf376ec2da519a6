namespace Sparewright.Handover.Picture;

/// <summary>The lettering of one size: the value, behind it in smaller letters its ±, before it the flag that says "look here".</summary>
internal sealed class Label
{
    public const double HeightMm = 3.5;
    private const double PlusMinusHeightMm = 2.5;
    private const double GapMm = 1.1;
    private const double FlagMm = 5;

    private readonly Dimension _dimension;
    private readonly double _textMm, _plusMinusMm, _flagTextMm;

    public Label(Dimension dimension, Lettering lettering)
    {
        _dimension = dimension;
        _textMm = lettering.Width(dimension.Text, HeightMm);
        _plusMinusMm = dimension.PlusMinus is { } plusMinus ? lettering.Width(plusMinus, PlusMinusHeightMm) : 0;
        _flagTextMm = dimension.Flag is { } flag ? lettering.Width(FlagText(flag), FlagTextHeightMm) : 0;
    }

    public const double FlagTextHeightMm = 2.2;

    public Tone Tone => _dimension.Flag is null ? Tone.Ink : Tone.LookHere;

    /// <summary>From the first stroke to the last, in mm.</summary>
    public double WidthMm => (_dimension.Flag is null ? 0 : FlagMm + GapMm) + _textMm + (_plusMinusMm > 0 ? GapMm + _plusMinusMm : 0);

    /// <summary>The marks, beginning at a point of the base line; y up, to the right or, upright, up the page.</summary>
    public IEnumerable<Mark> From(PagePoint start, bool upright)
    {
        var along = upright ? new PagePoint(0, 1) : new PagePoint(1, 0);
        var at = start;
        if (_dimension.Flag is { } flag)
        {
            foreach (var mark in Flag(flag, at, upright, _flagTextMm))
                yield return mark;
            at += along * (FlagMm + GapMm);
        }

        yield return new Words(_dimension.Text, at, HeightMm, _textMm, Anchor.Start, upright, Tone);
        if (_dimension.PlusMinus is { } plusMinus)
            yield return new Words(plusMinus, at + along * (_textMm + GapMm), PlusMinusHeightMm, _plusMinusMm, Anchor.Start, upright, Tone == Tone.LookHere ? Tone.LookHere : Tone.Soft);
    }

    /// <summary>A triangle with a number in it, standing on the base line: what the note of that number is about.</summary>
    public static IEnumerable<Mark> Flag(int number, PagePoint start, bool upright, double textMm)
    {
        var along = upright ? new PagePoint(0, 1) : new PagePoint(1, 0);
        var rise = upright ? new PagePoint(-1, 0) : new PagePoint(0, 1);
        const double Height = FlagMm * 0.9;
        PagePoint left = start - rise * 0.2, right = left + along * FlagMm, top = left + along * (FlagMm / 2) + rise * Height;
        yield return new Stroke([left, right, top, left], LineStyle.Flag, Tone.LookHere);
        yield return new Words(FlagText(number), left + along * (FlagMm / 2) + rise * 0.75, FlagTextHeightMm, textMm, Anchor.Middle, upright, Tone.LookHere);
    }

    public static string FlagText(int number) => number.ToString(System.Globalization.CultureInfo.InvariantCulture);

    public static double FlagWidthMm => FlagMm;
}
