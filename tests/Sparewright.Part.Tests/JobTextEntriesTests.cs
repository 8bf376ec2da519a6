using System.Globalization;
using CsCheck;
using Sparewright.Part.Yaml;
using Xunit;

namespace Sparewright.Part.Tests;

public class JobTextEntriesTests
{
    private const string Text = """
        # a job
        sparewright: 1
        shape:      # in order
          # the base
          # of all
          - plate: foot    # its name
            # how thick
            thickness: 3
            # below it

          # belongs to nobody

          # the round
          - boss: round
            height: [1, 2, 3]     # three
          - {hole: pin, depth: 4, ends: flat}
        alone:
          - one
        # last
        """;

    [Theory]
    [InlineData("shape/0", "  # the base\n  # of all\n  - plate: foot    # its name\n    # how thick\n    thickness: 3\n    # below it\n", "")]
    [InlineData("shape/1", "  # the round\n  - boss: round\n    height: [1, 2, 3]     # three\n", "")]
    [InlineData("shape/2", "  - {hole: pin, depth: 4, ends: flat}\n", "")]
    [InlineData("shape/0/thickness", "    # how thick\n    thickness: 3\n", "")]
    [InlineData("shape/0/plate", "  - plate: foot    # its name\n", "  -\n")]
    [InlineData("shape/1/boss", "  - boss: round\n    height", "  - height")]
    [InlineData("shape/1/height", "    height: [1, 2, 3]     # three\n", "")]
    [InlineData("shape/1/height/0", "[1, 2, 3]", "[2, 3]")]
    [InlineData("shape/1/height/2", "[1, 2, 3]", "[1, 2]")]
    [InlineData("shape/2/depth", "{hole: pin, depth: 4, ends: flat}", "{hole: pin, ends: flat}")]
    [InlineData("shape/2/ends", "{hole: pin, depth: 4, ends: flat}", "{hole: pin, depth: 4}")]
    [InlineData("alone/0", "alone:\n  - one\n", "alone: []\n")]
    [InlineData("alone", "alone:\n  - one\n", "")]
    [InlineData("sparewright", "# a job\nsparewright: 1\n", "")]
    public void What_is_taken_away_goes_with_its_comments_and_nothing_else(string path, string before, string after)
    {
        Assert.Contains(before, Text, StringComparison.Ordinal);
        JobEdit edit = JobText.Without(Text, path);
        Assert.Null(edit.Problem);
        Assert.Equal(Text.Replace(before, after, StringComparison.Ordinal), edit.Text);

        string windows = Windows(Text);
        Assert.Equal(Windows(edit.Text!), JobText.Without(windows, path).Text);
    }

    [Fact]
    public void The_comments_that_go_with_an_entry_are_said()
    {
        Assert.Equal(["# the base", "# of all", "# its name", "# how thick", "# below it"], JobText.CommentsOf(Text, "shape/0"));
        Assert.Equal(["# the round", "# three"], JobText.CommentsOf(Text, "shape/1"));
        Assert.Empty(JobText.CommentsOf(Text, "shape/2"));
        Assert.Empty(JobText.CommentsOf(Text, "shape/7"));
    }

    [Theory]
    [InlineData("shape", 0, "  # the base\n", "  - rib: r\n    height: 2\n  # the base\n")]
    [InlineData("shape", 1, "  # the round\n", "  - rib: r\n    height: 2\n  # the round\n")]
    [InlineData("shape", 3, "ends: flat}\n", "ends: flat}\n  - rib: r\n    height: 2\n")]
    [InlineData("alone", 0, "  - one\n", "  - {rib: r, height: 2}\n  - one\n")]
    [InlineData("shape/1/height", 1, "[1, 2, 3]", "[1, {rib: r, height: 2}, 2, 3]")]
    [InlineData("shape/1/height", 3, "[1, 2, 3]", "[1, 2, 3, {rib: r, height: 2}]")]
    public void A_new_entry_is_written_as_its_neighbours_are(string list, int number, string before, string after)
    {
        var rib = new JobValue.Group([("rib", "r"), ("height", "2")]);
        JobEdit edit = JobText.WithEntry(Text, list, number, rib);
        Assert.Null(edit.Problem);
        Assert.Equal(Text.Replace(before, after, StringComparison.Ordinal), edit.Text);
        Assert.Equal(Windows(edit.Text!), JobText.WithEntry(Windows(Text), list, number, rib).Text);
    }

