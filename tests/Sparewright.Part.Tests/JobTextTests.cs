using CsCheck;
using Sparewright.Part.Yaml;
using Xunit;

namespace Sparewright.Part.Tests;

public class JobTextTests
{
    private const string Text = """
        # a job
        sparewright: 1
        part: 'Old peg'   # its name
        sizes:
          wide: {about: 10}     # measured roughly
          tall:
            about: "20"
          none:
          empty: {}
        readings:
          - {outside: peg.side, reads: 10.02}
          # the second
          - outside: [a.b, c.d]
            reads:
              - 1
              - 2
        note: |
          two
          lines
        """;

    [Theory]
    [InlineData("readings/0", "  - {outside: peg.side, reads: 10.02}\n", "")]
    [InlineData("readings/1", "  # the second\n  - outside: [a.b, c.d]\n    reads:\n      - 1\n      - 2\n", "")]
    [InlineData("readings/1/reads/0", "      - 1\n", "")]
    [InlineData("readings/1/outside", "- outside: [a.b, c.d]\n    reads:", "- reads:")]
    [InlineData("readings/1/reads", "    reads:\n      - 1\n      - 2\n", "")]
    [InlineData("readings/1/outside/1", "[a.b, c.d]", "[a.b]")]
    [InlineData("readings/0/outside", "{outside: peg.side, reads: 10.02}", "{reads: 10.02}")]
    [InlineData("readings/0/reads", "{outside: peg.side, reads: 10.02}", "{outside: peg.side}")]
    [InlineData("sizes/wide", "  wide: {about: 10}     # measured roughly\n", "")]
    [InlineData("sizes/wide/about", "{about: 10}", "{}")]
    [InlineData("sizes/none", "  none:\n", "")]
    [InlineData("sizes/tall/about", "  tall:\n    about: \"20\"\n", "  tall: {}\n")]
    [InlineData("note", "\nnote: |\n  two\n  lines", "\n")]
    public void Only_the_entry_goes(string path, string before, string after)
    {
        Assert.Contains(before, Text, StringComparison.Ordinal);
        JobEdit edit = JobText.Without(Text, path);
        Assert.Null(edit.Problem);
        Assert.Equal(Text.Replace(before, after, StringComparison.Ordinal), edit.Text);

        string windows = Text.Replace("\n", "\r\n", StringComparison.Ordinal);
        Assert.Equal(edit.Text!.Replace("\n", "\r\n", StringComparison.Ordinal), JobText.Without(windows, path).Text);
    }

    [Fact]
    public void A_list_that_nothing_is_left_of_stays_as_an_empty_one()
    {
        const string one = "sparewright: 1\nreadings:   # all of them\n  - {outside: a.b, reads: 1}   # the only one\nwanted_odds: 0.9\n";
        string emptied = JobText.Without(one, "readings/0").Text!;
        Assert.Equal("sparewright: 1\nreadings: []   # all of them\nwanted_odds: 0.9\n", emptied);
        Assert.Equal("sparewright: 1\nreadings: [{outside: a.b}]   # all of them\nwanted_odds: 0.9\n",
            JobText.WithValue(emptied, "readings/+", new JobValue.Group([("outside", "a.b")])).Text);
    }

    [Theory]
    [InlineData("readings/7")]
    [InlineData("sizes/wide/nothing")]
    [InlineData("part/x")]
    public void What_is_not_there_cannot_go(string path) => Assert.NotNull(JobText.Without(Text, path).Problem);

    [Theory]
    [InlineData("sizes/wide/about", "11.5 mm", "  wide: {about: 10} ", "  wide: {about: 11.5 mm} ")]
    [InlineData("part", "New 'peg'", "part: 'Old peg'   #", "part: 'New ''peg'''   #")]
    [InlineData("sizes/tall/about", "21", "about: \"20\"", "about: \"21\"")]
    [InlineData("sizes/wide/fixed", "3", "{about: 10}", "{about: 10, fixed: 3}")]
    [InlineData("sizes/none/about", "3", "  none:\n", "  none: {about: 3}\n")]
    [InlineData("sizes/empty/about", "3", "empty: {}", "empty: {about: 3}")]
    [InlineData("sizes/tall/kind", "length", "    about: \"20\"\n", "    about: \"20\"\n    kind: length\n")]
    [InlineData("sizes/deep/about", "1/2 in", "  empty: {}\n", "  empty: {}\n  deep: {about: 1/2 in}\n")]
    [InlineData("readings/0/reads", "10.03", "reads: 10.02}", "reads: 10.03}")]
    [InlineData("readings/0/worn", "yes", "reads: 10.02}", "reads: 10.02, worn: yes}")]
    [InlineData("readings/1/reads/1", "2.5", "      - 2\n", "      - 2.5\n")]
    [InlineData("readings/1/reads/+", "3", "      - 2\n", "      - 2\n      - 3\n")]
    [InlineData("readings/1/outside/1", "min(a, b)", "[a.b, c.d]", "[a.b, \"min(a, b)\"]")]
    [InlineData("note", "one line", "|\n  two\n  lines", "one line")]
    [InlineData("wanted_odds", "0.9", "      - 2\n", "      - 2\nwanted_odds: 0.9\n")]
    [InlineData("unheard_of", "0.9", "  lines", "  lines\nunheard_of: 0.9")]
    [InlineData("part", "with: colon", "'Old peg'", "'with: colon'")]
    [InlineData("note", "with: colon", "|\n  two\n  lines", "\"with: colon\"")]
    public void Only_the_value_changes(string path, string value, string before, string after)
    {
        Assert.Contains(before, Text, StringComparison.Ordinal);
        JobEdit edit = JobText.WithValue(Text, path, value);
        Assert.Null(edit.Problem);
        Assert.Equal(Text.Replace(before, after, StringComparison.Ordinal), edit.Text);

        // The same with the line ends of Windows.
        string windows = Text.Replace("\n", "\r\n", StringComparison.Ordinal);
        Assert.Equal(edit.Text!.Replace("\n", "\r\n", StringComparison.Ordinal), JobText.WithValue(windows, path, value).Text);
    }

