using System.Text;
using Xunit;

namespace Sparewright.Part.Tests;

/// <summary>For each kind of error the exact message: file, line, column, what is wrong, what to do.</summary>
public class JobFileMessagesTests
{
    private const string Good = """
        sparewright: 1
        part: Peg
        could_injure: no
        instruments:
          caliper: {kind: digital caliper}
        sizes:
          wide: {about: 10}
          tall: {about: 20}
          half: {equals: wide/2}
        shape:
          - boss: peg
            diameter: wide
            height: tall
          - hole: bore
            from: peg.top
            diameter: half
            through: peg
        readings:
          - {outside: peg.side, reads: 10.02}
        """;

    [Fact]
    public void The_job_that_the_cases_change_is_good() => Assert.Empty(JobFile.Read(Good).Problems);

    [Theory]
    // ---- names and keys
    [InlineData("height: tall", "heigth: tall", "job.yaml:11:5: a boss needs `height`, and it is missing; add height: a length expression (its height)", "job.yaml:13:5: unknown key `heigth`; did you mean `height`?")]
    [InlineData("part: Peg", "part: Peg\nowner: me", "job.yaml:3:1: unknown key `owner`; the keys of a job are sparewright, part, about, made_by, made_of, broke, broke_at, lives, could_injure, instruments, sizes, shape, draft, readings, fit_words, counterparts, wanted_odds, loads, print, test_bars, trials and spares")]
    [InlineData("part: Peg", "part: Peg\npart: Pin", "job.yaml:3:1: the key `part` is there twice; the first is in line 2; remove one of them")]
    [InlineData("part: Peg\n", "", "job.yaml:1:1: a job needs `part`, and it is missing; add part: a name (what the part is called)")]
    [InlineData("- boss: peg", "- bos: peg", "job.yaml:11:5: unknown key `bos`; did you mean `boss`?")]
    [InlineData("- boss: peg", "- knob: peg", "job.yaml:11:5: this does not say which kind of feature it is; add one of the keys plate, boss, block, turned_shape, rib, rounded_end, hole, slot, pocket, groove, edge_round, fillet, chamfer, row, ring, mirror or datum")]
    [InlineData("- boss: peg", "- boss: peg\n    plate: peg", "job.yaml:12:5: `boss` and `plate` cannot be one feature; make two of it, or remove one of the keys")]
    [InlineData("diameter: wide", "diameter: wid", "job.yaml:12:15: nothing defines the size `wid`; did you mean `wide`?")]
    [InlineData("diameter: wide", "diameter: 2*(wide + breadth)", "job.yaml:12:25: nothing defines the size `breadth`; add it under sizes: breadth: {about: …}")]
    [InlineData("from: peg.top", "from: pge.top", "job.yaml:15:11: there is no feature `pge`; did you mean `peg.top`?")]
    [InlineData("from: peg.top", "from: knob.top", "job.yaml:15:11: there is no feature `knob`; the features are peg, bore, ground and upright")]
    [InlineData("from: peg.top", "from: pegg.top", "job.yaml:15:11: there is no feature `pegg`; did you mean `peg.top`?")]
    [InlineData("from: peg.top", "from: bore.end", "job.yaml:15:11: `bore.end` is used in the feature that makes it; name an element of an earlier feature")]
    [InlineData("height: tall", "height: tall\n    stands_on: bore.end", "job.yaml:14:16: `bore` is built only later, in line 15; put `bore` before this feature")]
    [InlineData("- hole: bore", "- hole: peg", "job.yaml:14:11: there is another feature `peg` in line 11; give one of them another name")]
    [InlineData("- hole: bore", "- hole: ground", "job.yaml:14:11: `ground` is a datum that every job has; give the feature another name")]
    [InlineData("- hole: bore", "- hole: Bore 1", "job.yaml:14:11: `Bore 1` is not a feature name; feature names have lower-case letters, digits and underscores, and begin with a letter")]
    [InlineData("from: peg.top", "from: peg top", "job.yaml:15:11: `peg top` is not an element; write feature.element, as socket.top, or a datum, as ground")]
    [InlineData("  half:", "  sin:", "job.yaml:9:3: `sin` is a word of the algebra of sizes; call the size something else, as sin_size", "job.yaml:16:15: nothing defines the size `half`; add it under sizes: half: {about: …}")]
    [InlineData("reads: 10.02", "reads: 10.02, with: calliper", "job.yaml:19:45: there is no instrument `calliper`; did you mean `caliper`?")]
    [InlineData("reads: 10.02}", "reads: 10.02, id: a}\n  - {inside: bore.wall, reads: 5, id: a}", "job.yaml:20:39: there is another reading `a` in line 19; give one of them another name")]
    [InlineData("reads: 10.02}", "reads: 10.02, id: r2}\n  - {inside: bore.wall, reads: 5}", "job.yaml:19:43: another reading is called `r2` by its place in the list; give this one another name")]
    // ---- values
    [InlineData("sparewright: 1", "sparewright: 2", "job.yaml:1:14: this job file is of version 2, and this program reads version 1; use a newer Sparewright")]
    [InlineData("sparewright: 1", "sparewright: one", "job.yaml:1:14: `one` is not a whole number; write the version of the job file from 1 to 1, in digits only")]
    [InlineData("sparewright: 1\n", "", "job.yaml:1:1: the file does not say that it is a job file; begin the file with: sparewright: 1")]
    [InlineData("could_injure: no", "could_injure:", "job.yaml:3:14: nothing is written here where the question whether its failure could injure someone wants its answer; write no, or {why: …, acknowledged: …}")]
    [InlineData("could_injure: no", "could_injure: yes", "job.yaml:3:15: a part that could injure needs a reason and an acknowledgement; if you mean it, write could_injure: {why: …, acknowledged: \"I know that this part could injure someone if it fails, and nobody has approved it\"}")]
    [InlineData("could_injure: no", "could_injure: {why: brakes}", "job.yaml:3:15: the answer that it could injure needs `acknowledged`, and it is missing; add acknowledged: \"I know that this part could injure someone if it fails, and nobody has approved it\" (if you mean it, typed in full)")]
    [InlineData("could_injure: no", "could_injure: {why: brakes, acknowledged: fine}", "job.yaml:3:29: the acknowledgement has other words than it needs; if you mean it, type acknowledged: \"I know that this part could injure someone if it fails, and nobody has approved it\"")]
    [InlineData("kind: digital caliper", "kind: digital calliper", "job.yaml:5:19: `digital calliper` is not a kind of instrument; did you mean `digital caliper`?")]
    [InlineData("kind: digital caliper", "kind: scale, resolution: 0.1 mm", "job.yaml:5:38: a scale shows grams; write it in g")]
    [InlineData("wide: {about: 10}", "wide: {about: 10, fixed: 10}", "job.yaml:7:21: a size has `about` and `fixed`, of which only one may be there; keep one of `about`, `likely`, `fixed` and `equals`")]
    [InlineData("wide: {about: 10}", "wide: 10", "job.yaml:7:9: `10` does not say what it is to the size; write {about: 10} to start from it, or {fixed: 10} to hold it")]
    [InlineData("wide: {about: 10}", "wide: {about: 1,5}", "job.yaml:7:19: unknown key `5`; the keys of a size are about, likely, fixed, equals, kind, nominal and not_nominal")]
    [InlineData("wide: {about: 10}", "wide: {about: \"1,5\"}", "job.yaml:7:17: 1,5 has a comma; write 1.5")]
    [InlineData("wide: {about: 10}", "wide: {about: 010}", "job.yaml:7:17: 010 begins with a zero, which some programs read as octal; write 10")]
    [InlineData("wide: {about: 10}", "wide: {about: .nan}", "job.yaml:7:17: .nan is not a number that an instrument can show; write a length like 12.5, 12.5 mm, 0.492 in or 15/32 in")]
    [InlineData("wide: {about: 10}", "wide: {about: 1 cm}", "job.yaml:7:17: cm is not a unit of the job file; write 10 mm")]
    [InlineData("wide: {about: 10}", "wide: {about: 15/32}", "job.yaml:7:17: 15/32 is a fraction without its unit; write 15/32 in")]
    [InlineData("wide: {about: 10}", "wide: {about: 10 deg}", "job.yaml:9:18: this comes out as an angle, and a length is wanted here; write a length; a derived size that is an angle has kind: angle", "job.yaml:12:15: this comes out as an angle, and a length is wanted here; write a length; a derived size that is an angle has kind: angle")]
    [InlineData("wide: {about: 10}", "wide: {about: 10 mm, kind: angle}", "job.yaml:7:17: this is a length, and the size is an angle; give the value the unit of the size, or correct `kind`")]
    [InlineData("wide: {about: 10}", "wide: {likely: {value: 10, plus_minus: 0}}", "job.yaml:7:30: a likely value needs a ± greater than 0; write how sure you are, or use `fixed`")]
    [InlineData("half: {equals: wide/2}", "half: {equals: half/2}", "job.yaml:9:3: the size `half` is derived from itself; give one of them a value of its own with `about`, `likely` or `fixed`")]
    [InlineData("wide: {about: 10}", "wide: {equals: 2*half}", "job.yaml:7:3: these sizes are derived from each other in a circle: wide → half → wide; give one of them a value of its own with `about`, `likely` or `fixed`")]
    [InlineData("through: peg", "depth: 5, through: peg", "job.yaml:17:22: a colon with a blank behind it stands inside a value; put the value in quotes, or check the indentation of this line and the one before")]
    [InlineData("through: peg", "depth: 5\n    through: peg", "job.yaml:18:5: a hole has `depth` and `through`, of which only one may be there; keep one of `depth` and `through`")]
    [InlineData("    through: peg\n", "", "job.yaml:14:5: a hole needs one of `depth` and `through`; add `depth` or `through`")]
    [InlineData("through: peg", "through: peg\n    at: [1]", "job.yaml:18:9: one value stands in this list; write a point [u, v] on the face, or [x, y, z] with an axis")]
    [InlineData("through: peg", "through: peg\n    at: [1, 2, 3]", "job.yaml:18:5: a hole from a face has a point [u, v] on it; leave out the coordinate that is constant on the face")]
    [InlineData("through: peg", "through: peg\n    ends: pointed", "job.yaml:18:11: `pointed` is not an end of a hole; write `flat` or `cone`")]
    [InlineData("outside: peg.side", "outside: [peg.side, bore.wall], across: right", "job.yaml:19:38: a reading between two elements has its direction from them; remove `across`, or one of the elements")]
    [InlineData("reads: 10.02", "reads: ", "job.yaml:19:32: nothing is written here; write a length as the display said it, or a list of repeats")]
    [InlineData("reads: 10.02", "reads: 10.02, worn: a bit", "job.yaml:19:45: `a bit` is neither yes nor no; write yes or no")]
    [InlineData("readings:\n", "readings: none\nloads:\n", "job.yaml:18:11: `none` stands here; write a list of readings", "job.yaml:20:5: a load needs `name`, and it is missing; add name: a name (what it is called)", "job.yaml:20:5: a load needs one of `push`, `pull`, `twist`, `bend`, `pressure`, `press`, `snap`, `moved` and `own_weight`; add `push`, `pull`, `twist`, `bend`, `pressure`, `press`, `snap`, `moved` or `own_weight`", "job.yaml:20:6: unknown key `outside`; the keys of a load are name, push, pull, twist, bend, pressure, press, snap, moved, own_weight, screwed, washer, rests_on, held_fast, held_by, times and lasts", "job.yaml:20:25: unknown key `reads`; the keys of a load are name, push, pull, twist, bend, pressure, press, snap, moved, own_weight, screwed, washer, rests_on, held_fast, held_by, times and lasts")]
    // ---- expressions
    [InlineData("diameter: wide", "diameter: 2 wide", "job.yaml:12:17: `wide` stands directly behind 2; write 2*wide for a product; the units are mm, in and deg")]
    [InlineData("diameter: wide", "diameter: wide tall", "job.yaml:12:20: two values stand side by side; write + - * / or ^ between them")]
    [InlineData("diameter: wide", "diameter: wide*tall", "job.yaml:12:15: this comes out as an area, and a length is wanted here; give the bare numbers in it their unit, as 10 mm, so that the units come out right")]
    [InlineData("diameter: wide", "diameter: wide/tall", "job.yaml:12:15: this comes out as a pure number, and a length is wanted here; multiply by a length, for example by 1 mm")]
    [InlineData("diameter: wide", "diameter: wide + wide*tall", "job.yaml:12:15: a length and an area are added here; give bare numbers their unit where they are meant as lengths (12 mm) or angles (30 deg), and divide by a unit to be rid of it")]
    [InlineData("diameter: wide", "diameter: sqr(wide)", "job.yaml:12:15: there is no function `sqr`; did you mean `sqrt`?")]
    [InlineData("diameter: wide", "diameter: min(wide)", "job.yaml:12:15: min has 1 values in its brackets and takes two to 16 values; write min(a, b)")]
    [InlineData("diameter: wide", "diameter: (wide + 1", "job.yaml:12:15: this bracket is not closed; add )")]
    [InlineData("diameter: wide", "diameter: wide)", "job.yaml:12:19: this bracket closes none; remove it, or open one with (")]
    [InlineData("diameter: wide", "diameter: wide +", "job.yaml:12:21: the expression ends where a value is wanted; write the value, or remove what stands before it")]
    [InlineData("diameter: wide", "diameter: 2 × wide", "job.yaml:12:17: × is not an operator here; write * for a product")]
    [InlineData("diameter: wide", "diameter: Wide", "job.yaml:12:15: `Wide` is not a size name; size names have lower-case letters, digits and underscores, and begin with a letter: `wide`")]
    [InlineData("diameter: wide", "diameter: 1/0", "job.yaml:12:15: this has no finite value; look for a division by zero, or a function of a value for which it has none")]
    [InlineData("diameter: wide", "diameter: 3 cm", "job.yaml:12:15: cm is not a unit of the job file; write 30 mm")]
    [InlineData("through: peg", "through: peg\n    at: [min(wide, 3), 0]", "job.yaml:18:10: the comma in `min(wide, 3)` separates two values here; inside [ ] or { } write it in quotes: \"min(wide, 3)\"")]
    [InlineData("through: peg", "through: peg\n    counterbore: {diameter: max(wide, 3), depth: 1}", "job.yaml:18:29: the comma in `max(wide, 3)` separates two values here; inside [ ] or { } write it in quotes: \"max(wide, 3)\"")]
    // ---- YAML
    [InlineData("part: Peg", "part: &p Peg", "job.yaml:2:7: anchors (&p) are not used in a job file; write the value out where it is wanted")]
    [InlineData("part: Peg", "part: *p", "job.yaml:2:7: references (*p) are not used in a job file; write the value out where it is wanted")]
    [InlineData("part: Peg", "part: !!str Peg", "job.yaml:2:7: tags (tag:yaml.org,2002:str) are not used in a job file; remove the tag; quotes make a text of anything")]
    [InlineData("part: Peg", "part: Peg\n<<: {about: x}", "job.yaml:3:1: merge keys (<<) are not used in a job file; write the keys out where they are wanted")]
    [InlineData("part: Peg", "part: Peg\n\tabout: x", "job.yaml:3:1: a tab indents this line; indent with blanks")]
    [InlineData("part: Peg", "part: Peg\u200e\u0007", "job.yaml:2:11: a character that cannot be seen (U+0007) stands here; remove it")]
    [InlineData("part: Peg", "part: \"Peg", "job.yaml:2:7: an opening quote is not closed; close it with the same quote")]
    [InlineData("part: Peg", "part: Peg: x", "job.yaml:2:10: a colon with a blank behind it stands inside a value; put the value in quotes, or check the indentation of this line and the one before")]
    [InlineData("part: Peg", "part: @home", "job.yaml:2:7: this sign cannot begin a value; put the value in quotes")]
    [InlineData("reads: 10.02}", "reads: 10.02", "job.yaml:19:5: this { is not closed where it should be; close it with }, put a comma between its keys, or put a value with [ ] { } , # : in quotes")]
    [InlineData("reads: 10.02}", "reads: 10.02}\n---\npart: x", "job.yaml:20:1: a second document begins here; keep one job to a file: remove the line --- and what follows, or put it into a file of its own")]
    [InlineData("part: Peg", "part: Peg\nabout: [[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]", "job.yaml:3:39: this is nested deeper than 32 levels; write it flatter; a job needs fewer than ten levels")]
    [InlineData("part: Peg", "part: Peg\n? [a]\n: b", "job.yaml:3:3: a key must be a plain word; write the key as a name followed by a colon")]
    [InlineData("sparewright: 1\n", "%YAML 1.1\n---\nsparewright: 1\n", "job.yaml:1:1: a job file has no lines that begin with %; remove that line")]
    public void The_message_says_where_what_and_how_to_put_it_right(string good, string bad, params string[] expected)
    {
        Assert.Contains(good, Good, StringComparison.Ordinal);

        JobReading reading = JobFile.Read(ReplaceFirst(Good, good, bad));

        Assert.Null(reading.Job);
        Assert.Equal(expected, reading.Problems.Select(p => p.In("job.yaml")));
    }

