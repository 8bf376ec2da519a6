using Sparewright.Measure.Quantities;
using Sparewright.Part.Record;
using Sparewright.Part.Shape;
using static Sparewright.Part.Grammar.PlaceForms;

namespace Sparewright.Part.Grammar;

/// <summary>What the part has to bear, in words, and the test bars that say what its material bears.</summary>
internal static class LoadForms
{
    /// <summary>Standard gravity in m/s² (CGPM 1901): what a hung kilogram weighs in newtons.</summary>
    private const double StandardGravity = 9.80665;

    private static readonly Form<double> Number = new QuantityForm(QuantityKind.Number, "a number greater than 0", 0, leastExcluded: true);

    private static readonly Form<string> Counterpart = new TextForm("a counterpart's name").Noting((name, place, findings) => { findings.Counterparts.Use(name, place); return true; });

    /// <summary>The keys `at` and `by`, of which one says where something acts.</summary>
    private sealed class WhereKeys
    {
        private readonly Key<IReadOnlyList<ElementName>> _at;
        private readonly Key<string?> _by;

        public WhereKeys(KeyList map)
        {
            _at = map.OptionalOr("at", OneOrMoreElements, [], "the element that it acts on, or several that share it");
            _by = map.Optional("by", Counterpart, "the counterpart that does it, where it meets the part");
            map.ExactlyOne("at", "by");
        }

        public ActsAt Of(Entry entry) => new(entry.Of(_at), entry.Of(_by));
    }

    private static Form<LoadAction> Force(ForceWord word, string title, string about) => new MapForm<LoadAction>(title, about, map =>
    {
        var where = new WhereKeys(map);
        var newtons = map.Required("newtons", Number, "how strong it is, in newtons; a kilogram that hangs is 9.81");
        var toward = map.Required("toward", ADirection, "where it pushes or pulls the part to");
        return entry => new LoadAction.Force(word, where.Of(entry), entry.Of(newtons), entry.Of(toward), entry.Place);
    });

    private static Form<LoadAction> Moment(bool bends, string title, string about) => new MapForm<LoadAction>(title, about, map =>
    {
        var where = new WhereKeys(map);
        var amount = map.Required("newton_metres", Number, "how strong it is, in newton metres");
        var turns = map.Required("about", ADirection, "the direction that it turns about, by the right-hand rule");
        return entry => new LoadAction.Moment(bends, where.Of(entry), entry.Of(amount), entry.Of(turns), entry.Place);
    });

    private static readonly Form<LoadAction> Pressure = new MapForm<LoadAction>("a pressure", "Pressure of a gas or liquid, square to the face everywhere.", map =>
    {
        var at = map.Required("at", OneOrMoreElements, "the element that it acts on, or several");
        var bar = map.Required("bar", Number, "how strong it is, in bar above the surroundings (10 bar are 1 MPa)");
        return entry => new LoadAction.Pressure(entry.Of(at), entry.Of(bar), entry.Place);
    });

    private static readonly Form<LoadAction> Movement = new MapForm<LoadAction>("an imposed movement", "Something moves a face by so much, and that takes whatever force it takes.", map =>
    {
        var where = new WhereKeys(map);
        var far = map.Required("how_far", SizeForms.Length, "how far it is moved");
        var toward = map.Required("toward", ADirection, "where it is moved to");
        return entry => new LoadAction.Movement(false, where.Of(entry), entry.Of(far), entry.Of(toward), entry.Place);
    });

    private static readonly Form<LoadAction> Press = new MapForm<LoadAction>("a press", "Pressed on or in: by a force, or by an interference that stays.", map =>
    {
        var where = new WhereKeys(map);
        var newtons = map.OptionalValue("newtons", Number, "the force that presses, in newtons");
        var toward = map.OptionalValue("toward", ADirection, "where that force pushes the part to");
        var interference = map.Optional("interference", SizeForms.Length, "on round faces: how much bigger in diameter what goes in is than what it goes into");
        map.ExactlyOne("newtons", "interference");
        map.AllOrNone("newtons", "toward");
        return entry => entry.Of(interference) is { } squeeze ? new LoadAction.PressFit(where.Of(entry), squeeze, entry.Place)
            : new LoadAction.Force(ForceWord.Press, where.Of(entry), entry.Of(newtons)!.Value, entry.Of(toward)!.Value, entry.Place);
    });

