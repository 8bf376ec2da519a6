using Sparewright.Measure;
using Sparewright.Measure.Quantities;
using Sparewright.Part.Record;
using Sparewright.Part.Shape;
using static Sparewright.Part.Grammar.PlaceForms;
using Quantity = Sparewright.Measure.Quantities.Quantity;

namespace Sparewright.Part.Grammar;

/// <summary>The ledger of readings. One without an `id` is named r1, r2 … by its place in the list.</summary>
internal static class ReadingForms
{
    private static readonly Form<string> Id = new PatternForm("[A-Za-z][A-Za-z0-9_-]*", "a reading's name", "write letters, digits, - and _, beginning with a letter")
        .Noting((id, place, findings) => findings.ReadingIds.Introduce(id, place, 0, findings));

    private static readonly Form<string> Instrument = new TextForm("an instrument's name").Noting((name, place, findings) => { findings.Instruments.Use(name, place); return true; });

    private static readonly Form<bool> YesNo = new YesNoForm();

    private static readonly Form<IReadOnlyList<double>> Lengths = new OneOrMoreForm<double>(ReadLength, "a length as the display said it, or a list of repeats");

    private static readonly Form<double> PinDiameter = new QuantityForm(QuantityKind.Length, "a diameter", 0, leastExcluded: true);

    private static readonly Form<double> Grams = new QuantityForm(QuantityKind.Mass, "a mass as the display said it", 0, leastExcluded: true);

    private static readonly Form<string> Copy = new TextForm("a copy's name");

    private const string CopyAbout = "the copy of the part that it was taken on, where there are several";

    private static MapForm<Reading> Caliper(ReadingWay way, string key, string about, string elements, bool pairOnly) => new($"a reading ({key})", about, map =>
    {
        Form<IReadOnlyList<ElementName>> pair = new ListForm<ElementName>(Element, "two elements [a.top, b.top]", 2, 2);
        var between = map.Required(key, pairOnly ? pair : new EitherForm<IReadOnlyList<ElementName>>("an element, or two [a.side, b.wall]", scalar: Element.Select((e, _) => (IReadOnlyList<ElementName>)[e]), list: pair), elements);
        var reads = map.Required("reads", Lengths, "what the display said, once or repeatedly, uncorrected");
        var across = pairOnly ? null : map.OptionalValue("across", ADirection, "with one element that goes all round: the direction that its extent is measured in");
        var worn = map.OptionalOr("worn", YesNo, false, "the surface is worn: the part was at least this big, a hole at most");
        var overBreak = map.Optional("across_break", new BreakForm(), "taken over a glued break: yes, or which one where there are several");
        var pins = pairOnly ? null : map.OptionalOr("over_pins", new OneOrMoreForm<double>(PinDiameter, "a diameter, or one for each hole"), [], "the diameters of gauge pins that stood in the holes: outside jaws close over them, inside jaws spread between them");
        var soft = map.OptionalOr("soft", YesNo, false, "what was measured gives way under the jaws");
        var tilt = map.OptionalValue("tilt", new QuantityForm(QuantityKind.Angle, "an angle in degrees", 0, 30), "by how much the instrument may have stood askew, in degrees");
        var copy = map.Optional("copy", Copy, CopyAbout);
        var fragment = map.Optional("on_fragment", new TextForm("a fragment's name"), "the fragment that it was taken on");
        var height = map.Optional("at_height", SizeForms.Length, "on a cone, or a face that leans by its draft: where along its axis or the mould's way it was taken, as the job's coordinate (above the ground where that is upright)");
        var with = map.Optional("with", Instrument, "the instrument, where there are several");
        var id = map.Optional("id", Id, "its name; r1, r2 … by its place in the list unless said");
        return entry =>
        {
            IReadOnlyList<ElementName> two = entry.Of(between);
            Direction? direction = across is null ? null : entry.Of(across);
            if (direction is not null && two.Count == 2)
                return entry.Refuse<Reading>("across", "a reading between two elements has its direction from them", "remove `across`, or one of the elements");
            IReadOnlyList<double> gauges = pins is null ? [] : entry.Of(pins);
            if (gauges.Count > two.Count)
                return entry.Refuse<Reading>("over_pins", "there are more pins than elements", "write one diameter, or one for each hole");
            if (gauges.Count > 0 && two.Count == 1)
                return entry.Refuse<Reading>("over_pins", "over pins one measures from one hole to another, or to a face", "name two elements: [a.wall, b.wall]");
            return new CaliperReading(entry.Of(id) ?? "", way, two[0], two.Count == 2 ? two[1] : null, direction, entry.Of(reads), entry.Of(worn), entry.Of(overBreak) is { Is: true }, entry.Of(fragment), entry.Of(height), entry.Of(with), entry.Place)
            {
                Break = entry.Of(overBreak)?.Name,
                OverPinsMm = gauges,
                Soft = entry.Of(soft),
                TiltDegrees = entry.Of(tilt) ?? 0,
                Copy = entry.Of(copy),
            };
        };
    });

