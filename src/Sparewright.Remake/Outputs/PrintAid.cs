using System.Text;
using Sparewright.Handover.Files;
using Sparewright.Handover.Picture;
using Sparewright.Handover.PrintFiles.ThreeMf;
using Sparewright.Part;
using Sparewright.Solid;

namespace Sparewright.Remake.Outputs;

/// <summary>Something that is printed on the way to the part, gauges or a coupon: a print file, and a picture that says what is what.</summary>
/// <param name="Name">What its files are called, before state and ending.</param>
/// <param name="ForPrinting">What the print file is for, in a few words.</param>
/// <param name="ForLooking">What the picture is for.</param>
internal sealed record PrintAid(string Name, PartLabel Label, Mesh Mesh, PartPicture Picture, string ForPrinting, string ForLooking)
{
    /// <summary>Writes all files or none.</summary>
    /// <param name="beside">Files that go with it.</param>
    /// <exception cref="OperationCanceledException">Stopped; nothing is left half-written.</exception>
    public Result<IReadOnlyList<MadeFile>> Write(string jobPath, IReadOnlyList<string> fonts, string outFolder, IReadOnlyList<(MadeFile File, string Text)> beside, CancellationToken cancel)
    {
        using var threeMf = new MemoryStream();
        if (ThreeMfWriter.Write(threeMf, Mesh, Label, PictureFile.Thumbnail(Mesh, Picture.Views.First(v => v.Name == ViewName.Isometric).Drawn)) is { } unsound) return Failure.Of(jobPath, [unsound]);
        if (!Lettering.TryLoad(fonts, out Lettering? lettering, out Problem? noFont)) return new Failure(false, [$"{noFont.What}; {noFont.Remedy}"]);
        using Lettering letters = lettering;
        if (!SheetLayout.TryCompose(Picture, letters, out Sheet? sheet, out Problem? cannot)) return Failure.Of(jobPath, [cannot]);

        Result<OutputFolder> opened = OutputFolder.Open(outFolder);
        if (opened.Value is null) return opened.Failure!;
        using OutputFolder folder = opened.Value;
        string Named(string ending) => FileNames.For(Name, Label.State, ending);
        MadeFile[] files = [new(Named(".3mf"), ForPrinting, false), new(Named(".png"), ForLooking, false), new(Named(".svg"), "the same picture to enlarge, print and search", false)];
        folder.Put(files[0].Name, threeMf.ToArray(), cancel);
        folder.Put(files[1].Name, PictureFile.Png(sheet, letters), cancel);
        folder.Put(files[2].Name, Encoding.UTF8.GetBytes(PictureFile.Svg(sheet, letters)), cancel);
        foreach (var (file, text) in beside)
            if (!file.UpToDate) folder.Put(file.Name, Encoding.UTF8.GetBytes(text), cancel);
        cancel.ThrowIfCancellationRequested();
        folder.Keep();
        return new([.. files, .. beside.Select(b => b.File)], null);
    }
}
