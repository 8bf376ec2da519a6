using System.Diagnostics.CodeAnalysis;
using Sparewright.Part;

namespace Sparewright.Handover.Picture;

/// <summary>
/// Lays a part out on a sheet in first-angle arrangement (ISO 5456-2): front view, the view from the left to the right of it, the view from above
/// below it, the isometric view in the free corner over the title block. The largest recommended scale that fits is taken; A4 unless only A3 allows full size.
/// </summary>
public static class SheetLayout
{
    // ISO 5457: 20 mm at the left for filing, 10 mm elsewhere.
    private const double LeftMarginMm = 20;
    private const double MarginMm = 10;
    private const double GapMm = 7;
    private const double ViewNameMm = 6;
    private const double LeastPictorialMm = 44;
    private const double LeastTitleMm = 112;
    private const double EasyTitleMm = 150;
    private const double LeastNotesMm = 60;
    private const double MostNotesMm = 110;

    private static readonly (double Width, double Height)[] Papers = [(297, 210), (420, 297)];

    /// <summary>Lays the picture out, or says why it cannot.</summary>
    public static bool TryCompose(PartPicture picture, Lettering lettering, [NotNullWhen(true)] out Sheet? sheet, [NotNullWhen(false)] out Problem? problem)
    {
        sheet = null;
        problem = Refusal(picture);
        if (problem is not null)
            return false;

        var shown = Assignment.Of(picture, 1, lettering).SelectMany(group => group).ToHashSet(ReferenceEqualityComparer.Instance);
        var unseen = picture.Dimensions.Where(d => !shown.Contains(d)).Select(d => $"{d.Text}{(d.PlusMinus is null ? "" : " " + d.PlusMinus)}").ToList();
        var notes = unseen.Count == 0 ? picture.Notes : [.. picture.Notes, new Note($"Not seen truly in any of these views: {string.Join(", ", unseen)}")];

        Plan? chosen = null;
        foreach (var (width, height) in Papers)
        {
            var plan = DrawingScale.Recommended.Select(scale => Plan.At(scale, picture, notes, lettering, width, height)).FirstOrDefault(p => p is not null);
            if (plan is not null && (chosen is null || plan.Scale.Factor > chosen.Scale.Factor))
                chosen = plan;
            if (chosen is { Scale.Factor: >= 1 })
                break;
        }

        if (chosen is null)
        {
            problem = new(Place.None, "the part with its dimensions does not fit on a sheet at any recommended scale", "show fewer sizes");
            return false;
        }

        sheet = chosen.Draw(picture, notes, lettering);
        return true;
    }

    private static Problem? Refusal(PartPicture picture)
    {
        if (picture.Views.Count(v => v.Name == ViewName.Front) != 1 || picture.Views.DistinctBy(v => v.Name).Count() != picture.Views.Count)
            return new(Place.None, "a picture needs one front view, and no view twice", "draw each view once");
        if (picture.Views.Any(v => v.Drawn.Lines.Count == 0))
            return new(Place.None, $"the {picture.Views.First(v => v.Drawn.Lines.Count == 0).Name.ToString().ToLowerInvariant()} view has no lines", "check that the solid is not empty");
        return null;
    }

    /// <summary>One way to fill a sheet, found to fit.</summary>
    private sealed record Plan(DrawingScale Scale, double Width, double Height)
    {
        private ViewBlock Front { get; init; } = null!;

        private ViewBlock? Beside { get; init; }

        private ViewBlock? Below { get; init; }

        private NamedView? Pictorial { get; init; }

        /// <summary>Where the part's origin comes to lie in the front view.</summary>
        private PagePoint Origin { get; init; }

        private double BesideX { get; init; }

        private double BelowY { get; init; }

        private Box Corner { get; init; }

        private Box TitleBox { get; init; }

        private Box NotesBox { get; init; }

