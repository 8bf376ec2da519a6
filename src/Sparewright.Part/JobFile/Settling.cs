using Sparewright.Part.Sizes;

namespace Sparewright.Part;

/// <summary>
/// A size's nominal settled in the text of a job, ruled out, or open again. Whatever else is said of the size stays where it stands: it holds again when the nominal is taken back.
/// </summary>
public static class Settling
{
    private const string Nominal = "nominal", NotNominal = "not_nominal";

    /// <summary>Binds a size.</summary>
    /// <param name="meant">As the job writes it: <c>12</c>, <c>15/32 in</c>, or the name of another size.</param>
    public static JobEdit Settle(string text, string size, string meant) => Changed(text, size, () =>
    {
        JobEdit edit = JobText.WithValue(text, ["sizes", size, Nominal], meant);
        Meant? now = edit.Text is { } bound ? Read(bound, size)?.Nominal : null;
        return now is not null && edit.Text is not null ? WithoutRuledOut(edit.Text, size, now) : edit;
    });

    /// <summary>Remembers that this was not meant. If the size was settled at it, it is open again.</summary>
    public static JobEdit RuleOut(string text, string size, string meant) => Changed(text, size, () =>
    {
        bool isList = Written.Read(text, out _)?.At("sizes", size, NotNominal) is Written.List;
        JobEdit edit = isList
            ? JobText.WithValue(text, ["sizes", size, NotNominal, JobText.NewEntry], meant)
            : JobText.WithValue(text, ["sizes", size, NotNominal], new JobValue.List([meant]));
        if (edit.Text is not { } changed || Read(changed, size) is not { } now) return edit;
        if (now.NotMeant.SkipLast(1).Contains(now.NotMeant[^1])) return new JobEdit(text, null);
        return now.Nominal == now.NotMeant[^1] ? JobText.Without(changed, ["sizes", size, Nominal]) : edit;
    });

    /// <summary>Takes back what was settled of a size, and what was ruled out.</summary>
    public static JobEdit Reopen(string text, string size) => Changed(text, size, () =>
    {
        var edit = new JobEdit(text, null);
        foreach (string key in (string[])[Nominal, NotNominal])
            if (edit.Text is { } changed && Written.Read(changed, out _)?.At("sizes", size, key) is not null) edit = JobText.Without(changed, ["sizes", size, key]);
        return edit;
    });

    private static JobEdit WithoutRuledOut(string text, string size, Meant meant)
    {
        IReadOnlyList<Meant> not = Read(text, size)!.NotMeant;
        int at = not.Index().Where(n => n.Item == meant).Select(n => n.Index).DefaultIfEmpty(-1).First();
        return at < 0 ? new JobEdit(text, null)
            : JobText.Without(text, not.Count == 1 ? ["sizes", size, NotNominal] : ["sizes", size, NotNominal, at.ToString(System.Globalization.CultureInfo.InvariantCulture)]);
    }

    private static Size? Read(string text, string size) => JobFile.Read(text).Job?.Sizes.All.FirstOrDefault(s => s.Name == size);

    /// <summary>A change of a sound job to a sound one.</summary>
    private static JobEdit Changed(string text, string size, Func<JobEdit> change)
    {
        JobReading before = JobFile.Read(text);
        if (before.Job is not { } job) return new JobEdit(null, before.Problems[0]);
        if (job.Sizes.All.FirstOrDefault(s => s.Name == size) is not { } found)
        {
            string known = Measure.Quantities.Spelling.Nearest(size, job.Sizes.All.Select(s => s.Name)) is { } nearest ? $"did you mean `{nearest}`?" : "look at the job's sizes";
            return new JobEdit(null, new Problem(Place.None, $"there is no size {Show.Name(size)}", known));
        }

        if (found is { Nominal: null, Given: Given.Fixed or Given.EqualTo })
            return new JobEdit(null, new Problem(found.Place, $"`{size}` is {(found.Given is Given.Fixed ? "fixed by the job" : "derived from other sizes")} already: there is nothing to settle", "change what is said of it in the job"));
        JobEdit edit = change();
        return edit.Text is { } after && JobFile.Read(after) is { Job: null } unsound ? new JobEdit(null, unsound.Problems[0]) : edit;
    }
}