    private const string Sparse = """
        sparewright: 1
        part: Old peg     # its name
        # told by its owner
        about: >
          It holds
          the lid
            # on the shelf

        # Whom it could hurt
        could_injure: no
        instruments:
          # from the attic
          caliper:
            # it wanders
            zero_error: 0.02
            mpe: 0.03
          other: {zero_error: 0.02}
        lives:
          hottest: 30 degC
        # What there is of it
        shape:
          - height: 3
            boss: peg
          - {boss: pin, height: 4}
        readings:
          - outside: peg.side
            reads: 3
        loads:
          - held_fast: [peg.bottom]
        """;

    /// <summary>A new key goes where the reference has it, so that a file stays in the order in which others look for things.</summary>
    [Theory]
    [InlineData("made_by", "    # on the shelf\n", "    # on the shelf\nmade_by: x\n")]
    [InlineData("broke", "    # on the shelf\n", "    # on the shelf\nbroke: x\n")]
    [InlineData("lives/wet", "lives:\n", "lives:\n  wet: x\n")]
    [InlineData("sizes/wide/about", "  other: {zero_error: 0.02}\n", "  other: {zero_error: 0.02}\nsizes: {wide: {about: x}}\n")]
    [InlineData("spares/kept", "  - held_fast: [peg.bottom]", "  - held_fast: [peg.bottom]\nspares: {kept: x}")]
    [InlineData("instruments/caliper/kind", "    # it wanders\n", "    kind: x\n    # it wanders\n")]
    [InlineData("instruments/caliper/resolution", "    # it wanders\n", "    resolution: x\n    # it wanders\n")]
    [InlineData("instruments/caliper/inside_jaw_flat", "    zero_error: 0.02\n", "    zero_error: 0.02\n    inside_jaw_flat: x\n")]
    [InlineData("instruments/other/kind", "{zero_error: 0.02}", "{kind: x, zero_error: 0.02}")]
    [InlineData("instruments/other/mpe", "{zero_error: 0.02}", "{mpe: x, zero_error: 0.02}")]
    [InlineData("instruments/a name/kind", "  other: {zero_error: 0.02}\n", "  other: {zero_error: 0.02}\n  a name: {kind: x}\n")]
    [InlineData("shape/0/diameter", "    boss: peg\n", "    boss: peg\n    diameter: x\n")]
    [InlineData("shape/1/diameter", "{boss: pin, height: 4}", "{boss: pin, diameter: x, height: 4}")]
    [InlineData("shape/1/at", "{boss: pin, height: 4}", "{boss: pin, height: 4, at: x}")]
    [InlineData("readings/0/id", "    reads: 3\n", "    reads: 3\n    id: x\n")]
    [InlineData("loads/0/name", "  - held_fast: [peg.bottom]", "  - name: x\n    held_fast: [peg.bottom]")]
    public void A_new_key_goes_where_the_reference_has_it(string path, string before, string after)
    {
        Assert.Contains(before, Sparse, StringComparison.Ordinal);
        JobEdit edit = JobText.WithValue(Sparse, path, "x");
        Assert.Null(edit.Problem);
        Assert.Equal(Sparse.Replace(before, after, StringComparison.Ordinal), edit.Text);

        string windows = Sparse.Replace("\n", "\r\n", StringComparison.Ordinal);
        Assert.Equal(edit.Text!.Replace("\n", "\r\n", StringComparison.Ordinal), JobText.WithValue(windows, path, "x").Text);
    }

    [Fact]
    public void A_new_reading_is_a_line_of_its_own_below_the_last()
    {
        JobEdit edit = JobText.WithValue(Text, "readings/+", new JobValue.Group([("inside", "bore.wall"), ("reads", new JobValue.List(["5.01", "5.02"]))]));

        Assert.Equal(Text.Replace("      - 2\n", "      - 2\n  - {inside: bore.wall, reads: [5.01, 5.02]}\n", StringComparison.Ordinal), edit.Text);
    }

