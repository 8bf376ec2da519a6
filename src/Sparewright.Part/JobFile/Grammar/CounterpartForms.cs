using Sparewright.Measure.Quantities;
using Sparewright.Part.Record;
using Sparewright.Part.Shape;
using Sparewright.Part.Sizes;
using static Sparewright.Part.Grammar.PlaceForms;

namespace Sparewright.Part.Grammar;

/// <summary>What the part fits on or into: how big that is, where it goes, and how.</summary>
internal static class CounterpartForms
{
    /// <summary>What can be said of one kind.</summary>
    /// <param name="Is">With its article, for the reference.</param>
    /// <param name="Sizes">The keys that may say how big it is, the usual ones first.</param>
    /// <param name="Meetings">The keys that may say where it goes.</param>
    private sealed record KindOfIt(CounterpartKind Kind, string Is, string[] Sizes, string[] Meetings)
    {
        public string Word => Kind.Name();
    }

    private static readonly string[] Enters = ["goes_into", "goes_through", "through"], Both = [.. Enters, "goes_over"], Over = ["goes_over"], Meets = ["meet"];

    private static readonly KindOfIt[] Kinds =
    [
        new(CounterpartKind.Rod, "a round rod", ["reads", "diameter"], Enters),
        new(CounterpartKind.Shaft, "a shaft", ["reads", "diameter"], Enters),
        new(CounterpartKind.Pin, "a pin", ["reads", "diameter"], Enters),
        new(CounterpartKind.Tube, "a stiff tube; its size is the outer one where it enters the part, the inner one where it goes over it", ["reads", "diameter"], Both),
        new(CounterpartKind.Hose, "a hose, a cable or a wire; its size is the outer one where it enters the part, the inner one where it goes over it", ["reads", "diameter"], Both),
        new(CounterpartKind.Hole, "a hole that the part goes into", ["reads", "diameter"], Over),
        new(CounterpartKind.Screw, "a screw for metal or plastic", ["reads", "thread", "diameter"], Enters),
        new(CounterpartKind.WoodScrew, "a wood screw", ["reads", "gauge", "diameter"], Enters),
        new(CounterpartKind.Nut, "a hexagon nut; its size is the one across the flats", ["reads", "thread", "width"], Enters),
        new(CounterpartKind.Insert, "a heat-set insert", ["reads", "thread", "diameter"], Enters),
        new(CounterpartKind.Bearing, "a rolling bearing; its size is the outer one where it enters the part, the bore where it goes over it", ["reads", "designation", "diameter"], Both),
        new(CounterpartKind.Plate, "a flat plate in a slot", ["reads", "thickness"], Enters),
        new(CounterpartKind.Groove, "a straight groove or slot that a ridge, a tongue or the whole part slides in", ["reads", "width"], Over),
        new(CounterpartKind.SnapArm, "a snap arm; its size is the width that goes in, of one with a `hook` the one over arm or arms in the direction in which they bend, behind the hooks", ["reads", "width"], Enters),
        new(CounterpartKind.Holes, "a pattern of holes", ["reads", "diameter"], Meets),
    ];

    private static readonly (string Key, Meeting How, string Where)[] Meetings =
    [
        ("goes_into", Meeting.GoesInto, "the feature or element that it goes into"), ("goes_through", Meeting.GoesThrough, "the feature or element that it goes through"),
        ("goes_over", Meeting.GoesOver, "the feature or element that it goes over"), ("through", Meeting.GoesThrough, "the feature that it is put through; the same as `goes_through`"),
        ("meet", Meeting.Meets, "of holes: the features that they must line up with"),
    ];

    private static readonly string[] NominalKeys = ["diameter", "thickness", "width"];

    /// <summary>The words for a fit that the reference gives a meaning.</summary>
    public static readonly IReadOnlyList<(string Word, FitWord Fit)> Words = [("slides", FitWord.Slides), ("turns", FitWord.Turns), ("snug", FitWord.Snug), ("press", FitWord.Press)];

    private const string Word = "[a-z]+(?:[ -][a-z]+)*";

    private static readonly Form<WantedClearance> Clearance = new ListForm<double>(new QuantityForm(QuantityKind.Length, "a length"), "the least and the greatest clearance [0.1, 0.3]", 2, 2)
        .Where(c => c[0] < c[1] ? null : ("the least clearance is not smaller than the greatest", "write the smaller one first, and leave room between them"))
        .Select((c, _) => new WantedClearance(c[0], c[1]));