        public static Plan? At(DrawingScale scale, PartPicture picture, IReadOnlyList<Note> notes, Lettering lettering, double width, double height)
        {
            double top = MarginMm + (picture.Cautions.Count > 0 ? CautionStrip.HeightMm(picture.Cautions, width - LeftMarginMm - MarginMm, lettering) : 0);
            var space = new Box(LeftMarginMm + 2, top + 2, width - MarginMm - 2, height - MarginMm);
            if (picture.Views.Where(v => v.Name != ViewName.Isometric).Any(v => !Bare(v, scale.Factor, space)))
                return null;

            var assigned = Assignment.Of(picture, scale.Factor, lettering);
            ViewBlock? Block(params ViewName[] names) =>
                picture.Views.FirstOrDefault(v => names.Contains(v.Name)) is { } view ? ViewBlock.Of(view, scale.Factor, [.. assigned[view.Name]], picture.CentreLines, lettering) : null;
            var front = Block(ViewName.Front)!;
            var beside = Block(ViewName.Left, ViewName.Right);
            var below = Block(ViewName.Top);
            var pictorial = picture.Views.FirstOrDefault(v => v.Name == ViewName.Isometric);
            // In first angle the view from the left stands on the right, and the view from the right on the left.
            bool first = beside?.Name == ViewName.Right;

            double columnLeft = Math.Max(-front.Extent.MinX, -(below?.Extent.MinX ?? 0)), columnRight = Math.Max(front.Extent.MaxX, below?.Extent.MaxX ?? 0);
            double rowUp = Math.Max(front.Extent.MaxY, beside?.Extent.MaxY ?? 0), rowDown = Math.Max(-front.Extent.MinY, -(beside?.Extent.MinY ?? 0)) + ViewNameMm;
            double besideWidth = beside is null ? 0 : beside.Extent.Width + GapMm, belowHeight = below is null ? 0 : below.Extent.Height + ViewNameMm + GapMm;
            double freeX = space.Width - columnLeft - columnRight - besideWidth, freeY = space.Height - rowUp - rowDown - belowHeight;
            if (freeX < 0 || freeY < 0)
                return null;

            double x0 = space.MinX + (first ? besideWidth : 0) + columnLeft;
            double cornerLeft = x0 + columnRight + GapMm, cornerWidth = space.MaxX + 2 - cornerLeft, cornerHeight = space.Height - rowUp - rowDown;
            bool titleInCorner = cornerWidth >= LeastTitleMm;
            if (pictorial is not null && cornerWidth < LeastPictorialMm)
                return null;

            // What is left over is shared out: some before the views, some between them, the rest to the free corner.
            double slackX = Math.Min(freeX / 4, 30);
            if (titleInCorner)
                slackX = Math.Min(slackX, Math.Max(cornerWidth - EasyTitleMm, 0) / 2);
            if (pictorial is not null)
                slackX = Math.Min(slackX, (cornerWidth - LeastPictorialMm) / 2);
            double titleWidth = titleInCorner ? Math.Min(TitleBlockDrawing.WidthMm, cornerWidth - 2 * slackX) : TitleBlockDrawing.WidthMm;
            double band = TitleBlockDrawing.HeightMm + 2;
            double notesWidth = titleInCorner ? titleWidth - 2 : space.Width - TitleBlockDrawing.WidthMm - GapMm;
            // Notes stand beside the isometric view where there is room, otherwise over the title block, or beside it where that has its own band.
            bool notesBeside = false;
            if (titleInCorner && pictorial is not null)
            {
                double room = cornerWidth - 2 * slackX - 2 * GapMm - PictorialWidth(pictorial, cornerHeight - band - ViewNameMm);
                notesBeside = room >= LeastNotesMm;
                notesWidth = notesBeside ? Math.Min(room, MostNotesMm) : notesWidth;
            }

            if (notesWidth < LeastNotesMm)
                return null;
            double notesHeight = NoteLines.HeightMm(notes, notesWidth, lettering);
            if (!titleInCorner)
                band = Math.Max(band, notesHeight + 2);
            else if (!notesBeside)
                band += notesHeight;
            double cornerNeeds = Math.Max(pictorial is null ? 0 : LeastPictorialMm, notesBeside ? notesHeight : 0) + band;
            if (!titleInCorner)
                freeY -= band;
            if (freeY < 0 || cornerHeight < cornerNeeds)
                return null;

            double slackY = Math.Min(Math.Min(freeY, cornerHeight - cornerNeeds) / 4, 20);
            x0 += slackX;
            double y0 = space.MinY + rowUp + slackY;
            var title = new Box(space.MaxX + 2 - titleWidth, space.MaxY - TitleBlockDrawing.HeightMm, space.MaxX + 2, space.MaxY);
            double notesLeft = !titleInCorner ? space.MinX + 2 : notesBeside ? space.MaxX - notesWidth : title.MinX;
            double notesBottom = titleInCorner ? title.MinY - 1 : space.MaxY;
            double besideLeft = x0 + columnRight + GapMm, besideFree = first ? 0 : space.MaxX - besideLeft - (besideWidth - GapMm);
            return new(scale, width, height)
            {
                Front = front,
                Beside = beside,
                Below = below,
                Pictorial = pictorial,
                Origin = new(x0, y0),
                BesideX = beside is null ? 0 : (first ? space.MinX + slackX / 2 : besideLeft + Math.Min(besideFree / 2, slackX + 8)) - beside.Extent.MinX,
                BelowY = below is null ? 0 : y0 + rowDown + GapMm + Math.Max(freeY - slackY, 0) / 2 + below.Extent.MaxY,
                Corner = new(cornerLeft + 2 * slackX, y0 + rowDown, notesBeside ? notesLeft - GapMm : space.MaxX, space.MaxY - band),
                TitleBox = title,
                NotesBox = new(notesLeft, notesBottom - notesHeight, notesLeft + notesWidth, notesBottom),
            };
        }