    [Fact]
    public void All_problems_are_said_at_once_in_the_order_of_their_places()
    {
        string text = Good.Replace("part: Peg", "part: ", StringComparison.Ordinal).Replace("diameter: wide", "diameter: wid", StringComparison.Ordinal).Replace("reads: 10.02", "reads: x", StringComparison.Ordinal);

        Assert.Equal([2, 12, 19], JobFile.Read(text).Problems.Select(p => p.Place.Line));
    }

    [Fact]
    public void What_is_no_job_file_at_all_is_said_so()
    {
        Assert.Equal("job.yaml:1:1: the job file is empty; begin it with: sparewright: 1", Assert.Single(JobFile.Read("").Problems).In("job.yaml"));
        Assert.Equal("job.yaml:1:1: the job file is empty; begin it with: sparewright: 1", Assert.Single(JobFile.Read("# nothing\n").Problems).In("job.yaml"));
        Assert.Equal("job.yaml:1:1: this is not a job file; begin the file with: sparewright: 1", Assert.Single(JobFile.Read("hello").Problems).In("job.yaml"));
        Assert.Equal("job.yaml:1:1: this is not a job file; begin the file with: sparewright: 1", Assert.Single(JobFile.Read("- a\n").Problems).In("job.yaml"));
        Assert.Equal("job.yaml:2:1: `sparewright` is not the first key; move this line to the top of the file",
            JobFile.Read(Good.Replace("sparewright: 1\npart: Peg", "part: Peg\nsparewright: 1", StringComparison.Ordinal)).Problems[0].In("job.yaml"));
    }