    [Fact]
    public void An_entry_moves_with_its_comments_and_blank_lines_stay()
    {
        JobEdit edit = JobText.WithMoved(Text, "shape", 1, 0);
        Assert.Null(edit.Problem);
        Assert.Contains("""
            shape:      # in order
              # the round
              - boss: round
                height: [1, 2, 3]     # three

              # belongs to nobody

              # the base
              # of all
              - plate: foot    # its name
                # how thick
                thickness: 3
                # below it
              - {hole: pin
            """, edit.Text!, StringComparison.Ordinal);
        Assert.Equal(Text, JobText.WithMoved(edit.Text!, "shape", 0, 1).Text);
        Assert.Contains("[2, 3, 1]     # three", JobText.WithMoved(Text, "shape/1/height", 0, 2).Text!, StringComparison.Ordinal);
    }

    [Fact]
    public void What_is_not_there_is_said()
    {
        Assert.Equal("there is nothing at `shape/7`", JobText.Without(Text, "shape/7").Problem!.What);
        Assert.Equal("there is nothing at `shape/0/radius`", JobText.Without(Text, "shape/0/radius").Problem!.What);
        Assert.Equal("there is nothing at `shape/4`", JobText.WithEntry(Text, "shape", 4, "x").Problem!.What);
        Assert.Equal("there is nothing at `part/0`", JobText.WithEntry(Text, "part", 0, "x").Problem!.What);
        Assert.Equal("there is nothing at `shape/9`", JobText.WithMoved(Text, "shape", 0, 9).Problem!.What);
        Assert.Equal("a tab indents this line", JobText.Without("\ta: 1", "a").Problem!.What);
    }

    // ---- whatever the text ------------------------------------------------------------------------------------------

    private static readonly Gen<string> Comment = Gen.Int[0, 3].Select(k => k switch { 0 => "  # why - not, [this]", 1 => " #", _ => "" });

    private static readonly Gen<string> Scalar = Gen.Int[0, 9].Select(k => new[] { "1", "a.b", "'x # y'", "\"a, b\"", "-2", "[]", "{}", "ab#c", "[1, [2, 3]]", "{a: 1, b: [2]}" }[k]);

    /// <summary>Lines of a list or group at an indentation, with comments and blank lines strewn in.</summary>
    private static Gen<string> Block(int depth, int indent) =>
        Gen.Select(Gen.Bool, Gen.Select(Scalar, Comment, Gen.Int[0, 9], Gen.Int[0, 5], depth == 0 ? Gen.Const("") : Block(depth - 1, indent + 2)).Array[1, 4], (isList, entries) =>
        {
            string pad = new(' ', indent);
            var lines = new System.Text.StringBuilder();
            for (int k = 0; k < entries.Length; k++)
            {
                var (scalar, comment, above, kind, inner) = entries[k];
                lines.Append(above switch { 0 => "\n", 1 => $"{pad}# above, {k}\n", 2 => $"{pad}# apart {k}\n\n", 3 => $"{pad}  # deeper {k}\n", 4 => $"# at the edge {k}\n", _ => "" });
                string lead = pad + (isList ? "-" : $"k{k}:");
                lines.Append(kind switch
                {
                    0 when inner.Length > 0 => $"{lead}{comment}\n{inner}",
                    1 when inner.Length > 0 && isList => $"{lead} {inner.TrimStart()}",
                    2 when !isList => $"{lead} |{comment}\n{pad}  two # not a comment\n{pad}  lines\n",
                    3 => $"{lead} [1, # one\n{pad}   2,\n{pad}   {{x: 3}} # three\n{pad}  ]{comment}\n",
                    _ => $"{lead} {scalar}{comment}\n",
                });
            }

            return lines.ToString();
        });