        public Sheet Draw(PartPicture picture, IReadOnlyList<Note> notes, Lettering lettering)
        {
            var marks = new List<Mark>(SheetFrame.Of(Width, Height, LeftMarginMm, MarginMm, lettering));
            var views = new List<(ViewName, Box)>();
            Stand(Front, Origin, "Front view");
            if (Beside is { } beside)
                Stand(beside, new(BesideX, Origin.Y), beside.Name == ViewName.Left ? "View from the left" : "View from the right");
            if (Below is { } below)
                Stand(below, new(Origin.X, BelowY), "View from above");
            var wash = Pictorial is { } pictorial ? StandPictorial(pictorial) : null;
            if (picture.Cautions.Count > 0)
                marks.AddRange(CautionStrip.Of(picture.Cautions, new(LeftMarginMm, MarginMm, Width - MarginMm, MarginMm), lettering));
            marks.AddRange(NoteLines.Of(notes, NotesBox, lettering));
            marks.AddRange(TitleBlockDrawing.Of(picture.Title, Scale, TitleBox, lettering));
            return new(Width, Height, picture.Title.Part, Scale) { Marks = marks, Views = views, Wash = wash };

            void Stand(ViewBlock block, PagePoint origin, string name)
            {
                marks.AddRange(block.Marks.Select(mark => mark.Moved(origin, turnedOver: true)));
                var box = new Box(origin.X + block.Extent.MinX, origin.Y - block.Extent.MaxY, origin.X + block.Extent.MaxX, origin.Y - block.Extent.MinY);
                views.Add((block.Name, box));
                marks.Add(NameOf(name, origin.X + block.Outline.Middle.X, box.MaxY + ViewNameMm - 1));
            }

            Wash? StandPictorial(NamedView view)
            {
                var one = ViewBlock.Of(view, 1, [], [], lettering);
                double factor = Math.Min(Corner.Width / one.Outline.Width, (Corner.Height - ViewNameMm) / one.Outline.Height) * 0.98;
                var block = ViewBlock.Of(view, factor, [], [], lettering);
                var origin = new PagePoint(Corner.Middle.X - block.Outline.Middle.X, (Corner.MinY + Corner.MaxY - ViewNameMm) / 2 + block.Outline.Middle.Y);
                marks.AddRange(block.Marks.Select(mark => mark.Moved(origin, turnedOver: true)));
                var box = new Box(origin.X + block.Outline.MinX, origin.Y - block.Outline.MaxY, origin.X + block.Outline.MaxX, origin.Y - block.Outline.MinY);
                views.Add((ViewName.Isometric, box));
                const string name = "Isometric view, not to scale";
                double half = lettering.Width(name, 2.5) / 2;
                marks.Add(NameOf(name, Math.Min(box.Middle.X, Width - MarginMm - 1 - half), box.MaxY + ViewNameMm - 1));
                return picture.Mesh is { } mesh ? Shading.Of(mesh, view.Drawn, factor, origin, box) : null;
            }

            Words NameOf(string name, double x, double y) => new(name, new(x, y), 2.5, lettering.Width(name, 2.5), Anchor.Middle, false, Tone.Soft) { YUp = false };
        }

        private static double PictorialWidth(NamedView view, double heightMm)
        {
            var box = BareBox(view);
            return heightMm * box.Width / box.Height;
        }

        private static Box BareBox(NamedView view) => Box.Of(view.Drawn.Lines.SelectMany(l => l.Points.Chunk(2).Select(p => new PagePoint(p[0], p[1]))));

        /// <summary>Whether the bare lines fit at all; spares the search for places at scales that are far too large.</summary>
        private static bool Bare(NamedView view, double factor, Box space)
        {
            var box = BareBox(view);
            return box.Width * factor < space.Width - 30 && box.Height * factor < space.Height - 30;
        }
    }
}