    private static readonly Form<LoadAction> Snap = new MapForm<LoadAction>("a snap", "An arm is bent aside when it snaps in or out: by a force, or by as much as it has to give way.", map =>
    {
        var where = new WhereKeys(map);
        var newtons = map.OptionalValue("newtons", Number, "the force that bends it aside, in newtons");
        var far = map.Optional("how_far", SizeForms.Length, "how far it has to give way");
        var toward = map.Required("toward", ADirection, "where it gives way to");
        map.ExactlyOne("newtons", "how_far");
        return entry => entry.Of(far) is { } aside ? new LoadAction.Movement(true, where.Of(entry), aside, entry.Of(toward), entry.Place)
            : new LoadAction.Force(ForceWord.Snap, where.Of(entry), entry.Of(newtons)!.Value, entry.Of(toward), entry.Place);
    });

    private static readonly (string Key, Form<LoadAction> Form, string Written, string About)[] Actions =
    [
        ("push", Force(ForceWord.Push, "a push", "A force that pushes."), "a push, or a list of them", "what pushes"),
        ("pull", Force(ForceWord.Pull, "a pull", "A force that pulls."), "a pull, or a list of them", "what pulls"),
        ("twist", Moment(false, "a twist", "A moment that drags a face round."), "a twist, or a list of them", "what twists"),
        ("bend", Moment(true, "a bend", "A moment that tilts a face: one side of it is pulled, the other pushed."), "a bend, or a list of them", "what bends"),
        ("pressure", Pressure, "a pressure, or a list of them", "pressure on faces"),
        ("press", Press, "a press, or a list of them", "what is pressed on or in"),
        ("snap", Snap, "a snap, or a list of them", "what snaps in or out"),
        ("moved", Movement, "an imposed movement, or a list of them", "what is moved by so much"),
    ];

    private static readonly Form<HowOften> Times = new WordForm<HowOften>("how often", ("once", HowOften.Once), ("now and then", HowOften.NowAndThen), ("many", HowOften.Many), ("always", HowOften.Always));

    private static readonly Form<HowLong> Lasts = new WordForm<HowLong>("how long", ("seconds", HowLong.Seconds), ("hours", HowLong.Hours), ("months", HowLong.Months), ("years", HowLong.Years));

    public static readonly Form<IReadOnlyList<Load>> Loads = new ListForm<Load>(new MapForm<Load>("a load", "One load case: what acts on the part at the same time, and what holds it meanwhile.", map =>
    {
        var name = map.Required("name", new TextForm("a name").Noting((text, place, findings) => findings.Loads.Introduce(text, place, 0, findings)), "what it is called");
        Key<IReadOnlyList<LoadAction>>[] actions = [.. Actions.Select(a => map.OptionalOr(a.Key, new OneOrMoreForm<LoadAction>(a.Form, a.Written), [], a.About))];
        var weight = map.OptionalValue("own_weight", ADirection, "the part's own weight: where down is in use");
        var screwed = map.OptionalOr("screwed", OneOrMoreElements, [], "holes whose screws hold the part");
        var washer = map.Optional("washer", SizeForms.Length, "the diameter of their heads or washers; twice the hole's unless said");
        var rests = map.OptionalOr("rests_on", OneOrMoreElements, [], "faces that rest on something: they are pushed only");
        var fast = map.OptionalOr("held_fast", OneOrMoreElements, [], "faces that are glued or clamped");
        var by = map.OptionalOr("held_by", new OneOrMoreForm<string>(Counterpart, "a counterpart's name, or a list of them"), [], "counterparts that push back where they meet the part");
        var times = map.OptionalOr("times", Times, HowOften.NowAndThen, "how often; `now and then` unless said");
        var lasts = map.OptionalValue("lasts", Lasts, "how long it stays when it comes; `seconds` unless said, `years` where it is always there");
        map.AtLeastOne([.. Actions.Select(a => a.Key), "own_weight"]);
        return entry =>
        {
            IReadOnlyList<LoadAction> all = [.. actions.SelectMany(entry.Of), .. entry.Of(weight) is { } down ? [new LoadAction.OwnWeight(down, entry.ValuePlaceOf("own_weight"))] : (LoadAction[])[]];
            var holds = new Holds(entry.Of(screwed), entry.Of(washer), entry.Of(rests), entry.Of(fast), entry.Of(by));
            HowLong stays = entry.Of(lasts) ?? (entry.Of(times) == HowOften.Always ? HowLong.Years : HowLong.Seconds);
            if (entry.Of(washer) is not null && holds.Screwed.Count == 0)
                return entry.Refuse<Load>("washer", "a washer needs a screw", "add `screwed` with the holes, or remove `washer`");
            if (entry.Of(times) == HowOften.Always && stays < HowLong.Months)
                return entry.Refuse<Load>("lasts", "what is always there stays longer than that", "write months or years, or another word for `times`");
            return Contradiction(all, holds, entry.Findings) ? null : new Load(entry.Of(name), all, holds, entry.Of(times), stays, entry.Place);
        };
    }), "a list of loads");