    /// <summary>Job texts of lists and groups, some with the line ends of Windows, some without the last.</summary>
    private static readonly Gen<string> Texts = Gen.Select(Block(2, 0), Gen.Int[0, 3], (text, ends) => ends switch { 0 => Windows(text), 1 => text.TrimEnd('\n'), _ => text })
        .Where(text => Parsed(text) is YamlMap or YamlList);

    [Fact]
    public void Whatever_goes_comes_or_moves_the_rest_and_every_comment_stay()
    {
        string[] examples = [.. Directory.GetDirectories(Path.Combine(Repository.Root, "examples")).Order(StringComparer.Ordinal).Select(d => File.ReadAllText(Path.Combine(d, "job.yaml"))), Text];
        int changed = 0, refused = 0;
        Gen.Select(Gen.Int[0, 9].SelectMany(k => k < examples.Length ? Gen.Const(examples[k]) : Texts), Gen.Int[0, 1_000_000], Gen.Int[0, 1_000], Gen.Int[0, 3]).Sample((text, place, number, what) =>
        {
            YamlNode root = Parsed(text)!;
            var places = Places(root, "").ToArray();
            var (path, parent, count) = places[place % places.Length];
            string list = path[..Math.Max(0, path.LastIndexOf('/'))];
            int at = number % (count + 1);
            string[] gone = what < 2 ? [.. JobText.CommentsOf(text, path)] : [];
            JobEdit edit = what < 2 || parent is YamlMap || list.Length == 0 ? JobText.Without(text, path)
                : what == 2 ? JobText.WithEntry(text, list, at, new JobValue.Group([("new", "entry"), ("of", new JobValue.List(["1", "2"]))]))
                : JobText.WithMoved(text, list, int.Parse(path[(list.Length + 1)..], CultureInfo.InvariantCulture), number % count);
            if (what >= 2 && (parent is YamlMap || list.Length == 0)) gone = [.. JobText.CommentsOf(text, path)];
            if (edit.Text is null)
            {
                Interlocked.Increment(ref refused);
                return;
            }

            Interlocked.Increment(ref changed);
            // That the tree is the old one with that one change, the edit has proved itself. No comment is lost but those that were said to go.
            string[] before = CommentsIn(text), after = CommentsIn(edit.Text);
            Assert.Equal(before.Except(after, StringComparer.Ordinal).ToArray(), before.Except(after, StringComparer.Ordinal).Where(gone.Contains).ToArray());
            Assert.Equal(before.Length - gone.Length, after.Length);
            // And no line end turns into another.
            if (text.Contains("\r\n", StringComparison.Ordinal)) Assert.DoesNotContain('\n', edit.Text.Replace("\r\n", "", StringComparison.Ordinal));
            else Assert.DoesNotContain('\r', edit.Text);
        }, iter: 1_500);
        Assert.True(refused * 50 < changed, $"{refused} of {changed + refused} could not be changed");
    }

    [Fact]
    public void Damaged_jobs_are_changed_or_refused()
    {
        string[] corpus = [Text, .. Directory.GetDirectories(Path.Combine(Repository.Root, "examples")).Order(StringComparer.Ordinal).Select(d => File.ReadAllText(Path.Combine(d, "job.yaml")))];
        var mutations = new Mutations(corpus, seed: 5);
        int changed = 0, refused = 0;
        for (int k = 0; k < 600; k++)
        {
            string text = mutations.Next();
            string shape = $"shape/{k % 12}";
            foreach (JobEdit edit in new[]
                {
                    JobText.Without(text, shape), JobText.Without(text, shape + "/diameter"), JobText.WithEntry(text, "shape", k % 5, new JobValue.Group([("boss", "b")])),
                    JobText.WithMoved(text, "shape", k % 4, k % 7), JobText.WithMoved(text, "readings", k % 3, k % 5), NamesInUse.Renamed(text, "shape/1/boss", "other"),
                })
            {
                Assert.Equal(edit.Text is null, edit.Problem is not null);
                if (edit.Text is null) refused++;
                else changed++;
            }
        }

        Assert.True(changed > 300 && refused > 300, $"{changed} changed, {refused} refused: the mutations are too mild or too wild");
    }

