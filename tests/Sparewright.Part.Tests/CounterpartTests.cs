using CsCheck;
using Sparewright.Part.Record;
using Sparewright.Part.Sizes;
using Xunit;

namespace Sparewright.Part.Tests;

/// <summary>What the part fits on or into, as a job says it.</summary>
public class CounterpartTests
{
    private static readonly string Corpus = File.ReadAllText(Path.Combine(Repository.Root, "tests", "Sparewright.Part.Tests", "corpus", "counterparts.yaml")).ReplaceLineEndings("\n");

    private static readonly string Head = Corpus[..Corpus.IndexOf("  - {rod: a", StringComparison.Ordinal)];

    /// <summary>The corpus' job with one counterpart, in line 34.</summary>
    private static string With(string counterpart) => $"{Head}  - {counterpart}\n";

    private static Counterpart Read(string counterpart)
    {
        JobReading reading = JobFile.Read(With(counterpart));
        Assert.Empty(reading.Problems);
        return Assert.Single(reading.Job!.Counterparts);
    }

    [Fact]
    public void Every_kind_is_read_with_its_size_and_place()
    {
        JobReading reading = JobFile.Read(Corpus);
        Assert.Empty(reading.Problems);
        IReadOnlyList<Counterpart> all = reading.Job!.Counterparts;
        Assert.Equal([.. Enum.GetValues<CounterpartKind>().Order()], all.Select(c => c.Kind).Distinct().Order());

        Assert.Equal([4.9, 4.91], Assert.IsType<OwnSize.Measured>(all[0].Size).ReadsMm);
        Assert.Equal(("micrometer", "hole_d", FitWord.Slides, Meeting.GoesInto, "bore"), (all[0].With, all[0].Changes, all[0].Fit, all[0].How, all[0].Where.Text));
        Assert.Equal(("h9", (double?)null), (Told(all[1]).ToleranceClass, Told(all[1]).PlusMinusMm));
        Assert.Equal((4.7625, 0.02), (((SizeExpression.Number)Told(all[2]).Nominal).Value, Told(all[2]).PlusMinusMm));
        Assert.Equal(Meeting.GoesThrough, all[2].How);
        Assert.Equal(new WantedClearance(-0.1, 0.2), all[3].Clearance);
        Assert.Equal(["M4", "ST3.5", "M2.5", "M3"], all.Select(c => c.Size).OfType<OwnSize.OfThread>().Select(t => t.Thread));
        Assert.Equal(8, Assert.IsType<OwnSize.OfGauge>(all[8].Size).Number);
        Assert.Equal(["608", "6001-2RS"], all.Select(c => c.Size).OfType<OwnSize.OfBearing>().Select(b => b.Designation));

        Counterpart[] holes = [.. all.Where(c => c.Kind == CounterpartKind.Holes)];
        Assert.All(holes, h => Assert.Equal(Meeting.Meets, h.How));
        Assert.Equal([20.1, 20.0], Assert.IsType<OwnPitch.Measured>(holes[0].Pitch).ReadsMm);
        OwnPitch.BetweenWalls walls = Assert.IsType<OwnPitch.BetweenWalls>(holes[1].Pitch);
        Assert.Equal([17.0, 23.1], [.. walls.WebReadsMm, .. walls.SpanReadsMm]);
        Assert.Equal(0.1, Assert.IsType<OwnPitch.Told>(holes[3].Pitch).PlusMinusMm);
        Assert.All(all.Where(c => c.Kind != CounterpartKind.Holes), c => Assert.Null(c.Pitch));

        Assert.Equal(("just goes", new WantedClearance(0.05, 0.25)), (all[^1].OwnWord, all[^1].Clearance));

        static OwnSize.Told Told(Counterpart counterpart) => Assert.IsType<OwnSize.Told>(counterpart.Size);
    }

    /// <summary>Wherever in the file a word is given its meaning.</summary>
    [Theory]
    [InlineData("", "fit_words: {glides: [0.05, 0.2]}")]
    [InlineData("fit_words: {glides: [0.05, 0.2]}", "")]
    public void A_word_of_ones_own_means_its_window(string before, string after)
    {
        string text = With("{rod: a, reads: 5, goes_into: bore, fit: glides}").Replace("counterparts:", $"{before}\ncounterparts:", StringComparison.Ordinal) + after + "\n";
        JobReading reading = JobFile.Read(text);
        Assert.Empty(reading.Problems);
        Counterpart rod = Assert.Single(reading.Job!.Counterparts);
        Assert.Equal(("glides", (FitWord?)null, new WantedClearance(0.05, 0.2)), (rod.OwnWord, rod.Fit, rod.Clearance));
    }