    private static readonly MapForm<Reading> Arc = new("a reading (radius)", "The radius of an arc by a chord across it and the sagitta, how far it rises over that chord. So the radius of a piece of a disc is found.", map =>
    {
        var of = map.Required("radius", Element, "the round element, or a piece of a side that is round");
        var chord = map.Required("chord", Lengths, "the chord as the display said it, outside jaws across the arc");
        var sagitta = map.Required("sagitta", Lengths, "how far the arc rises over the chord, as the display said it");
        var copy = map.Optional("copy", Copy, CopyAbout);
        var with = map.Optional("with", Instrument, "the instrument, where there are several");
        var id = map.Optional("id", Id, "its name; r1, r2 … by its place in the list unless said");
        return entry =>
        {
            double c = entry.Of(chord).Average(), s = entry.Of(sagitta).Average();
            if (!(s > 0)) return entry.Refuse<Reading>("sagitta", "without a rise there is no arc", "choose a longer chord");
            return 2 * s < 0.98 * c
                ? new SagittaReading(entry.Of(id) ?? "", entry.Of(of), entry.Of(chord), entry.Of(sagitta), entry.Of(with), entry.Place) { Copy = entry.Of(copy) }
                : entry.Refuse<Reading>("sagitta", "this rises over half its chord or more, and so much of a circle shows its diameter", "measure the diameter outside or inside, or take a shorter chord");
        };
    });

    private static readonly MapForm<Reading> ThreadPitch = new("a reading (thread pitch)", "The pitch of a thread over several turns of it, from crest to crest.", map =>
    {
        var pitch = map.Required("thread_pitch", SizeForms.Length, "the size that is the pitch");
        var turns = map.Required("turns", new CountForm("a number of turns", 1, 1000), "how many turns lie between the two crests");
        var reads = map.Required("reads", Lengths, "what the display said, once or repeatedly, uncorrected");
        var copy = map.Optional("copy", Copy, CopyAbout);
        var with = map.Optional("with", Instrument, "the instrument, where there are several");
        var id = map.Optional("id", Id, "its name; r1, r2 … by its place in the list unless said");
        return entry => new ThreadPitchReading(entry.Of(id) ?? "", entry.Of(pitch), entry.Of(turns), entry.Of(reads), entry.Of(with), entry.Place) { Copy = entry.Of(copy) };
    });

    private static readonly MapForm<Reading> Angle = new("a reading (angle)", "The angle that a protractor shows in the corner between two flat faces: through the material at an outer corner, through the space at an inner one.", map =>
    {
        var between = map.Required("angle", new EitherForm<IReadOnlyList<ElementName>>("two flat elements [a.top, b.side], or a cone", scalar: Element.Select((e, _) => (IReadOnlyList<ElementName>)[e]), list: new ListForm<ElementName>(Element, "two flat elements [a.top, b.side], or a cone", 2, 2)), "the two flat elements, or one cone, whose angle goes from side to side");
        var reads = map.Required("reads", new OneOrMoreForm<double>(new QuantityForm(QuantityKind.Angle, "an angle as the instrument showed it", 0, 180), "an angle as the instrument showed it, or a list of repeats"), "what the instrument showed, once or repeatedly, uncorrected");
        var copy = map.Optional("copy", Copy, CopyAbout);
        var with = map.Optional("with", Instrument, "the protractor, where there are several");
        var id = map.Optional("id", Id, "its name; r1, r2 … by its place in the list unless said");
        return entry => new AngleReading(entry.Of(id) ?? "", entry.Of(between)[0], entry.Of(between).ElementAtOrDefault(1), entry.Of(reads), entry.Of(with), entry.Place) { Copy = entry.Of(copy) };
    });

