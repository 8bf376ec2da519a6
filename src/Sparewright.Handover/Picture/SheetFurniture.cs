using System.Globalization;

namespace Sparewright.Handover.Picture;

/// <summary>The frame with centring marks and grid references (ISO 5457).</summary>
internal static class SheetFrame
{
    private const double FieldMm = 50;
    private const double LetterMm = 2.5;

    public static IEnumerable<Mark> Of(double width, double height, double left, double margin, Lettering lettering)
    {
        var frame = new Box(left, margin, width - margin, height - margin);
        yield return Rectangle(frame, LineStyle.Frame);
        var middle = new PagePoint(width / 2, height / 2);

        // Centring marks at the middle of each side of the paper; they end at the frame, because strip and title block lie right behind it.
        yield return new Stroke([new(middle.X, margin - 5), new(middle.X, margin)], LineStyle.Frame);
        yield return new Stroke([new(middle.X, height - margin), new(middle.X, height - margin + 5)], LineStyle.Frame);
        yield return new Stroke([new(left - 5, middle.Y), new(left, middle.Y)], LineStyle.Frame);
        yield return new Stroke([new(width - margin, middle.Y), new(width - margin + 5, middle.Y)], LineStyle.Frame);

        // Fields are counted from the middle; along the top in numbers, down the right side in letters.
        int across = (int)Math.Ceiling((middle.X - left) / FieldMm) * 2, down = (int)Math.Ceiling((middle.Y - margin) / FieldMm) * 2;
        for (int k = 0; k < across; k++)
        {
            double from = Math.Max(middle.X + (k - across / 2) * FieldMm, left), to = Math.Min(middle.X + (k + 1 - across / 2) * FieldMm, width - margin);
            if (k > 0)
                yield return new Stroke([new(from, margin - 5), new(from, margin)], LineStyle.Rule);
            string number = (k + 1).ToString(CultureInfo.InvariantCulture);
            yield return Letter(number, new((from + to) / 2, margin - 1.4));
        }

        for (int k = 0; k < down; k++)
        {
            double from = Math.Max(middle.Y + (k - down / 2) * FieldMm, margin), to = Math.Min(middle.Y + (k + 1 - down / 2) * FieldMm, height - margin);
            if (k > 0)
                yield return new Stroke([new(width - margin, from), new(width - margin + 5, from)], LineStyle.Rule);
            yield return Letter(((char)('A' + k)).ToString(), new(width - margin + 2.6, (from + to) / 2 + LetterMm / 2));
        }

        Words Letter(string text, PagePoint at) => Lines.Words(text, at, LetterMm, lettering, Anchor.Middle, Tone.Soft);
    }

    public static Stroke Rectangle(Box box, LineStyle style, Tone tone = Tone.Ink) =>
        new([new(box.MinX, box.MinY), new(box.MaxX, box.MinY), new(box.MaxX, box.MaxY), new(box.MinX, box.MaxY), new(box.MinX, box.MinY)], style, tone);
}

/// <summary>Lines of lettering on a sheet, y down.</summary>
internal static class Lines
{
    public static Words Words(string text, PagePoint at, double heightMm, Lettering lettering, Anchor anchor = Anchor.Start, Tone tone = Tone.Ink) =>
        new(text, at, heightMm, lettering.Width(text, heightMm), anchor, false, tone) { YUp = false };

    /// <summary>Broken between words into as few lines as will do, and these about equally long; one word alone may be wider.</summary>
    public static List<string> Broken(string text, double heightMm, double widthMm, Lettering lettering)
    {
        var lines = Filled(text, heightMm, widthMm, lettering);
        for (double narrower = widthMm * 0.97; lines.Count > 1 && narrower > widthMm / 2; narrower *= 0.97)
        {
            var closer = Filled(text, heightMm, narrower, lettering);
            if (closer.Count > lines.Count || closer.Exists(line => lettering.Width(line, heightMm) > widthMm))
                break;
            lines = closer;
        }

        return lines;
    }

    private static List<string> Filled(string text, double heightMm, double widthMm, Lettering lettering)
    {
        var lines = new List<string>();
        foreach (string word in text.Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            if (lines.Count > 0 && lettering.Width($"{lines[^1]} {word}", heightMm) <= widthMm)
                lines[^1] += $" {word}";
            else
                lines.Add(word);
        }

        return lines;
    }