    [Theory]
    [InlineData("{slides: [0, 1]}", "35:13: `slides` means something already; choose another word, or write `clearance` on the counterpart")]
    [InlineData("{glides: [0.3, 0.1]}", "35:21: the least clearance is not smaller than the greatest; write the smaller one first, and leave room between them")]
    [InlineData("{glides: 0.3}", "35:21: `0.3` stands here; write the least and the greatest clearance [0.1, 0.3]")]
    [InlineData("{Glides: [0, 1]}", "35:13: `Glides` is not a word for a fit; write it in small letters, as `glides` or `just goes`")]
    [InlineData("{rattles: [0, 1]}", "34:46: `ratles` is not a fit; did you mean `rattles`? The words are slides, turns, snug, press and rattles")]
    public void A_word_of_ones_own_that_is_wrong_has_its_place_and_remedy(string words, string message) =>
        Assert.Equal(message, Assert.Single(JobFile.Read(With("{rod: a, reads: 5, goes_into: bore, fit: " + (words.Contains("rattles", StringComparison.Ordinal) ? "ratles" : "snug") + "}") + $"fit_words: {words}\n").Problems).In("job.yaml")["job.yaml:".Length..]);

    [Fact]
    public void What_says_a_size_knows_its_place()
    {
        Counterpart pin = Read("{pin: c, diameter: 5, tolerance: h11, through: bore, changes: hole_d}");
        Assert.Equal(new Place(34, 38), pin.Size!.Place);
        Assert.Equal(new Place(34, 67), pin.ChangesPlace);
        Assert.Equal(new Place(34, 24), Read("{pin: c, diameter: 5, through: bore}").Size!.Place);
    }