    // ---- names ------------------------------------------------------------------------------------------------------

    [Fact]
    public void A_feature_is_renamed_wherever_it_is_used_and_nowhere_else()
    {
        string text = File.ReadAllText(Path.Combine(Repository.Root, "examples", "vent-knuckle", "job.yaml"));
        JobEdit edit = NamesInUse.Renamed(text, "shape/1/boss", "barrel");
        Assert.Null(edit.Problem);
        Assert.Empty(JobFile.Read(edit.Text!).Problems);
        Assert.Empty(NamesInUse.OfFeature(edit.Text!, "socket"));
        Assert.Equal(NamesInUse.OfFeature(text, "socket").Select(u => (u.Path, u.Text.Replace("socket", "barrel", StringComparison.Ordinal))), NamesInUse.OfFeature(edit.Text!, "barrel").Select(u => (u.Path, u.Text)));
        Assert.Contains("socket_od", edit.Text!, StringComparison.Ordinal);
        Assert.Equal(text, NamesInUse.Renamed(edit.Text!, "shape/1/boss", "socket").Text);
    }

    [Fact]
    public void Copies_and_images_of_several_follow_a_new_name()
    {
        const string Job = """
            sparewright: 1
            part: P
            could_injure: no
            shape:
              - block: a
                long: 10
                deep: 10
                tall: 10
                corner_at: [5, 0, 0]
              - boss: b
                diameter: 3
                height: 20
                at: [7, 5]
              - mirror: image
                of: [a, b]
                across: a.left
              - row: holes
                count: 2
                pitch: 4
                along: right
                of: {hole: h, from: a.top, at: [10, 5], diameter: 1, through: a}
            readings:
              - {outside: [image.a.top, a.bottom], reads: 10}
              - {inside: h#1.wall, reads: 1}
            """;
        Assert.Empty(JobFile.Read(Job).Problems);
        string renamed = NamesInUse.Renamed(NamesInUse.Renamed(Job, "shape/0/block", "c").Text!, "shape/3/of/hole", "drill").Text!;
        Assert.Empty(JobFile.Read(renamed).Problems);
        Assert.Contains("of: [c, b]\n    across: c.left", renamed, StringComparison.Ordinal);
        Assert.Contains("from: c.top, at: [10, 5], diameter: 1, through: c", renamed, StringComparison.Ordinal);
        Assert.Contains("[image.c.top, c.bottom]", renamed, StringComparison.Ordinal);
        Assert.Contains("drill#1.wall", renamed, StringComparison.Ordinal);
    }

    private static string Windows(string text) => text.Replace("\n", "\r\n", StringComparison.Ordinal);

    private static YamlNode? Parsed(string text)
    {
        var findings = new Findings();
        YamlNode? root = YamlTree.Parse(text, findings);
        return findings.Problems.Count == 0 ? root : null;
    }

    private static string[] CommentsIn(string text) => [.. EntryEdit.Comments(text, Parsed(text)!).Select(c => text[c.Start..c.End])];

    private static IEnumerable<(string Path, YamlNode Parent, int Count)> Places(YamlNode node, string path)
    {
        string under = path.Length == 0 ? "" : path + "/";
        return node switch
        {
            YamlMap map => map.Entries.SelectMany(e => Places(e.Value, under + e.Key.Text).Prepend((under + e.Key.Text, map, map.Entries.Count))),
            YamlList list => list.Items.SelectMany((item, k) => Places(item, under + k.ToString(CultureInfo.InvariantCulture)).Prepend((under + k.ToString(CultureInfo.InvariantCulture), list, list.Items.Count))),
            _ => [],
        };
    }
}
