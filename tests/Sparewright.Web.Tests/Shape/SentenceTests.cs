using CsCheck;
using Sparewright.Part;
using Sparewright.Part.Elements;
using Sparewright.Part.Record;
using Sparewright.Part.Sizes;
using Sparewright.Web.Shape;
using Sparewright.Web.Shape.Forms;
using Xunit;

namespace Sparewright.Web.Tests.Shape;

public class SentenceTests
{
    public static TheoryData<string> AllJobs => [.. Jobs.All.Keys];

    public static TheoryData<string> Examples => [.. Jobs.Examples.Keys];

    private static ShapeView View(string text) => ShapeView.Of(text, JobFile.Read(text).Problems);

    [Fact]
    public void The_first_example_reads_like_this()
    {
        string[] sentences = [.. View(Jobs.Examples["vent-knuckle"]).Sentences.Select(s => s.ToString())];
        Assert.Equal("""
            A plate foot, foot_t thick, on the ground. Its outline is a belt around these discs:
              a disc of radius foot_w/2 around (0, -screw_pitch/2)
              a disc of radius foot_w/2 around (0, screw_pitch/2).
            A round boss socket, ⌀ socket_od, socket_len tall, on the top of foot.
            A block lug, lug_reach long, lug_t deep and lug_w tall, its left front bottom corner at (0, -lug_t/2, foot_t + socket_len - lug_w).
            A rounded end lug_end: a full round on the right face of lug, its axis running back.
            An edge round lug_round of radius edge_r on all edges of lug.
            A round hole bore, ⌀ bore_d, into the top of socket, seat deep with a flat end.
            A round hole pin_hole, ⌀ pin_d, along back through (lug_reach, 0, foot_t + socket_len - lug_w/2), right through lug.
            A row screws of 2 copies, screw_pitch apart, toward back, its middle at (0, 0). Each is this: A round hole screw_hole, ⌀ screw_d, into the top of foot, right through foot, with a countersink ⌀ 2*screw_d of 90.
            A fillet lug_root of radius 1.5 where the front face of lug meets the side of socket.
            A fillet lug_root_behind of radius 1.5 where the back face of lug meets the side of socket.
            """.ReplaceLineEndings("\n"), string.Join('\n', sentences));
    }

    /// <summary>Nothing that is written is left out, and nothing is there twice.</summary>
    [Theory]
    [MemberData(nameof(AllJobs))]
    public void Whatever_is_written_has_its_slot(string name) => EverythingHasItsSlot(Jobs.All[name]);

    private static void EverythingHasItsSlot(string text)
    {
        Written root = Written.Read(text, out _)!;
        foreach (Sentence sentence in View(text).Sentences)
        {
            string[] written = [.. SentenceReader.Leaves(root.At(sentence.Path.Split('/'))!, sentence.Path)];
            string[] shown = [.. sentence.Slots.Where(s => s.Written is not null).Select(s => s.Path)];
            Assert.Equal(written.Order(StringComparer.Ordinal), shown.Order(StringComparer.Ordinal));
            Assert.All(sentence.Slots, slot => Assert.Equal(slot.Written, (root.At(slot.Path.Split('/')) as Written.Value)?.Text));
        }
    }

    /// <summary>Also where the shape is nonsense: features torn apart and mixed.</summary>
    [Fact]
    public void Whatever_nonsense_is_written_has_its_slot()
    {
        string[] values = ["5", "a.b", "[1, 2, 3]", "[]", "{}", "[[0, 0], [1, 1]]", "{about: up, by: 3}", "{disc: [0, 0], radius: 2}", "{path: [{start: 1}, 5]}", "", "{hole: h, of: {boss: b}}", "[{slot: s}]", "'x: y'"];
        string[] keys = ["plate", "boss", "hole", "row", "mirror", "datum", "fillet", "outline", "at", "between", "of", "diameter", "turned", "meeting", "except", "nonsense", "from", "depth", "through", "axis"];
        Gen.Select(Gen.Int[0, keys.Length - 1], Gen.Int[0, values.Length - 1]).Array[1, 7].Array[1, 4].Sample(features =>
        {
            string text = "sparewright: 1\nshape:\n" + string.Concat(features.Select(f => "  - " + string.Join("\n    ", f.DistinctBy(e => e.Item1).Select(e => $"{keys[e.Item1]}: {values[e.Item2]}")) + "\n"));
            Assert.NotNull(Written.Read(text, out _));
            EverythingHasItsSlot(text);
        }, iter: 500);
    }