    private static readonly MapForm<Reading> GaugeLeaf = new("a reading (radius gauge)", "A radius tried with gauge leaves.", map =>
    {
        var round = map.Required("radius_gauge", EarlierFeature.Select((f, _) => f.Feature), "the edge round or fillet that was tried");
        var leaf = map.Required("leaf", new ListForm<double>(new QuantityForm(QuantityKind.Length, "a length", 0), "two lengths [0.75, 1.0]", 2, 2), "it is bigger than the first leaf and smaller than the second");
        var copy = map.Optional("copy", Copy, CopyAbout);
        var with = map.Optional("with", Instrument, "the instrument, where there are several");
        var id = map.Optional("id", Id, "its name; r1, r2 … by its place in the list unless said");
        return entry => entry.Of(leaf)[0] < entry.Of(leaf)[1]
            ? new GaugeLeafReading(entry.Of(id) ?? "", entry.Of(round), entry.Of(leaf)[0], entry.Of(leaf)[1], entry.Of(with), entry.Place) { Copy = entry.Of(copy) }
            : entry.Refuse<Reading>("leaf", "the first leaf is not smaller than the second", "write the leaf that was too small first");
    });

    private static readonly MapForm<Reading> Weight = new("a reading (weight)", "The weight of the whole part or of a fragment.", map =>
    {
        var of = map.Required("weight", new TextForm("`whole`, or a fragment's name"), "what was weighed");
        var reads = map.Required("reads", new OneOrMoreForm<double>(Grams, "a mass as the display said it, or a list of repeats"), "what the display said, once or repeatedly, uncorrected");
        var density = map.Required("density", new PlusMinusForm(QuantityKind.Density, "a density with its ±, as 1.05 ± 0.02"), "the material's density in g/cm3, with its ± (also written +/-)");
        var copy = map.Optional("copy", Copy, CopyAbout);
        var with = map.Optional("with", Instrument, "the scale, where there are several");
        var id = map.Optional("id", Id, "its name; r1, r2 … by its place in the list unless said");
        return entry => new WeightReading(entry.Of(id) ?? "", entry.Of(of), entry.Of(reads), entry.Of(density).Value, entry.Of(density).PlusMinus, entry.Of(with), entry.Place) { Copy = entry.Of(copy) };
    });

    private static readonly MapForm<Reading> FragmentWeights = new("a reading (weights)", "The weights of all the fragments, each weighed by itself: together they are the whole part's.", map =>
    {
        var of = map.Required("weights", new EntriesForm<IReadOnlyList<double>>(new TextForm("a fragment's name"), new OneOrMoreForm<double>(Grams, "a mass as the display said it, or a list of repeats"), "fragments with their weights"), "every fragment with what the display said, once or repeatedly, uncorrected");
        var density = map.Required("density", new PlusMinusForm(QuantityKind.Density, "a density with its ±, as 1.05 ± 0.02"), "the material's density in g/cm3, with its ± (also written +/-)");
        var copy = map.Optional("copy", Copy, CopyAbout);
        var with = map.Optional("with", Instrument, "the scale, where there are several");
        var id = map.Optional("id", Id, "its name; r1, r2 … by its place in the list unless said");
        return entry => entry.Of(of).Count > 1
            ? new FragmentWeightsReading(entry.Of(id) ?? "", [.. entry.Of(of).Select(f => (f.Name, f.Value))], entry.Of(density).Value, entry.Of(density).PlusMinus, entry.Of(with), entry.Place) { Copy = entry.Of(copy) }
            : entry.Refuse<Reading>("weights", "all fragments together are the part, and here is one", "write every fragment with its weight, or weight: whole");
    });

    private static readonly MapForm<Reading> OfCounterpart = new("a reading (of a counterpart)", "A distance on a counterpart that a size of the part was made to match: its hole pitch, the distance of its rods. So the counterpart says what the old part no longer can.", map =>
    {
        var name = map.Required("of_counterpart", new TextForm("a counterpart's name").Noting((text, place, findings) => { findings.Counterparts.Use(text, place); return true; }), "which counterpart");
        var matches = map.Required("matches", SizeForms.Length, "the size of the part that goes with it");
        var reads = map.Required("reads", Lengths, "that distance on the counterpart, once or repeatedly, uncorrected");
        var within = map.OptionalOr("within", new QuantityForm(QuantityKind.Length, "a length", 0, leastExcluded: true), CounterpartReading.UsualWithinMm, "by how much the two may differ and still go together; 0.2 mm unless said");
        var with = map.Optional("with", Instrument, "the instrument, where there are several");
        var id = map.Optional("id", Id, "its name; r1, r2 … by its place in the list unless said");
        return entry => new CounterpartReading(entry.Of(id) ?? "", entry.Of(name), entry.Of(matches), entry.Of(reads), entry.Of(within), entry.Of(with), entry.Place);
    });