    /// <summary>What is held fast gives way to no force, and what holds does not push as well.</summary>
    private static bool Contradiction(IReadOnlyList<LoadAction> actions, Holds holds, Findings findings)
    {
        foreach (LoadAction action in actions)
        {
            ActsAt? at = action switch
            {
                LoadAction.Force f => f.At,
                LoadAction.Moment m => m.At,
                LoadAction.Pressure p => new ActsAt(p.At, null),
                LoadAction.Movement m => m.At,
                LoadAction.PressFit p => p.At,
                _ => null,
            };
            if (at?.Elements.FirstOrDefault(e => holds.HeldFast.Any(h => h.Text == e.Text)) is { } fast)
            {
                findings.Add(fast.Place, $"{Show.Name(fast.Text)} is held fast, so nothing that acts on it does anything", "name another element, or take it out of `held_fast`");
                return true;
            }

            if (at?.Counterpart is not { } counterpart || !holds.HeldBy.Contains(counterpart)) continue;
            findings.Add(action.Place, $"{Show.Name(counterpart)} both acts on the part and holds it", "take it out of `held_by`, or name what else acts");
            return true;
        }

        return false;
    }

    public static readonly Form<IReadOnlyList<TestBars>> TestBars = new ListForm<TestBars>(new MapForm<TestBars>("test bars", "Bars of your own, printed alike and pulled until they broke, with hung weights or a luggage scale.", map =>
    {
        Form<double> length = new QuantityForm(QuantityKind.Length, "a length greater than 0", 0, leastExcluded: true);
        Form<IReadOnlyList<double>> forces = new OneOrMoreForm<double>(Number, "a number, or a list with one for each bar");
        var material = map.Optional("material", new TextForm(), "what they were printed in; what the part is printed in unless said");
        var printed = map.Required("printed", new WordForm<BarLay>("a way to lie", ("lying", BarLay.Lying), ("standing", BarLay.Standing)), "`lying`: pulled along their layers; `standing`: the layers are pulled apart");
        var section = map.Optional("section", new ListForm<double>(length, "two lengths [10, 4]", 2, 2), "width and thickness where they broke");
        var diameter = map.OptionalValue("diameter", length, "their diameter, where they are round");
        var sure = map.OptionalValue("section_plus_minus", length, "the ± of those lengths, which holds in 95 of 100 cases; 0.1 unless said");
        var kilograms = map.OptionalOr("kilograms", forces, [], "what each broke at, as weight in kg");
        var newtons = map.OptionalOr("newtons", forces, [], "what each broke at, as force in N");
        var plusMinus = map.Required("plus_minus", Number, "the ± of those weights or forces, in the same unit, which holds in 95 of 100 cases");
        map.ExactlyOne("section", "diameter");
        map.ExactlyOne("kilograms", "newtons");
        return entry =>
        {
            double each = entry.Of(sure) ?? 0.1, area, spread;
            if (entry.Of(diameter) is { } d) (area, spread) = (Math.PI * d * d / 4, Math.PI * d / 2 * each);
            else (area, spread) = (entry.Of(section)![0] * entry.Of(section)![1], each * Math.Sqrt(entry.Of(section)!.Sum(s => s * s)));
            double unit = entry.Of(kilograms).Count > 0 ? StandardGravity : 1;
            return new TestBars(entry.Of(material), entry.Of(printed), area, spread, [.. entry.Of(kilograms).Concat(entry.Of(newtons)).Select(f => f * unit)], entry.Of(plusMinus) * unit, entry.Place);
        };
    }), "a list of test bars");
}