    [Theory]
    [InlineData("{rod: a, goes_into: bore}", "34:6: `rod` `a` does not say how big it is; add `reads` or `diameter`")]
    [InlineData("{rod: a, thread: M4, goes_into: bore}", "34:14: `rod` has no `thread`; say its size with `reads` or `diameter`")]
    [InlineData("{wood screw: a, gauge: 31, through: screws}", "34:28: `31` is out of range; write a screw gauge from 0 to 30")]
    [InlineData("{screw: a, thread: 4, through: screws}", "34:24: `4` is not a thread; write it as M4, or ST3.5 for a self-tapping screw")]
    [InlineData("{screw: a, thread: M4, reads: 3.9, through: screws}", "34:16: a counterpart has `reads` and `thread`, of which only one may be there; keep one of `reads`, `diameter`, `thickness`, `width`, `thread`, `gauge` and `designation`")]
    [InlineData("{bearing: a, designation: big, goes_into: bore}", "34:31: `big` is not a bearing's number; write the number on it, as 608")]
    [InlineData("{rod: a, reads: 5, tolerance: h9, goes_into: bore}", "34:24: `tolerance` belongs to a nominal size, and there is none; write `diameter` with it, or remove `tolerance`")]
    [InlineData("{rod: a, diameter: 5, tolerance: h9, plus_minus: 0.1, goes_into: bore}", "34:42: a counterpart has `tolerance` and `plus_minus`, of which only one may be there; keep one of `tolerance` and `plus_minus`")]
    [InlineData("{rod: a, diameter: 5, tolerance: 9, goes_into: bore}", "34:38: `9` is not an ISO 286 class; write the class as h11 or H7")]
    [InlineData("{rod: a, reads: 0, goes_into: bore}", "34:21: `0` is out of range; write a length greater than 0, as the display said it greater than 0")]
    [InlineData("{rod: a, reads: 5, goes_over: bore}", "34:24: `rod` and `goes_over` do not go together; write `goes_into`, `goes_through` or `through`")]
    [InlineData("{rod: a, reads: 5, meet: screws}", "34:24: `rod` and `meet` do not go together; write `goes_into`, `goes_through` or `through`, or make it `holes`")]
    [InlineData("{rod: a, reads: 5}", "34:5: a counterpart needs one of `goes_into`, `goes_through`, `goes_over`, `through` and `meet`; add `goes_into`, `goes_through`, `goes_over`, `through` or `meet`")]
    [InlineData("{rod: a, reads: 5, goes_into: bor}", "34:35: there is no feature `bor`; did you mean `bore`?")]
    [InlineData("{rod: a, reads: 5, goes_into: bore, with: ruler}", "34:47: there is no instrument `ruler`; add it under instruments")]
    [InlineData("{rod: a, reads: 5, goes_into: bore, pitch: 3}", "34:41: `rod` has no pitch; say its size with `reads` or `diameter`, or make it `holes`")]
    [InlineData("{rod: a, reads: 5, goes_into: bore, fit: slide}", "34:46: `slide` is not a fit; did you mean `slides`? The words are slides, turns, snug and press")]
    [InlineData("{rod: a, reads: 5, goes_into: bore, fit: snug, clearance: [0, 1]}", "34:52: a counterpart has `fit` and `clearance`, of which only one may be there; keep one of `fit` and `clearance`")]
    [InlineData("{rod: a, reads: 5, goes_into: bore, clearance: [0.3, 0.1]}", "34:52: the least clearance is not smaller than the greatest; write the smaller one first, and leave room between them")]
    [InlineData("{rod: a, reads: 5, goes_into: bore, clearance: 0.3}", "34:52: `0.3` stands here; write the least and the greatest clearance [0.1, 0.3]")]
    [InlineData("{rod: a, reads: 5, goes_into: bore, changes: bore_d}", "34:50: nothing defines the size `bore_d`; did you mean `hole_d`?")]
    [InlineData("{rod: a, reads: 5, goes_into: bore, changes: side_d}", "34:50: the size `side_d` is derived from others, so that a fit cannot change it by itself; name `wide`, from which it is derived")]
    [InlineData("{holes: a, meet: screws}", "34:6: `holes` `a` does not say how far the holes are apart; add `pitch_reads`, `web_reads` and `span_reads`, or `pitch`")]
    [InlineData("{holes: a, web_reads: 17, meet: screws}", "34:16: from one wall to the other it takes the holes' own diameter to know their centres; add `span_reads`, or the diameter with `reads` or `diameter`")]
    [InlineData("{holes: a, pitch: 20, pitch_reads: 20.1, meet: screws}", "34:27: the pitch is said in two ways; keep the one that you trust: `pitch_reads`, `pitch`, or `web_reads` and `span_reads`")]
    [InlineData("{holes: a, pitch_reads: 20.1, pitch_plus_minus: 0.1, meet: screws}", "34:35: `pitch_plus_minus` belongs to `pitch`, and there is none; add `pitch`, or remove `pitch_plus_minus`")]
    [InlineData("{holes: a, pitch_reads: 20.1, meet: screws, fit: snug}", "34:49: a pattern of holes has no clearance of its own: the play of its screws or pins is all that it has; remove `fit`, and write the screws or pins as counterparts")]
    [InlineData("{rod: a, pin: b, reads: 5, goes_into: bore}", "34:14: a counterpart has `rod` and `pin`, of which only one may be there; keep one of `rod`, `shaft`, `pin`, `tube`, `hose`, `hole`, `screw`, `wood screw`, `nut`, `insert`, `bearing`, `plate`, `groove`, `snap arm` and `holes`")]
    [InlineData("{rod: a, reads: 5, goes_into: bore, hook: 1}", "34:41: `rod` has no `hook`; make it a `snap arm`, or remove it")]
    [InlineData("{snap arm: a, reads: 5, goes_into: bore, arms: 2}", "34:46: `arms` belongs to a hook, and there is none; add `hook`, how far it stands out, or remove it")]
    [InlineData("{snap arm: a, reads: 5, goes_into: bore, hook: 1, arm_length: 12}", "34:55: how far an arm can bend takes both its length and its thickness; add `arm_thickness`")]
    [InlineData("{groove: a, reads: 5, goes_into: bore}", "34:27: `groove` and `goes_into` do not go together; write `goes_over`")]
    [InlineData("{rod: a, reads: 5, goes_into: bore, fit: Easy}", "34:46: `Easy` is not a fit; write `slides`, `turns`, `snug` or `press`, or a word of `fit_words`")]
    [InlineData("{rod: a, reads: 5, goes_into: bore, fit: wobbles}", "34:46: `wobbles` is not a fit; write `slides`, `turns`, `snug` or `press`, or say what it means: fit_words: {wobbles: [0.1, 0.3]}")]
    public void Each_error_has_its_place_and_remedy(string counterpart, string message) =>
        Assert.Equal(message, Assert.Single(JobFile.Read(With(counterpart)).Problems).In("job.yaml")["job.yaml:".Length..]);