    /// <summary>Filling any slot with anything writes just that place.</summary>
    [Theory]
    [MemberData(nameof(Examples))]
    public void A_slot_writes_just_its_place(string name)
    {
        string text = Jobs.Examples[name];
        foreach (Sentence sentence in View(text).Sentences)
        {
            foreach (var slot in sentence.Slots)
            {
                JobEdit edit = slot.Fill("other_9", sentence.Name).Make(text);
                Assert.Null(edit.Problem);
                Written after = Written.Read(edit.Text!, out _)!;
                Assert.Equal("other_9", Assert.IsType<Written.Value>(after.At(slot.Path.Split('/'))).Text);
                if (slot.Written is null) continue;
                Assert.StartsWith(text[..slot.Start], edit.Text!, StringComparison.Ordinal);
                Assert.EndsWith(text[slot.End..], edit.Text!, StringComparison.Ordinal);
            }
        }
    }

    /// <summary>Whatever a sentence offers can be done, stays within its feature, and loses no comment outside of it.</summary>
    [Theory]
    [MemberData(nameof(AllJobs))]
    public void Whatever_is_offered_can_be_done(string name)
    {
        string text = Jobs.All[name];
        int tried = 0;
        foreach (Sentence sentence in View(text).Sentences)
        {
            foreach (Offer offer in sentence.Offers.Concat(LineOffers(sentence.Pieces)))
            {
                JobEdit edit = offer.Change.Make(text);
                Assert.True(edit.Text is not null, $"{sentence.Name}: {offer.Words}: {edit.Problem}");
                Assert.NotEqual(text, edit.Text);
                Assert.StartsWith(text[..sentence.Start], edit.Text, StringComparison.Ordinal);
                Assert.EndsWith(text[(sentence.End + Rest(text, sentence.End))..], edit.Text, StringComparison.Ordinal);
                EverythingHasItsSlot(edit.Text!);
                tried++;
            }
        }

        Assert.True(tried > 5);
    }

    /// <summary>The comment behind a feature's last line is the feature's.</summary>
    private static int Rest(string text, int from) => text.AsSpan(from).IndexOf('\n') is var end && end < 0 ? text.Length - from : end;

    private static IEnumerable<Offer> LineOffers(IEnumerable<SentencePiece> pieces) => pieces.SelectMany(piece => piece switch
    {
        SentencePiece.Lines lines => lines.All.SelectMany(l => l.Offers.Concat(LineOffers(l.Pieces))),
        SentencePiece.WhichKind kind => kind.Others,
        _ => [],
    });

    [Theory]
    [InlineData("foot.top", "the top of foot")]
    [InlineData("foot.rim#2", "piece 2 of the rim of foot")]
    [InlineData("screw_hole#1.wall", "the wall of screw_hole#1")]
    [InlineData("cord_slot.end#1", "end 1 of cord_slot")]
    [InlineData("lug.right.axis", "the axis of the right face of lug")]
    [InlineData("bore.counterbore.wall", "the wall of the counterbore of bore")]
    [InlineData("image.lug.top", "the top of image.lug")]
    [InlineData("middle", "middle")]
    [InlineData("ground", "the ground")]
    public void Elements_are_said_as_one_says_them(string name, string said) => Assert.Equal(said, ElementPhrase.Of(name));

    public static TheoryData<string, string> EveryKindInEveryJob => [.. Jobs.All.Keys.SelectMany(job => NewFeatures.Kinds.Select(k => (job, k.Key)))];

    /// <summary>Every kind can be added to everything, anywhere below what it stands on, and the job can still be read.</summary>
    [Theory]
    [MemberData(nameof(EveryKindInEveryJob))]
    public void Every_kind_can_be_added(string name, string kind)
    {
        string text = Jobs.All[name];
        ShapeView view = View(text);
        PlacedShape placed = Placed(text);
        var (change, added) = new NewFeatures(view, placed).Add(kind, view.Sentences.Count);
        string after = change.Make(text).Text!;
        JobReading reading = JobFile.Read(after);
        if (kind == "rounded_end" && !placed.Elements.Values.OfType<FlatElement>().Any(f => f.Rectangle is not null))
        {
            // No flat end is there to be rounded: the slot says so, and nothing else is wrong.
            var (_, slot, _) = Assert.Single(ShapeView.Of(after, reading.Problems).InShape);
            Assert.EndsWith("/of", slot!.Path, StringComparison.Ordinal);
            return;
        }

        Assert.True(reading.Job is not null, string.Join('\n', reading.Problems));
        Assert.Equal(added, reading.Job!.Shape[^1].Name);
        Assert.Equal(view.Sentences.Count + 1, View(after).Sentences.Count);
        EverythingHasItsSlot(after);
        Assert.Empty(Placed(after).Problems);
    }

    private static PlacedShape Placed(string text)
    {
        Job job = JobFile.Read(text).Job!;
        return ShapePlacer.Place(job.Shape, job.Sizes.At([.. job.Sizes.Free.Select(s => s.Given switch { Given.About a => a.Value, Given.Likely l => l.Value, _ => 10 })]));
    }