    private static readonly MapForm<Reading> Displacement = new("a reading (displacement)", "The water that the whole part or a fragment displaces, all of it under water and no bubbles on it.", map =>
    {
        var of = map.Required("displacement", new TextForm("`whole`, or a fragment's name"), "what was put under water");
        var reads = map.Required("reads", new OneOrMoreForm<Quantity>(new WaterForm(), "a volume in ml, or in g where a scale showed it, or a list of repeats"), "by how much the water rose in a measuring cylinder, or by how much a scale under the vessel rose when the part hung in it on a thread");
        var copy = map.Optional("copy", Copy, CopyAbout);
        var with = map.Optional("with", Instrument, "the measuring cylinder or scale, where there are several");
        var id = map.Optional("id", Id, "its name; r1, r2 … by its place in the list unless said");
        return entry =>
        {
            QuantityKind kind = entry.Of(reads)[0].Kind;
            return entry.Of(reads).All(q => q.Kind == kind)
                ? new DisplacementReading(entry.Of(id) ?? "", entry.Of(of), [.. entry.Of(reads).Select(q => q.Value)], Unit.Of(kind), entry.Of(with), entry.Place) { Copy = entry.Of(copy) }
                : entry.Refuse<Reading>("reads", "some of these are volumes and some weights", "make two readings of them");
        };
    });

    public static readonly Form<IReadOnlyList<Draft>> Drafts = new ListForm<Draft>(new Named<Draft>("draft", "a draft", () => new MapForm<Draft>("a draft",
        "Faces that lean a little, so that the part could leave its mould. The shape draws them straight, as they are at one height; farther the way that the mould opened, material between them gets thinner, and holes and pockets wider.", map =>
    {
        var faces = map.Required("faces", OneOrMoreElements, "the faces that lean; of a side that goes round all its pieces");
        var angle = map.Required("angle", SizeForms.Angle, "by how much each leans, in degrees: known, or a size that readings at several heights decide");
        var thins = map.Required("thins", ADirection, "the way in which the mould opened there: that way walls get thinner, and holes wider");
        var at = map.Required("sizes_at", SizeForms.Length, "where the shape's sizes hold, as the job's coordinate along that way (above the ground for up and down)");
        return entry => new Draft(entry.Of(faces), entry.Of(angle), entry.Of(thins), entry.Of(at));
    })), "a list of drafts");

    public static readonly Form<IReadOnlyList<Reading>> Readings = new ListForm<Reading>(new Named<Reading>("reading", "a reading", () => new OneOfForm<Reading>("a reading", "reading",
        ("outside", Caliper(ReadingWay.Outside, "outside", "Outside jaws touch surfaces that face away from each other: material between them.", "one round element (its diameter), a side with `across`, or two elements", false)),
        ("inside", Caliper(ReadingWay.Inside, "inside", "Inside jaws touch surfaces that face each other: space between them.", "one round element (its diameter), a side with `across`, or two elements", false)),
        ("depth", Caliper(ReadingWay.Depth, "depth", "The depth rod, from one flat element down to another.", "the flat element that the end stands on, and the one that the rod touches", true)),
        ("step", Caliper(ReadingWay.Step, "step", "The step faces, from one flat element to another that looks the same way.", "the two flat elements", true)),
        ("radius", Arc), ("angle", Angle), ("thread_pitch", ThreadPitch), ("radius_gauge", GaugeLeaf), ("weight", Weight), ("weights", FragmentWeights), ("displacement", Displacement), ("of_counterpart", OfCounterpart))), "a list of readings")
        .Select((readings, _) => (IReadOnlyList<Reading>)[.. readings.Select((r, k) => r.Id.Length > 0 ? r : r with { Id = $"r{k + 1}" })]);
}
