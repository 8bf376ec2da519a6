using Sparewright.Measure.Quantities;
using Sparewright.Reconcile.Explain;
using Sparewright.Reconcile.Findings;

namespace Sparewright.Web.Readings;

/// <summary>What became of a reading, in words: never by colour alone.</summary>
internal static class RowVerdict
{
    private const double WorthSaying = 0.05;

    public static (RowTone Tone, string Words) Of(ReconciledReading? found, Reconciled? reconciled)
    {
        if (found is null) return (RowTone.Quiet, reconciled is null ? "not reconciled" : "");
        if (found.RepeatsApart && found.Verdict is ReadingVerdict.Agrees or ReadingVerdict.Compared) return (RowTone.Look, "✗ repeats differ");
        return found.Verdict switch
        {
            ReadingVerdict.SetAside => (RowTone.Look, "✗ contradicts"),
            ReadingVerdict.Suspect => (RowTone.Look, "? may be wrong"),
            ReadingVerdict.ComparedAndDiffers => (RowTone.Look, "✗ differs"),
            ReadingVerdict.Compared => (RowTone.Quiet, found.Adjusted is null ? "○ noted" : "○ fits"),
            _ => found.IsUnchecked ? (RowTone.Quiet, "– unchecked") : (RowTone.Good, "✓ agrees"),
        };
    }

    /// <summary>What it should have shown and why, and what to do about it; empty when it agrees.</summary>
    public static string Explain(ReconciledReading? found, Reconciled? reconciled, LengthUnit unit)
    {
        if (found is null || reconciled is null) return "";
        if (found.WhyNotUsed is { } whyNot) return $"It has no say: {whyNot}.";
        string contradicting = Contradicting(found, reconciled, unit);
        if (!found.RepeatsApart) return contradicting;
        return $"Its repeats lie too far apart to be of one length: one of them was misread, or belongs to another reading. Correct it (F2). {contradicting}".TrimEnd();
    }

    private static string Contradicting(ReconciledReading found, Reconciled reconciled, LengthUnit unit)
    {
        if (found.Verdict == ReadingVerdict.ComparedAndDiffers)
            return found.Adjusted is { } drawn ? $"The part as reconciled has {Told(drawn, found.Unit, unit)} here. Measure it again." : "The part as reconciled does not agree. Measure it again.";
        if (found.Verdict is not (ReadingVerdict.SetAside or ReadingVerdict.Suspect)) return "";
        Contradiction? contradiction = reconciled.Contradictions.FirstOrDefault(c => c.Ids.Contains(found.Reading.Id));
        if (contradiction is null) return "";

        string[] others = [.. contradiction.Ids.Where(id => id != found.Reading.Id)];
        bool leads = contradiction.Ids[0] == found.Reading.Id;
        string says = others.Length > 0
            ? $"One of {string.Join(", ", contradiction.Ids)} is wrong, and the readings cannot tell which."
            : $"It says {Told(contradiction.ObservedMm, contradiction.Unit, unit)}; all others together say {Told(contradiction.ShouldReadMm, contradiction.Unit, unit)}.";
        if (contradiction.HowManyWrong > 1) says = $"{contradiction.HowManyWrong} of {string.Join(", ", contradiction.Ids)} are wrong, and the readings cannot tell which.";
        string aside = contradiction.SetAside && leads ? " The sizes are reckoned without it." : "";
        return $"{says}{aside}{Likely(found.Explanations, contradiction.Unit, unit)} Measure it again{(others.Length > 0 ? ", and the others" : "")}; a value that was misread can be corrected (F2).";
    }

    private static string Likely(IReadOnlyList<Explanation> explanations, Unit of, LengthUnit unit)
    {
        string[] told = [.. explanations.Where(e => !e.IsNoneOfThese && e.Odds >= WorthSaying)
            .Select(e => $"{e.Why}{(e.ShouldHaveReadMm is { } mm ? $", {Told(mm, of, unit)} meant" : "")} ({OddsInWords.Percent(e.Odds)})")];
        return told.Length == 0 ? "" : $" Perhaps {string.Join("; or ", told)}.";
    }

    /// <summary>A length in the window's unit, anything else in its own.</summary>
    private static string Told(double value, Unit of, LengthUnit lengths) => of.Kind == QuantityKind.Length ? LengthsShown.WithUnit(value, lengths) : Shown.InUnit(value, of);
}