    [Fact]
    public void An_angle_cannot_be_changed_by_a_fit()
    {
        string text = With("{rod: a, reads: 5, goes_into: bore, changes: slope}").Replace("  pitch: {about: 20}", "  pitch: {about: 20}\n  slope: {about: 20 deg}", StringComparison.Ordinal);
        Assert.Contains("the size `slope` is an angle, and a clearance changes lengths", Assert.Single(JobFile.Read(text).Problems).What, StringComparison.Ordinal);
    }

    [Fact]
    public void Names_are_unique() =>
        Assert.Contains("there is another counterpart `a` in line 34", JobFile.Read(With("{rod: a, reads: 5, goes_into: bore}\n  - {pin: a, reads: 5, goes_into: bore}")).Problems[0].What, StringComparison.Ordinal);

    /// <summary>Whichever keys stand together, the answer is a counterpart that says how big it is and how far apart, or a problem in its own line.</summary>
    [Fact]
    public void Any_keys_together_are_read_or_refused_with_a_place()
    {
        string[] pieces =
        [
            "rod: a", "hose: b", "holes: c", "screw: d", "wood screw: e", "nut: f", "insert: g", "bearing: h", "plate: i", "groove: k", "snap arm: j", "reads: 5", "reads: [5, 5.1]", "reads: -1", "diameter: 5", "diameter: hole_d", "thickness: 3",
            "width: 7", "thread: M4", "thread: ST9", "gauge: 8", "designation: 608", "tolerance: h11", "plus_minus: 0.1", "pitch_reads: 20", "web_reads: 17", "span_reads: 23", "pitch: 20", "pitch_plus_minus: 0.1", "with: caliper",
            "goes_into: bore", "goes_through: bore", "goes_over: peg.side", "through: gap", "meet: screws", "changes: hole_d", "changes: side_d", "fit: slides", "fit: press", "hook: 1", "arms: 2", "arm_length: 12", "arm_thickness: 1.5", "clearance: [0, 1]", "clearance: [1, 0]",
        ];
        int good = 0;
        Gen.Shuffle(pieces).Select(Gen.Int[1, 7], (all, n) => all[..n].DistinctBy(p => p.Split(':')[0]).ToArray()).Sample(keys =>
        {
            JobReading reading = JobFile.Read(With($"{{{string.Join(", ", keys)}}}"));
            if (reading.Job is not { } job)
            {
                Assert.NotEmpty(reading.Problems);
                Assert.All(reading.Problems, p => Assert.Equal(34, p.Place.Line));
                return;
            }

            Interlocked.Increment(ref good);
            Counterpart read = Assert.Single(job.Counterparts);
            Assert.True(read.Size is not null || read.Kind == CounterpartKind.Holes);
            Assert.Equal(read.Kind == CounterpartKind.Holes, read.Pitch is not null);
            Assert.False(read.Fit is not null && read.Clearance is not null);
        }, iter: 1_000);
        Assert.True(good > 0, "no combination was good: the pieces are too wild");
    }

    [Fact]
    public void A_counterpart_is_written_into_the_text_and_read_back()
    {
        JobEdit edit = JobText.WithEntry(Corpus, "counterparts", 0, new JobValue.Group([("pin", new JobValue.Text("extra")), ("diameter", new JobValue.Text("4")), ("tolerance", new JobValue.Text("h11")), ("goes_into", new JobValue.Text("bore"))]));
        Assert.Null(edit.Problem);
        Counterpart first = JobFile.Read(edit.Text!).Job!.Counterparts[0];
        Assert.Equal(("extra", CounterpartKind.Pin), (first.Name, first.Kind));
        Assert.Equal("h9", ((OwnSize.Told)JobFile.Read(JobText.WithValue(edit.Text!, "counterparts/0/tolerance", "h9").Text!).Job!.Counterparts[0].Size!).ToleranceClass);
        Assert.Equal(Corpus, JobText.Without(edit.Text!, "counterparts/0").Text);
    }

    [Fact]
    public void A_feature_that_is_renamed_is_renamed_where_a_counterpart_meets_it()
    {
        string renamed = NamesInUse.Renamed(Corpus, "shape/1/hole", "eye").Text!;
        Assert.Empty(JobFile.Read(renamed).Problems);
        Assert.Equal(["eye", "eye.wall", "eye"], JobFile.Read(renamed).Job!.Counterparts.Take(3).Select(c => c.Where.Text));
    }
}