    public static readonly Form<IReadOnlyList<(string Name, Place Place, WantedClearance Clearance)>> FitWords = new EntriesForm<WantedClearance>(
        new PatternForm(Word, "a word for a fit", "write it in small letters, as `glides` or `just goes`").Noting((word, place, findings) =>
        {
            if (Words.All(w => w.Word != word)) return findings.FitWords.Introduce(word, place, 0, findings);
            findings.Add(place, $"{Show.Name(word)} means something already", "choose another word, or write `clearance` on the counterpart");
            return false;
        }), Clearance, "words with the least and the greatest clearance of each: {glides: [0.1, 0.3]}");

    private static readonly Form<IReadOnlyList<double>> Reads = new OneOrMoreForm<double>(new QuantityForm(QuantityKind.Length, "a length greater than 0, as the display said it", 0, leastExcluded: true), "a length as the display said it, or a list of repeats");

    private static readonly Form<double> Millimetres = new QuantityForm(QuantityKind.Length, "a length greater than 0", 0, leastExcluded: true);

    private static readonly Form<double> PlusMinus = new QuantityForm(QuantityKind.Length, "a length greater than 0", 0, leastExcluded: true);

    public static readonly Form<IReadOnlyList<Counterpart>> Counterparts = new ListForm<Counterpart>(new MapForm<Counterpart>("a counterpart",
        "What the part fits on or into: measured, or by standard. It says how big it is, where it goes, which size of the part it may change, and how the pair goes together.", map =>
    {
        Form<string> newName = new TextForm("a name").Noting((text, place, findings) => findings.Counterparts.Introduce(text, place, 0, findings));
        Key<string?>[] kinds = [.. Kinds.Select(k => map.Optional(k.Word, newName, $"its name, where it is {k.Is}"))];
        var reads = map.OptionalOr("reads", Reads, [], "its own size, as read");
        var diameter = map.Optional("diameter", SizeForms.Length, "its own diameter by standard, or as told");
        var thickness = map.Optional("thickness", SizeForms.Length, "of a plate: its own thickness by standard, or as told");
        var width = map.Optional("width", SizeForms.Length, "of a nut, a groove or a snap arm: its own width by standard, or as told");
        var thread = map.Optional("thread", new PatternForm(@"(?:M|ST)[0-9]{1,2}(?:\.[0-9])?", "a thread", "write it as M4, or ST3.5 for a self-tapping screw"), "of a screw, nut or insert: its thread, as M4 (ISO 261) or ST3.5 (self-tapping, ISO 1478)");
        var gauge = map.OptionalValue("gauge", new CountForm("a screw gauge", 0, 30), "of a wood screw: its number in the inch series");
        var designation = map.Optional("designation", new PatternForm("[0-9]{2,5}(?:-?[0-9]?[A-Z]{1,3})?", "a bearing's number", "write the number on it, as 608", orNumber: true), "of a bearing: the number on it, as 608");
        var tolerance = map.Optional("tolerance", new PatternForm("[A-Za-z]{1,2}[0-9]{1,2}", "an ISO 286 class", "write the class as h11 or H7"), "the ISO 286 class of a nominal size");
        var plusMinus = map.OptionalValue("plus_minus", PlusMinus, "the ± of a nominal size, which holds in 95 of 100 cases");
        var pitchReads = map.OptionalOr("pitch_reads", Reads, [], "of holes: how far their centres are apart, as read (of a ring: the diameter of the circle through the centres)");
        var webReads = map.OptionalOr("web_reads", Reads, [], "of two holes: outside jaws over the web between them");
        var spanReads = map.OptionalOr("span_reads", Reads, [], "of two holes: inside jaws over their far walls");
        var pitch = map.Optional("pitch", SizeForms.Length, "of holes: how far their centres are apart by standard, or as told");
        var pitchPlusMinus = map.OptionalValue("pitch_plus_minus", PlusMinus, "the ± of `pitch`, which holds in 95 of 100 cases");
        var with = map.Optional("with", new TextForm("an instrument's name").Noting((name, place, findings) => { findings.Instruments.Use(name, place); return true; }), "the instrument that it was read with, where there are several");
        Key<ElementName?>[] where = [.. Meetings.Select(m => map.Optional(m.Key, Element, m.Where))];
        var changes = map.Optional("changes", new PatternForm("[a-z][a-z0-9_]*", "a size name", "write the name of a size").Noting((size, place, findings) => { findings.Sizes.Use(size, place); return true; }),
            "the size that the fit decides, instead of the worn old one");
        var fit = map.Optional("fit", new PatternForm(Word, "a fit", $"write {Show.List(Words.Select(w => $"`{w.Word}`"))}, or a word of `fit_words`").Noting((word, place, findings) => { findings.FitWords.Use(word, place); return true; }),
            $"how the pair goes together: {Show.List(Words.Select(w => $"`{w.Word}`"))}, or a word of `fit_words`");
        var clearance = map.Optional("clearance", Clearance, "the same in your own numbers: the clearance that the finished pair may have; negative is interference");
        var hook = map.OptionalValue("hook", Millimetres, "of a snap arm: how far its hook stands out of the arm; the fit is then that it passes and catches");
        var arms = map.OptionalValue("arms", new CountForm("a number of arms", 1, 2), "of a snap arm with a hook: 2 where two of them pass at once, on opposite sides");
        var armLength = map.OptionalValue("arm_length", Millimetres, "of a snap arm with a hook: from its root to the hook");
        var armThickness = map.OptionalValue("arm_thickness", Millimetres, "of a snap arm with a hook: how thick it is at its root, in the direction that it bends");
        var armStrain = map.OptionalValue("arm_strain", new QuantityForm(QuantityKind.Number, "a share of its length, as 0.02", 0, 0.2, leastExcluded: true), "of a snap arm with a hook: how far its material may be stretched, as a share; 0.02 where it is not said");
        map.ExactlyOne([.. Kinds.Select(k => k.Word)]);
        map.ExactlyOne([.. Meetings.Select(m => m.Key)]);
        map.AtMostOne("reads", "diameter", "thickness", "width", "thread", "gauge", "designation");
        map.AtMostOne("tolerance", "plus_minus");
        map.AtMostOne("fit", "clearance");
        return entry =>
        {
            int number = Array.FindIndex(kinds, k => entry.Of(k) is not null), how = Array.FindIndex(where, w => entry.Of(w) is not null);
            KindOfIt kind = Kinds[number];
            string name = entry.Of(kinds[number])!;
            SizeExpression? nominal = entry.Of(diameter) ?? entry.Of(thickness) ?? entry.Of(width);
            if (Unfitting(kind, name, entry, Meetings[how].Key, nominal is not null) is var (key, what, remedy)) return entry.Refuse<Counterpart>(key, what, remedy);

            OwnSize? size = entry.Of(reads) is { Count: > 0 } own ? new OwnSize.Measured(own, entry.ValuePlaceOf("reads"))
                : nominal is not null ? new OwnSize.Told(nominal, entry.Of(tolerance), entry.Of(plusMinus), entry.Has("tolerance") ? entry.ValuePlaceOf("tolerance") : entry.ValuePlaceOf(NominalKeys.First(entry.Has)))
                : entry.Of(thread) is { } m ? new OwnSize.OfThread(m, entry.ValuePlaceOf("thread"))
                : entry.Of(gauge) is { } g ? new OwnSize.OfGauge(g, entry.ValuePlaceOf("gauge"))
                : entry.Of(designation) is { } d ? new OwnSize.OfBearing(d, entry.ValuePlaceOf("designation")) : null;
            OwnPitch? apart = entry.Of(pitchReads) is { Count: > 0 } centres ? new OwnPitch.Measured(centres, entry.ValuePlaceOf("pitch_reads"))
                : entry.Of(pitch) is { } told ? new OwnPitch.Told(told, entry.Of(pitchPlusMinus), entry.ValuePlaceOf("pitch"))
                : kind.Kind == CounterpartKind.Holes ? new OwnPitch.BetweenWalls(entry.Of(webReads), entry.Of(spanReads), entry.ValuePlaceOf(entry.Has("web_reads") ? "web_reads" : "span_reads")) : null;
            string? word = entry.Of(fit);
            FitWord? known = Words.Where(w => w.Word == word).Select(w => (FitWord?)w.Fit).FirstOrDefault();
            return new Counterpart(name, kind.Kind, size, apart, Meetings[how].How, entry.Of(where[how])!, entry.Of(changes), known, entry.Of(clearance), entry.Of(with), entry.Place)
            {
                ChangesPlace = entry.ValuePlaceOf("changes"),
                OwnWord = known is null ? word : null,
                Hook = entry.Of(hook) is { } standsOut ? new(standsOut, entry.Of(arms) ?? 1, entry.Of(armLength), entry.Of(armThickness), entry.Of(armStrain)) : null,
            };
        };
    }), "a list of counterparts");

