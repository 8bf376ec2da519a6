using Sparewright.Measure;
using Sparewright.Measure.Quantities;
using Sparewright.Part.Record;
using Sparewright.Part.Shape;
using Sparewright.Part.Sizes;

namespace Sparewright.Part.Grammar;

/// <summary>The whole job file.</summary>
internal static class JobGrammar
{
    /// <summary>The version of the job file that this program reads and writes.</summary>
    public const int Version = 1;

    public static readonly Form<JobParts> Job = new MapForm<JobParts>("a job", "The whole record of remaking one part.", map =>
    {
        map.Required("sparewright", new CountForm("the version of the job file", Version, Version), "the version of the job file, first of all");
        var part = map.Required("part", new TextForm("a name"), "what the part is called");
        var about = map.Optional("about", new TextForm(), "what it does, and for whom");
        var madeBy = map.OptionalOr("made_by", RecordForms.MadeBy, MadeBy.Unknown, "how the old part was made; `unknown` unless said");
        var madeOf = map.Optional("made_of", new TextForm(), "what the old part was made of, as far as that is known");
        var broke = map.Optional("broke", new TextForm(), "what broke, and how");
        var brokeAt = map.OptionalOr("broke_at", PlaceForms.OneOrMoreElements, [], "the elements at which it broke");
        var lives = map.Optional("lives", RecordForms.Lives, "where the part lives");
        var injure = map.Required("could_injure", RecordForms.CouldInjure, "whether its failure could injure someone; must be answered");
        var instruments = map.OptionalOr("instruments", RecordForms.Instruments, [], "what was measured with");
        var sizes = map.OptionalOr("sizes", SizeForms.Sizes, [], "the sizes that the readings must decide");
        var shape = map.Required("shape", FeatureForms.Shape, "the features, in the order in which they are built");
        var drafts = map.OptionalOr("draft", ReadingForms.Drafts, [], "which faces lean so that the part could leave its mould, and by how much: readings of them say at which height they were taken");
        var readings = map.OptionalOr("readings", ReadingForms.Readings, [], "what was measured: which way, across what, what the display said");
        var fitWords = map.OptionalOr("fit_words", CounterpartForms.FitWords, [], "words of your own for a fit, each with the least and the greatest clearance that it means; used by `fit` of a counterpart");
        var counterparts = map.OptionalOr("counterparts", CounterpartForms.Counterparts, [], "what the part fits on or into, measured or by standard");
        var odds = map.OptionalValue("wanted_odds", new QuantityForm(QuantityKind.Number, "odds between 0 and 1", 0, 1), "the odds that everything fits, below which the job needs attention");
        var loads = map.OptionalOr("loads", LoadForms.Loads, [], "what the part has to bear");
        var print = map.Optional("print", RecordForms.Print, "how it is going to be printed");
        var bars = map.OptionalOr("test_bars", LoadForms.TestBars, [], "bars of your own, printed and pulled until they broke: they replace the table's strengths");
        var trials = map.OptionalOr("trials", TrialForms.Trials, [], "what trial prints showed: gauges tried, features measured, the part itself tried");
        var spares = map.Optional("spares", RecordForms.Spares, "what the number of spares follows from");
        return entry => new JobParts(entry.Of(part), entry.Of(about), entry.Of(madeBy), entry.Of(madeOf), entry.Of(broke), entry.Of(brokeAt), entry.Of(lives), entry.Of(injure), entry.Of(instruments),
            entry.Of(sizes), entry.Of(shape), entry.Of(drafts), entry.Of(readings), entry.Of(fitWords), entry.Of(counterparts), entry.Of(odds), entry.Of(loads), entry.Of(print), entry.Of(bars), entry.Of(trials), entry.Of(spares));
    });
}

/// <summary>A job as it stands in its file, before names and quantities have been checked across it.</summary>
internal sealed record JobParts(string PartName, string? About, MadeBy MadeBy, string? MadeOf, string? Broke, IReadOnlyList<ElementName> BrokeAt, Surroundings? Lives, Injury CouldInjure, IReadOnlyList<Instrument> Instruments,
    IReadOnlyList<Size> Sizes, IReadOnlyList<Feature> Shape, IReadOnlyList<Draft> Drafts, IReadOnlyList<Reading> Readings, IReadOnlyList<(string Name, Place Place, WantedClearance Clearance)> FitWords, IReadOnlyList<Counterpart> Counterparts, double? WantedOdds, IReadOnlyList<Load> Loads,
    PrintPlan? Print, IReadOnlyList<TestBars> TestBars, IReadOnlyList<Trial> Trials, SparesPlan? Spares);