    /// <summary>Cut short with an ellipsis where it is too wide.</summary>
    public static string Fitted(string text, double heightMm, double widthMm, Lettering lettering)
    {
        if (lettering.Width(text, heightMm) <= widthMm)
            return text;
        int length = text.Length;
        while (length > 0 && lettering.Width(text[..length].TrimEnd() + "…", heightMm) > widthMm)
            length--;
        return text[..length].TrimEnd() + "…";
    }
}

/// <summary>The strip across the top that no one can overlook.</summary>
internal static class CautionStrip
{
    private const double LetterMm = 3.5;
    private const double PitchMm = 5.4;
    private const double SignMm = 16;

    public static double HeightMm(IReadOnlyList<string> cautions, double widthMm, Lettering lettering) => Text(cautions, widthMm, lettering).Count * PitchMm + 3.6;

    /// <param name="top">Left, right and upper edge; its own height it finds itself.</param>
    public static IEnumerable<Mark> Of(IReadOnlyList<string> cautions, Box top, Lettering lettering)
    {
        var lines = Text(cautions, top.Width, lettering);
        var box = top with { MaxY = top.MinY + HeightMm(cautions, top.Width, lettering) };
        yield return SheetFrame.Rectangle(box, LineStyle.Frame, Tone.LookHere);
        double middle = box.Middle.Y, x = box.MinX + SignMm / 2, half = Math.Min(4.2, box.Height / 2 - 1.2);
        yield return new Stroke([new(x - half * 1.15, middle + half), new(x + half * 1.15, middle + half), new(x, middle - half), new(x - half * 1.15, middle + half)], LineStyle.Frame, Tone.LookHere);
        yield return Lines.Words("!", new(x, middle + half * 0.72), half * 1.05, lettering, Anchor.Middle, Tone.LookHere);
        for (int k = 0; k < lines.Count; k++)
            yield return Lines.Words(lines[k], new(box.MinX + SignMm, box.MinY + 1.8 + PitchMm * k + (PitchMm + LetterMm) / 2), LetterMm, lettering, tone: Tone.LookHere);
    }

    private static List<string> Text(IReadOnlyList<string> cautions, double widthMm, Lettering lettering) =>
        [.. cautions.SelectMany(c => Lines.Broken(c, LetterMm, widthMm - SignMm - 4, lettering))];
}

/// <summary>The notes: what the flags mean, and what else must be known.</summary>
internal static class NoteLines
{
    private const double LetterMm = 2.5;
    private const double PitchMm = 4.2;
    private const double IndentMm = 7;

    public static double HeightMm(IReadOnlyList<Note> notes, double widthMm, Lettering lettering) =>
        notes.Count == 0 ? 0 : notes.Sum(n => Text(n, widthMm, lettering).Count * PitchMm + 1) + 3;

    public static IEnumerable<Mark> Of(IReadOnlyList<Note> notes, Box box, Lettering lettering)
    {
        double y = box.MinY + 1;
        foreach (var note in notes)
        {
            var tone = note.Flag is null ? Tone.Ink : Tone.LookHere;
            if (note.Flag is { } flag)
            {
                string number = Label.FlagText(flag);
                foreach (var mark in Label.Flag(flag, default, false, lettering.Width(number, Label.FlagTextHeightMm)))
                    yield return mark.Moved(new(box.MinX, y + LetterMm + 0.9), turnedOver: true);
            }

            foreach (string line in Text(note, box.Width, lettering))
            {
                yield return Lines.Words(line, new(box.MinX + (note.Flag is null ? 0 : IndentMm), y + LetterMm + 0.6), LetterMm, lettering, tone: tone);
                y += PitchMm;
            }

            y += 1;
        }
    }

    private static List<string> Text(Note note, double widthMm, Lettering lettering) =>
        Lines.Broken(note.Text, LetterMm, widthMm - (note.Flag is null ? 0 : IndentMm), lettering);
}

/// <summary>The title block in the manner of ISO 7200, with the sign of the first-angle arrangement (ISO 5456-2).</summary>
internal static class TitleBlockDrawing
{
    public const double WidthMm = 180;
    public const double HeightMm = 32;
    private const double CaptionMm = 1.8;
    private const double ValueMm = 2.5;