    [Fact]
    public void A_file_over_one_megabyte_or_not_in_utf8_is_refused()
    {
        Assert.Equal("job.yaml: the file is larger than 1 MB; keep photographs and other files beside the job, not in it",
            Assert.Single(JobFile.Read(Good + "\n#" + new string('x', 1_000_000)).Problems).In("job.yaml"));
        Assert.Equal("job.yaml:2:8: this is not UTF-8 text; save the file as UTF-8",
            Assert.Single(JobFile.Read([.. Encoding.UTF8.GetBytes("sparewright: 1\npart: P"), 0xE9, .. "g\n"u8]).Problems).In("job.yaml"));
        Assert.Equal("job.yaml:1:1: the file is in UTF-16; save it as UTF-8", Assert.Single(JobFile.Read(Encoding.Unicode.GetPreamble().Concat(Encoding.Unicode.GetBytes(Good)).ToArray()).Problems).In("job.yaml"));
        Assert.Equal("nowhere/job.yaml: there is no such file; check the path; a job is a folder with job.yaml in it",
            Assert.Single(JobFile.ReadFile("nowhere/job.yaml").Problems).In("nowhere/job.yaml"));
    }

    [Fact]
    public void Windows_line_ends_a_byte_order_mark_and_odd_blanks_change_nothing()
    {
        Assert.Empty(JobFile.Read(Good.Replace("\n", "\r\n", StringComparison.Ordinal)).Problems);
        Assert.Empty(JobFile.Read([.. Encoding.UTF8.GetPreamble(), .. Encoding.UTF8.GetBytes(Good)]).Problems);
        Assert.Empty(JobFile.Read(Good + "\n\n   \n# end\n...\n").Problems);
    }

    [Fact]
    public void Columns_count_from_the_first_character_that_is_seen() =>
        Assert.Equal(new Place(1, 14), JobFile.Read("\ufeff" + Good.Replace("wright: 1", "wright: x", StringComparison.Ordinal)).Problems[0].Place);

    /// <summary>Here the library throws what is not its own exception; the place is the last that it had understood.</summary>
    [Fact]
    public void A_bracket_left_open_before_another_key_is_a_problem_in_its_line() =>
        Assert.Equal("job.yaml:19:3: what follows here cannot be read as YAML; look for an unclosed quote or bracket, or a stray sign, around here",
            Assert.Single(JobFile.Read(Good.Replace("reads: 10.02}", "reads: [10.02, 10\nloads: []", StringComparison.Ordinal)).Problems).In("job.yaml"));

    private static string ReplaceFirst(string text, string old, string by)
    {
        int at = text.IndexOf(old, StringComparison.Ordinal);
        return string.Concat(text.AsSpan(0, at), by, text.AsSpan(at + old.Length));
    }
}
