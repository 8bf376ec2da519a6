using System.CommandLine;
using Sparewright.Measure.Quantities;
using Sparewright.Part;
using Sparewright.Part.Record;

namespace Sparewright.Cli.Verbs.Trials;

/// <summary><c>trial measured JOB --surface KIND --drawn MM --reads MM,…</c>: a printed feature was measured.</summary>
internal static class MeasuredTrial
{
    private static string Kinds => string.Join(", ", PrintedSurfaces.All.Select(s => s.Words()));

    public static Command Grammar(Surroundings around)
    {
        var surface = TrialPrint.Text("--surface", $"what kind of surface it is, as it lay in the printer: {Kinds}", "KIND");
        var drawn = TrialPrint.Text("--drawn", "how it was drawn", "MM");
        var reads = TrialPrint.Several("--reads", "what the instrument showed, repeats and all", "MM,…");
        var with = TrialPrint.Text("--with", "the instrument, where the job has several", "NAME");
        foreach (Option needed in (ReadOnlySpan<Option>)[surface, drawn, reads]) needed.Required = true;
        return new TrialPrint(around).Grammar("measured", "A printed feature was measured: by how much this printer makes such surfaces larger or smaller.", [surface, drawn, reads, with], "measured", p => Wrong(p) is { } amiss ? amiss : Said(p));

        Amiss? Wrong(ParseResult p) => Unknown(p.GetValue(surface)!) ?? TrialPrint.Lengths([.. TrialPrint.Given(p, drawn), .. TrialPrint.Given(p, reads)]);

        JobValue Said(ParseResult p) => new JobValue.List([new JobValue.Group(
            [
                ("surface", p.GetValue(surface)!), ("drawn", p.GetValue(drawn)!), .. TrialPrint.Listed("reads", TrialPrint.List(p, reads)), .. p.GetValue(with) is { } name ? [("with", name)] : ((string, JobValue)[])[],
            ])]);
    }

    private static Amiss? Unknown(string kind) => PrintedSurfaces.All.Any(s => s.Words() == kind) ? null
        : new($"there is no kind of surface {kind}", Spelling.Nearest(kind, PrintedSurfaces.All.Select(s => s.Words())) is { } nearest ? $"did you mean {nearest}?" : $"the kinds are {Kinds}");
}