    public static IEnumerable<Mark> Of(TitleBlock title, DrawingScale scale, Box box, Lettering lettering)
    {
        double narrow = 24, wide = 34, x1 = box.MaxX - narrow - wide, x2 = box.MaxX - narrow;
        double y1 = box.MinY + 12, y2 = box.MinY + 22;
        yield return SheetFrame.Rectangle(box, LineStyle.Frame);
        yield return Rule(new(x1, box.MinY), new(x1, box.MaxY));
        yield return Rule(new(x2, box.MinY), new(x2, box.MaxY));
        yield return Rule(new(x1, y1), new(box.MaxX, y1));
        yield return Rule(new(box.MinX, y2), new(box.MaxX, y2));
        double half = box.MinX + (x1 - box.MinX) * 0.45;
        yield return Rule(new(half, y2), new(half, box.MaxY));

        double left = box.MinX + 2, room = x1 - box.MinX - 4;
        yield return Caption("Part", left, box.MinY);
        yield return Lines.Words(Lines.Fitted(title.Part, 5, room, lettering), new(left, box.MinY + 10), 5, lettering);
        double aboutMm = LargestThat(h => Lines.Broken(title.About, h, room, lettering).Count <= 2);
        var about = Lines.Broken(title.About, aboutMm, room, lettering);
        for (int k = 0; k < Math.Min(about.Count, 2); k++)
        {
            string line = k == 1 ? Lines.Fitted(string.Join(' ', about.Skip(1)), aboutMm, room, lettering) : about[0];
            yield return Lines.Words(line, new(left, box.MinY + 15.6 + 4.2 * k), aboutMm, lettering);
        }

        yield return Caption("Made by", left, y2);
        yield return Value(title.MadeBy, left, y2, half - left - 1);
        yield return Caption("Identification", half + 2, y2);
        yield return Value(title.Identification, half + 2, y2, x1 - half - 3);

        yield return Caption("State of the sizes", x1 + 2, box.MinY);
        yield return Lines.Words(Lines.Fitted(title.State, 3.5, wide - 4, lettering), new(x1 + 2, box.MinY + 9), 3.5, lettering, tone: Tone.LookHere);
        yield return Caption("First angle", x1 + 2, y1);
        foreach (var mark in FirstAngleSign(new((x1 + x2) / 2 + 3, y1 + 6)))
            yield return mark;
        yield return Caption("Date", x1 + 2, y2);
        yield return Value(title.Date.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture), x1 + 2, y2, wide - 3);

        yield return Caption("Scale", x2 + 2, box.MinY);
        yield return Lines.Words(scale.ToString(), new(x2 + 2, box.MinY + 9), 3.5, lettering);
        yield return Caption("Units", x2 + 2, y1);
        yield return Value("mm", x2 + 2, y1, narrow - 3);
        yield return Caption("Sheet", x2 + 2, y2);
        yield return Value("1 / 1", x2 + 2, y2, narrow - 3);

        Words Caption(string text, double x, double y) => Lines.Words(text, new(x, y + 3), CaptionMm, lettering, tone: Tone.Soft);
        Words Value(string text, double x, double y, double width)
        {
            double heightMm = LargestThat(h => lettering.Width(text, h) <= width);
            return Lines.Words(Lines.Fitted(text, heightMm, width, lettering), new(x, y + 7.9), heightMm, lettering);
        }

        // Smaller lettering before any word is cut short.
        static double LargestThat(Predicate<double> fits) => Array.Find([ValueMm, 2.2, CaptionMm], fits) is > 0 and var height ? height : CaptionMm;
        static Stroke Rule(PagePoint a, PagePoint b) => new([a, b], LineStyle.Rule);
    }

    /// <summary>A frustum of a cone from the side, and to its right as seen from the left: small end h across, large end and length 2 h (from memory).</summary>
    private static IEnumerable<Mark> FirstAngleSign(PagePoint middle)
    {
        const double H = 2.4;
        double x = middle.X - 6.2, y = middle.Y;
        yield return new Stroke([new(x, y - H / 2), new(x + 2 * H, y - H), new(x + 2 * H, y + H), new(x, y + H / 2), new(x, y - H / 2)], LineStyle.Flag);
        yield return new Stroke([new(x - 1.5, y), new(x + 2 * H + 1.5, y)], LineStyle.Centre, Tone.Soft);
        var round = new PagePoint(middle.X + 4.2, y);
        foreach (double radius in new[] { H / 2, H })
            yield return new Stroke([.. Enumerable.Range(0, 49).Select(k => round + PagePoint.Toward(7.5 * k) * radius)], LineStyle.Flag);
        yield return new Stroke([round - new PagePoint(H + 1.3, 0), round + new PagePoint(H + 1.3, 0)], LineStyle.Centre, Tone.Soft);
        yield return new Stroke([round - new PagePoint(0, H + 1.1), round + new PagePoint(0, H + 1.1)], LineStyle.Centre, Tone.Soft);
    }
}
