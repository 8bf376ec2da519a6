using System.Globalization;
using Sparewright.Handover.Picture;
using Sparewright.Part.Elements;
using Sparewright.Part.Record;
using Sparewright.Reconcile.Findings;
using Sparewright.Remake.Fits;

namespace Sparewright.Remake.Outputs;

/// <summary>Puts together what the picture shows: views, the main sizes with their ±, and notes on the sizes that somebody should look at.</summary>
internal static class PictureOf
{
    /// <param name="shape">As it is drawn.</param>
    /// <param name="fits">What of it is drawn otherwise than it was measured; null where nothing is.</param>
    public static PartPicture Part(Job job, Reconciled reconciled, PlacedShape shape, DrawnForFits? fits, MadeSolid made, TitleBlock title)
    {
        (IReadOnlyList<Note> notes, IReadOnlyDictionary<string, int> flags) = Remarks(reconciled, fits);
        return new(title, made.Views, MainSizes.Of(job, reconciled, shape, made.Solid, flags), MainSizes.CentreLines(shape, made.Solid), JobCautions.Of(job), notes, made.Mesh);
    }

    /// <summary>All that the picture shows beside the solid itself, in words: what it must be drawn anew for.</summary>
    public static string Words(Job job, Reconciled reconciled, DrawnForFits? fits) => string.Join('\n',
        [job.PartName, job.About ?? "", .. JobCautions.Of(job), .. reconciled.Sizes.Select(s => $"{s.Name} {s.Estimate:R} {s.StandardUncertainty:R} {s.Status}"), .. Remarks(reconciled, fits).Notes.Select(n => n.Text)]);

    private static (IReadOnlyList<Note> Notes, IReadOnlyDictionary<string, int> Flags) Remarks(Reconciled reconciled, DrawnForFits? fits)
    {
        var notes = new List<Note>
        {
            new(fits is null
                ? "Sizes in mm, ± for 95 of 100 cases. Drawn as measured: a bore will usually print tight."
                : "As drawn for the fits: what has no ± is drawn for what it meets and for the printer. Sizes in mm, ± for 95 of 100 cases."),
        };
        if (fits is { ByMm.Count: > 0 })
            notes.Add(new($"drawn otherwise than measured: {string.Join(", ", fits.ByMm.OrderBy(c => c.Key, StringComparer.Ordinal).Select(c => $"{c.Key} {c.Value.ToString("+0.00;−0.00", CultureInfo.InvariantCulture)}"))}"));
        var flags = new Dictionary<string, int>(StringComparer.Ordinal);
        int next = 1;
        foreach (Contradiction contradiction in reconciled.Contradictions)
        {
            notes.Add(new Note(contradiction.Words + (!contradiction.IsOpen ? "; drawn without it" : "; contradiction open"), next));
            foreach (string size in SizesOf(reconciled, contradiction.Ids)) flags.TryAdd(size, next);
            next++;
        }

        foreach (UndecidedSizes undecided in reconciled.Undecided)
        {
            string[] names = [.. undecided.Sizes.Where(s => !flags.ContainsKey(s))];
            if (names.Length == 0) continue;
            notes.Add(new Note($"not measured, drawn as supposed: {string.Join(", ", names)}", next));
            foreach (string size in names) flags.TryAdd(size, next);
            next++;
        }

        return (notes, flags);
    }

    /// <summary>The sizes that readings speak of most: for each reading the free size on which its value leans hardest, judged by how little else decides it.</summary>
    private static IEnumerable<string> SizesOf(Reconciled reconciled, IReadOnlyList<string> readings)
    {
        foreach (string id in readings)
        {
            ReconciledReading? reading = reconciled.Readings.FirstOrDefault(r => r.Reading.Id == id);
            if (reading?.Reading is not CaliperReading caliper) continue;
            if (ValueOf(caliper, reconciled) is not { } gradient) continue;
            int most = -1;
            for (int k = 0; k < gradient.Unknowns.Length; k++)
            {
                if (most < 0 || Math.Abs(gradient.Derivatives[k]) > Math.Abs(gradient.Derivatives[most]) + 1e-9) most = k;
            }

            if (most >= 0) yield return reconciled.Adjustment.Problem.Unknowns[gradient.Unknowns[most]].Name;
        }
    }

    private static Measure.Numbers.Gradient? ValueOf(CaliperReading reading, Reconciled reconciled) =>
        Sparewright.Reconcile.Readings.CaliperGeometry.Of(reading, reconciled.Shape).Mm?.Gradient;
}