    [Fact]
    public void A_slot_offers_what_stands_before_its_feature()
    {
        string text = Jobs.Examples["vent-knuckle"];
        var choices = new ElementChoices(View(text), Placed(text));
        Assert.Equal(["foot.bottom", "foot.rim#2", "foot.rim#4", "foot.top", "ground"], choices.For(SlotKind.FlatElement, 1).Select(c => c.Name));
        Assert.Equal(["socket", "foot"], choices.For(SlotKind.Feature, 2).Select(c => c.Name));
        Assert.Contains(choices.For(SlotKind.Element, 9), c => c.Name == "screw_hole#1.wall");
        Assert.DoesNotContain(choices.For(SlotKind.Element, 7), c => c.Name.StartsWith("screw_hole", StringComparison.Ordinal));
        Assert.Equal("foot.top", choices.FirstFitting(["foot.rim", "foot.top"], SlotKind.FlatElement, 1));
        Assert.Null(choices.FirstFitting(["lug.top"], SlotKind.FlatElement, 1));
        Assert.Equal("lug", choices.FirstFitting(["lug.top"], SlotKind.Feature, 5));
        Assert.Contains("pin_hole.wall", choices.Of(View(text).Sentences[6]));
        Assert.Contains("lug.right", choices.Of(View(text).Sentences[3]));
    }

    [Theory]
    [InlineData("diameter: socket_od", "diameter: socket_odd", "shape/1/diameter", "nothing defines the size `socket_odd`")]
    [InlineData("stands_on: foot.top", "stands_on: foott.top", "shape/1/stands_on", "there is no feature `foott`")]
    [InlineData("along: back", "along: sideways", "shape/7/along", "`sideways` is not a direction")]
    [InlineData("count: 2", "count: 2.5", "shape/7/count", "`2.5` is not a whole number")]
    [InlineData("angle: 90}", "angle: 90 mm}", "shape/7/of/countersink/angle", "a length")]
    [InlineData("    height: socket_len\n", "", "shape/1/height", "a boss needs `height`, and it is missing")]
    [InlineData("radius: foot_w/2}, {disc: [0, screw", "radius: foot_w/}, {disc: [0, screw", "shape/0/outline/belt/0/radius", "")]
    public void A_problem_stands_at_its_slot(string good, string bad, string path, string says)
    {
        string text = Jobs.Examples["vent-knuckle"];
        Assert.Contains(good, text, StringComparison.Ordinal);
        ShapeView view = View(text.Replace(good, bad, StringComparison.Ordinal));
        var (_, slot, problem) = view.InShape.First();
        Assert.Equal(path, slot?.Path);
        Assert.Contains(says, problem.What, StringComparison.Ordinal);
        Assert.Empty(view.Elsewhere);
    }

    [Fact]
    public void A_problem_without_a_slot_stands_at_its_feature_or_apart()
    {
        string text = Jobs.Examples["vent-knuckle"];
        ShapeView unknown = View(text.Replace("    diameter: socket_od", "    diametre: socket_od", StringComparison.Ordinal));
        Assert.Equal(["shape/1", "shape/1"], unknown.InShape.Select(p => p.Sentence.Path));
        Assert.Contains(unknown.InShape, p => p.Slot?.Path == "shape/1/diameter");
        Assert.Contains(unknown.InShape, p => p.Problem.What == "unknown key `diametre`");
        ShapeView reading = View(text.Replace("{outside: socket.side, reads", "{outside: socket.sid, reads", StringComparison.Ordinal).Replace("could_injure: no", "could_injure: maybe", StringComparison.Ordinal));
        Assert.Empty(reading.InShape);
        Assert.Contains(reading.Elsewhere, p => p.What.Contains("maybe", StringComparison.Ordinal));
        Assert.Equal("a tab indents this line", View("\ta: 1").Unreadable!.What);
    }

    [Fact]
    public void What_is_typed_is_judged_before_it_is_kept()
    {
        string text = Jobs.Examples["vent-knuckle"];
        var slot = View(text).Sentences[1].Slots.First(s => s.Path == "shape/1/diameter");
        Assert.Null(SlotCheck.Of(text, slot, "socket_od + 1").Problem);
        SlotCheck unknown = SlotCheck.Of(text, slot, "socket_od + rim_w");
        Assert.Equal("nothing defines the size `rim_w`", unknown.Problem!.What);
        Assert.Equal(["rim_w"], unknown.UnknownSizes);
        Assert.NotNull(SlotCheck.Of(text, slot, "socket_od +").Problem);
        Assert.Contains("an area", SlotCheck.Of(text, slot, "socket_od*socket_od").Problem!.What, StringComparison.Ordinal);
        var sizes = JobFile.Read(text).Job!.Sizes.At([17, 50, 12, 35, 6, 20, 30, 5, 5, 20, 35, 4.5, 0.8]);
        Assert.Equal("= 18 mm", SlotCheck.ComesTo("socket_od + 1", sizes, isAngle: false));
        Assert.Null(SlotCheck.ComesTo("12", sizes, isAngle: false));
        Assert.Null(SlotCheck.ComesTo("nothing", sizes, isAngle: false));
    }
}