    private static readonly string[] SizeKeys = ["reads", .. NominalKeys, "thread", "gauge", "designation"], PitchKeys = ["pitch_reads", "pitch", "web_reads", "span_reads"], HookKeys = ["hook", "arms", "arm_length", "arm_thickness", "arm_strain"];

    /// <summary>Which key does not go with the others, what is wrong with it, and what to do.</summary>
    private static (string Key, string What, string Remedy)? Unfitting(KindOfIt kind, string name, Entry entry, string meeting, bool hasNominal)
    {
        string word = kind.Word;
        string sizes = Show.List(kind.Sizes.Select(s => $"`{s}`"));
        if (SizeKeys.FirstOrDefault(k => entry.Has(k) && !kind.Sizes.Contains(k)) is { } wrongSize)
            return (wrongSize, $"`{word}` has no `{wrongSize}`", $"say its size with {sizes}");
        if (!kind.Meetings.Contains(meeting))
            return (meeting, $"`{word}` and `{meeting}` do not go together", $"write {Show.List(kind.Meetings.Select(m => $"`{m}`"))}{(meeting == "meet" ? ", or make it `holes`" : "")}");
        foreach (string key in (string[])["tolerance", "plus_minus"])
            if (entry.Has(key) && !hasNominal)
                return (key, $"`{key}` belongs to a nominal size, and there is none", $"write {Show.List(kind.Sizes.Where(NominalKeys.Contains).Select(s => $"`{s}`"))} with it, or remove `{key}`");

        if (kind.Kind != CounterpartKind.SnapArm && HookKeys.FirstOrDefault(entry.Has) is { } ofHook)
            return (ofHook, $"`{word}` has no `{ofHook}`", "make it a `snap arm`, or remove it");
        if (HookKeys.FirstOrDefault(entry.Has) is { } without && !entry.Has("hook"))
            return (without, $"`{without}` belongs to a hook, and there is none", "add `hook`, how far it stands out, or remove it");
        if (entry.Has("arm_length") != entry.Has("arm_thickness"))
            return (entry.Has("arm_length") ? "arm_length" : "arm_thickness", "how far an arm can bend takes both its length and its thickness", $"add `{(entry.Has("arm_length") ? "arm_thickness" : "arm_length")}`");

        if (kind.Kind != CounterpartKind.Holes)
        {
            if (PitchKeys.Append("pitch_plus_minus").FirstOrDefault(entry.Has) is { } pitchKey)
                return (pitchKey, $"`{word}` has no pitch", $"say its size with {sizes}, or make it `holes`");
            return SizeKeys.Any(entry.Has) ? null : (word, $"`{word}` {Show.Name(name)} does not say how big it is", $"add {sizes}");
        }

        if (!PitchKeys.Any(entry.Has))
            return (word, $"`{word}` {Show.Name(name)} does not say how far the holes are apart", "add `pitch_reads`, `web_reads` and `span_reads`, or `pitch`");
        bool walls = entry.Has("web_reads") || entry.Has("span_reads");
        if ((entry.Has("pitch_reads") ? 1 : 0) + (entry.Has("pitch") ? 1 : 0) + (walls ? 1 : 0) > 1)
            return (PitchKeys.Where(entry.Has).MaxBy(k => (entry.PlaceOf(k).Line, entry.PlaceOf(k).Column))!, "the pitch is said in two ways", "keep the one that you trust: `pitch_reads`, `pitch`, or `web_reads` and `span_reads`");
        if (walls && entry.Has("web_reads") != entry.Has("span_reads") && !SizeKeys.Any(entry.Has))
            return (entry.Has("web_reads") ? "web_reads" : "span_reads", "from one wall to the other it takes the holes' own diameter to know their centres", $"add `{(entry.Has("web_reads") ? "span_reads" : "web_reads")}`, or the diameter with {sizes}");
        if (entry.Has("pitch_plus_minus") && !entry.Has("pitch"))
            return ("pitch_plus_minus", "`pitch_plus_minus` belongs to `pitch`, and there is none", "add `pitch`, or remove `pitch_plus_minus`");
        foreach (string key in (string[])["fit", "clearance"])
            if (entry.Has(key))
                return (key, "a pattern of holes has no clearance of its own: the play of its screws or pins is all that it has", $"remove `{key}`, and write the screws or pins as counterparts");
        return null;
    }
}