    [Fact]
    public void What_cannot_be_changed_is_said()
    {
        Assert.Equal("there is nothing called `x` in a single value", JobText.WithValue(Text, "part/x", "1").Problem!.What);
        Assert.Equal("this list has no entry `7`", JobText.WithValue(Text, "readings/7", "1").Problem!.What);
        Assert.Equal("a tab indents this line", JobText.WithValue("\ta: 1", "a", "1").Problem!.What);
        Assert.NotNull(JobText.WithValue(Text, "part", "\ud800").Problem);
    }

    private static Gen<string> Among(params string[] all) => Gen.Int[0, all.Length - 1].Select(k => all[k]);

    private static readonly Gen<string> Values = Gen.OneOf(
        Among("12", "15/32 in", "1.05 ± 0.02", "-x", "- x", "null", "~", "#", "a #b", "a: b", "yes", "'", "\"", "\\", "[", "]", "a,b", "{", "@x", "%", "", " x", "x ", "a\nb", "a\tb", "---", "...", "😀", "é", "x:", "<<", "*a", "&a", "!t", "|", ">"),
        Gen.String[Gen.Char[' ', '~'], 0, 12]);

    /// <summary>Any value at any place of the examples: the text reads as the old one with that one change, and the bytes around it stay.</summary>
    [Fact]
    public void Whatever_is_written_is_read_again_and_nothing_else_changes()
    {
        string[] texts = [.. Directory.GetDirectories(Path.Combine(Repository.Root, "examples")).Order(StringComparer.Ordinal).Select(d => File.ReadAllText(Path.Combine(d, "job.yaml"))), Text];
        var places = texts.SelectMany(t => Paths(YamlTree.Parse(t, new Findings())!, []).Select(p => (Text: t, p.Path, p.Span))).ToArray();
        Gen.Select(Gen.Int[0, places.Length - 1], Values).Sample((number, value) =>
        {
            var (text, path, span) = places[number];
            JobEdit edit = JobText.WithValue(text, path, value);
            Assert.Null(edit.Problem);
            Assert.StartsWith(text[..span.Start], edit.Text!, StringComparison.Ordinal);
            Assert.EndsWith(text[span.End..], edit.Text!, StringComparison.Ordinal);
            Assert.Equal(value, ((YamlScalar)At(YamlTree.Parse(edit.Text!, new Findings())!, path)).Text);

            JobEdit back = JobText.WithValue(edit.Text!, path, ((YamlScalar)At(YamlTree.Parse(text, new Findings())!, path)).Text);
            Assert.Null(back.Problem);
        }, iter: 200);
    }

    /// <summary>A new key in any group, a new entry in any list.</summary>
    [Fact]
    public void Anything_can_be_added_anywhere_and_comments_stay()
    {
        string[] texts = [.. Directory.GetDirectories(Path.Combine(Repository.Root, "examples")).Order(StringComparer.Ordinal).Select(d => File.ReadAllText(Path.Combine(d, "job.yaml"))), Text, Text + "\n", Text.Replace("\n", "\r\n", StringComparison.Ordinal)];
        foreach (string text in texts)
        {
            foreach (string[] path in Groups(YamlTree.Parse(text, new Findings())!, []))
            {
                JobEdit edit = JobText.WithValue(text, path, "added");
                Assert.True(edit.Problem is null, $"{string.Join('/', path)}: {edit.Problem}");
                Assert.Equal(text.Count(c => c == '#'), edit.Text!.Count(c => c == '#'));
                Assert.Equal(text.Length, edit.Text!.Length - LengthAdded(text, edit.Text!));
            }
        }
    }

    /// <summary>What stands between the longest common beginning and end.</summary>
    private static int LengthAdded(string before, string after)
    {
        int start = before.AsSpan().CommonPrefixLength(after);
        int end = 0;
        while (end < before.Length - start && before[^(end + 1)] == after[^(end + 1)]) end++;
        Assert.Equal(before.Length, start + end);
        return after.Length - start - end;
    }

    private static IEnumerable<(string[] Path, TextSpan Span)> Paths(YamlNode node, string[] path) => node switch
    {
        YamlScalar { IsNothing: false } s => [(path, s.Span)],
        YamlMap m => m.Entries.SelectMany(e => Paths(e.Value, [.. path, e.Key.Text])),
        YamlList l => l.Items.SelectMany((item, k) => Paths(item, [.. path, k.ToString(System.Globalization.CultureInfo.InvariantCulture)])),
        _ => [],
    };

    private static IEnumerable<string[]> Groups(YamlNode node, string[] path) => node switch
    {
        YamlMap m => m.Entries.SelectMany(e => Groups(e.Value, [.. path, e.Key.Text])).Append([.. path, "new_key"]),
        YamlList l => l.Items.SelectMany((item, k) => Groups(item, [.. path, k.ToString(System.Globalization.CultureInfo.InvariantCulture)])).Append([.. path, JobText.NewEntry]),
        _ => [],
    };

    private static YamlNode At(YamlNode node, IEnumerable<string> path) => path.Aggregate(node, (here, step) => here is YamlMap map
        ? map.Entries.Single(e => e.Key.Text == step).Value
        : ((YamlList)here).Items[int.Parse(step, System.Globalization.CultureInfo.InvariantCulture)]);
}
