using System.Globalization;
using Sparewright.Measure.Quantities;
using Sparewright.Part.Record;

namespace Sparewright.Part.Grammar;

/// <summary>What trial prints showed: gauges tried, features measured, the part itself tried.</summary>
internal static class TrialForms
{
    private const string DayFormat = "yyyy-MM-dd";

    private static readonly Form<double> Length = new QuantityForm(QuantityKind.Length, "a length greater than 0", 0, leastExcluded: true);

    private static readonly Form<IReadOnlyList<double>> Gauges = new OneOrMoreForm<double>(Length, "the drawn size of a gauge, or a list of them");

    private static readonly Form<IReadOnlyList<double>> Reads = new OneOrMoreForm<double>(new QuantityForm(QuantityKind.Length, "a length greater than 0, as the display said it", 0, leastExcluded: true), "a length as the display said it, or a list of repeats");

    private static readonly Form<PrintedSurface> Surface = new WordForm<PrintedSurface>("a kind of surface", [.. PrintedSurfaces.All.Select(s => (s.Words(), s))]);

    private static readonly Form<string> Counterpart = new TextForm("a counterpart's name").Noting((name, place, findings) => { findings.Tried.Use(name, place); return true; });

    private static readonly Form<IReadOnlyList<string>> Counterparts = new OneOrMoreForm<string>(Counterpart, "a counterpart's name, or a list of them");

    private static readonly Form<DateOnly> Day = new PatternForm("[0-9]{4}-[0-9]{2}-[0-9]{2}", "a day", "write it as 2026-05-31: year, month, day")
        .Where(text => DateOnly.TryParseExact(text, DayFormat, CultureInfo.InvariantCulture, DateTimeStyles.None, out _) ? null : ($"there is no day {Show.Name(text)}", "write it as 2026-05-31: year, month, day"))
        .Select((text, _) => DateOnly.ParseExact(text, DayFormat, CultureInfo.InvariantCulture));

    private static readonly Form<GaugeTrial> Gauge = new MapForm<GaugeTrial>("a row of gauges", "Gauges of a ladder with which one counterpart was tried; each is named by the size at which it was drawn.", map =>
    {
        var counterpart = map.Required("for", Counterpart, "the counterpart that was tried");
        var surface = map.OptionalValue("surface", Surface, "the kind of surface as the gauges lay in the printer; as the part will lie unless said");
        var goes = map.OptionalOr("goes", Gauges, [], "the drawn sizes of the gauges in which it goes");
        var tight = map.OptionalOr("too_tight", Gauges, [], "the drawn sizes of those in which it does not");
        var loose = map.OptionalOr("too_loose", Gauges, [], "the drawn sizes of those in which it goes, but too loosely");
        map.AtLeastOne("goes", "too_tight", "too_loose");
        return entry =>
        {
            if (entry.Of(tight).FirstOrDefault(mm => entry.Of(goes).Contains(mm) || entry.Of(loose).Contains(mm)) is > 0 and var both)
                return entry.Refuse<GaugeTrial>("too_tight", string.Create(CultureInfo.InvariantCulture, $"the gauge of {both:0.###} mm is said to be too tight and to go"), "try it once more, and keep one answer");
            return entry.Of(goes).FirstOrDefault(entry.Of(loose).Contains) is > 0 and var twice
                ? entry.Refuse<GaugeTrial>("too_loose", string.Create(CultureInfo.InvariantCulture, $"the gauge of {twice:0.###} mm stands in two answers"), "keep one answer")
                : new GaugeTrial(entry.Of(counterpart), entry.Of(surface), entry.Of(goes), entry.Of(tight), entry.Of(loose), entry.Place);
        };
    });

    private static readonly Form<MeasuredFeature> Measured = new MapForm<MeasuredFeature>("a measured feature", "A feature of a trial print, and what it measures.", map =>
    {
        var surface = map.Required("surface", Surface, "the kind of surface, as it lay in the printer");
        var drawn = map.Required("drawn", Length, "the size at which it was drawn");
        var reads = map.Required("reads", Reads, "what it measures");
        var with = map.Optional("with", new TextForm("an instrument's name").Noting((name, place, findings) => { findings.Instruments.Use(name, place); return true; }), "the instrument that it was read with, where there are several");
        return entry => new MeasuredFeature(entry.Of(surface), entry.Of(drawn), entry.Of(reads), entry.Of(with), entry.Place);
    });

    private static readonly Form<PartTrial> Part = new MapForm<PartTrial>("a trial of the part", "The part itself, printed and tried.", map =>
    {
        var drawn = map.OptionalOr("drawn", new EntriesForm<double>(SizeForms.Used, Length, "size names with the lengths at which they were drawn"), [], "the sizes at which it was drawn, as far as fits changed them");
        var fits = map.OptionalOr("fits", Counterparts, [], "the counterparts that fit as wanted");
        var tight = map.OptionalOr("too_tight", Counterparts, [], "those that are too tight");
        var loose = map.OptionalOr("too_loose", Counterparts, [], "those that are too loose");
        var broke = map.Optional("broke", new TextForm(), "what broke, and how");
        map.AtLeastOne("fits", "too_tight", "too_loose", "broke");
        return entry =>
        {
            string[] all = [.. entry.Of(fits), .. entry.Of(tight), .. entry.Of(loose)];
            if (all.GroupBy(name => name, StringComparer.Ordinal).FirstOrDefault(g => g.Count() > 1) is not { } twice)
                return new PartTrial(entry.Of(drawn).ToDictionary(d => d.Name, d => d.Value, StringComparer.Ordinal), entry.Of(fits), entry.Of(tight), entry.Of(loose), entry.Of(broke), entry.Place);
            return entry.Refuse<PartTrial>(((string[])["too_loose", "too_tight", "fits"]).First(entry.Has), $"{Show.Name(twice.Key)} stands in two answers", "keep one of them");
        };
    });

    public static readonly Form<IReadOnlyList<Trial>> Trials = new ListForm<Trial>(new MapForm<Trial>("a trial",
        "A trial print and what it showed. The tool learns from those that were printed as the part is going to be: machine, material, nozzle and layer are those of `print` unless said.", map =>
    {
        var on = map.Required("on", Day, "the day of the print, as 2026-05-31");
        var machine = map.Optional("machine", new TextForm(), "the machine, where it is not that of `print`");
        var material = map.Optional("material", new TextForm(), "the material, where it is not that of `print`");
        var nozzle = map.OptionalValue("nozzle", Length, "the nozzle's diameter, where it is not that of `print`");
        var layer = map.OptionalValue("layer", Length, "the layer height, where it is not that of `print`");
        var note = map.Optional("note", new TextForm(), "whatever else is worth knowing in ten years");
        var gauges = map.OptionalOr("gauges", new ListForm<GaugeTrial>(Gauge, "a list of rows of gauges", 1), [], "what was tried in gauges");
        var measured = map.OptionalOr("measured", new ListForm<MeasuredFeature>(Measured, "a list of measured features", 1), [], "what was measured");
        var part = map.Optional("part", Part, "how the part itself did");
        map.AtLeastOne("gauges", "measured", "part");
        return entry => new Trial(entry.Of(on), entry.Of(machine), entry.Of(material), entry.Of(nozzle), entry.Of(layer), entry.Of(note), entry.Of(gauges), entry.Of(measured), entry.Of(part), entry.Place);
    }), "a list of trials");
}
