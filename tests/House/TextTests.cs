using Xunit;

namespace Sparewright.House;

/// <summary>The repository's text keeps to the house rules, and the rules notice when it does not.</summary>
public sealed class TextTests
{
    [Fact]
    public void Source_files_can_be_read_in_one_sitting() => Breaches.None(TextRules.LongFiles(Repository.Files));

    [Fact]
    public void Versions_stand_in_one_file() => Breaches.None(TextRules.VersionsInProjects(Repository.Files));

    [Fact]
    public void Projects_refer_to_rooms_nearer_the_ground() => Breaches.None(TextRules.ReferencesUpwards(Repository.Files));

    [Fact]
    public void What_users_read_keeps_to_the_words_of_the_trade() =>
        Breaches.None(TextRules.AvoidedWords(Repository.Files, WordLists.Avoided, WordLists.Allowed));

    [Fact]
    public void Nothing_points_at_the_disk_of_whoever_wrote_it() => Breaches.None(TextRules.MachinePaths(Repository.Files));

    [Fact]
    public void Published_tables_say_where_they_come_from() => Breaches.None(TextRules.TablesWithoutSource(Repository.Files));

    [Fact]
    public void Links_lead_somewhere() => Breaches.None(TextRules.BrokenLinks(Repository.Files, Repository.Has));

    [Fact]
    public void Each_decision_has_a_number_of_its_own() => Breaches.None(TextRules.NumbersOfDecisions(Repository.Files));

    [Fact]
    public void A_number_that_two_decisions_share_or_that_its_title_does_not_is_noticed()
    {
        Assert.Single(TextRules.NumbersOfDecisions([new("docs/decisions/0001-a.md", "# 0001 A\n"), new("docs/decisions/0001-b.md", "# 0001 B\n")]));
        Assert.Single(TextRules.NumbersOfDecisions([new("docs/decisions/0001-a.md", "# 0001 A\n"), new("docs/decisions/0002-b.md", "# 0003 B\n")]));
    }

    [Fact]
    public void Nothing_half_done_passes_for_done() => Breaches.None(TextRules.UnfinishedWork(Repository.Files));

    [Fact]
    public void Every_allowed_word_has_its_reason() => Assert.All(WordLists.Allowed, allowed => Assert.True(allowed.Reason.Length > 10, allowed.File));

    [Fact]
    public void A_long_file_is_noticed()
    {
        string text = string.Concat(Enumerable.Repeat("line\n", TextRules.MostLines));
        Assert.Single(TextRules.LongFiles([new("src/Room/Long.cs", text), new("src/Room/Short.cs", "line\n"), new("tests/Long.cs", text)]));
        Assert.Single(TextRules.LongFiles([new("kernel/long.cpp", text)]));
    }

    [Theory]
    [InlineData("""<PackageReference Include="X" Version="1.0" />""")]
    [InlineData("""<PackageReference Include="X" VersionOverride="1.0" />""")]
    [InlineData("""<PackageReference Include="X"><Version>1.0</Version></PackageReference>""")]
    public void A_version_in_a_project_is_noticed(string reference) =>
        Assert.Single(TextRules.VersionsInProjects([new("src/Room/Room.csproj", $"<Project><ItemGroup>{reference}<PackageReference Include=\"Y\" /></ItemGroup></Project>")]));

    [Theory]
    [InlineData("Part", "Measure", false)]
    [InlineData("Part", "Part", true)]
    [InlineData("Part", "Reconcile", true)]
    [InlineData("Measure", "Cli", true)]
    public void A_reference_upwards_is_noticed(string room, string other, bool breach)
    {
        var found = TextRules.ReferencesUpwards([new($"src/Sparewright.{room}/Sparewright.{room}.csproj",
            $"""<Project><ItemGroup><ProjectReference Include="../Sparewright.{other}/Sparewright.{other}.csproj" /></ItemGroup></Project>""")]);
        Assert.Equal(breach, found.Any());
    }

    [Theory]
    [InlineData("docs/a.md", "Start with a gadget.", true)]
    [InlineData("docs/a.md", "Start with GADGETS!", true)]
    [InlineData("docs/a.md", "A big gadget.", false)]
    [InlineData("docs/a.md", "A gadgetry of sorts.", false)]
    [InlineData("src/Room/A.cs", "class A { string B = \"a gadget\"; }", true)]
    [InlineData("src/Room/A.cs", "class A { string B = $\"{1} gadget\"; }", true)]
    [InlineData("src/Room/A.cs", "class A { string B = \"\"\"a gadget\"\"\"; }", true)]
    [InlineData("src/Room/A.cs", "class A { int gadget = 3; } // gadget", false)]
    [InlineData("kernel/a.cpp", "fail(\"a gadget\");", true)]
    [InlineData("kernel/a.cpp", "gadget g; // gadget", false)]
    [InlineData("tests/A.cs", "class A { string B = \"a gadget\"; }", false)]
    public void An_avoided_word_is_noticed_where_users_read(string path, string text, bool breach) =>
        Assert.Equal(breach, TextRules.AvoidedWords([new(path, text)], [new("(?<!big )gadgets?", "tool")], []).Any());

    [Fact]
    public void An_allowed_word_passes_in_its_file_only_and_must_be_needed()
    {
        AvoidedWord[] avoided = [new("gadget", "tool")];
        AllowedWord[] allowed = [new("docs/a.md", "gadget", "quoted")];
        Assert.Empty(TextRules.AvoidedWords([new("docs/a.md", "A Gadget.")], avoided, allowed));
        Assert.Equal(2, TextRules.AvoidedWords([new("docs/b.md", "A gadget.")], avoided, allowed).Count());
    }

    [Theory]
    [InlineData("/wo" + "rk/main/x", true)]
    [InlineData("see /ho" + "me/somebody/x", true)]
    [InlineData("/tm" + "p/x", true)]
    [InlineData("../shared/checks", false)]
    [InlineData("frame/work/x", false)]
    public void A_path_of_one_machine_is_noticed(string text, bool breach) =>
        Assert.Equal(breach, TextRules.MachinePaths([new("docs/a.md", text)]).Any());

    [Theory]
    [InlineData("src/Room/Data/a.csv", "# Source: ISO 286-1.\nx,y\n", false)]
    [InlineData("src/Room/Data/a.csv", "x,y\n1,2\n", true)]
    [InlineData("tests/Outside/data/a.csv", "source,x\n1,2\n", true)]
    [InlineData("tests/Outside/data/copies/a.dat", "1 2\n", false)]
    [InlineData("tests/Outside/data/a.dat", "1 2\n", true)]
    public void A_table_without_a_source_is_noticed(string path, string text, bool breach) =>
        Assert.Equal(breach, TextRules.TablesWithoutSource([new(path, text), new("tests/Outside/data/copies/README.md", "Byte copies of …")]).Any());

    [Theory]
    [InlineData("[there](b.md#part)", false)]
    [InlineData("![picture](../pictures/a.png)", false)]
    [InlineData("[outside](https://example.org/b)", false)]
    [InlineData("[gone](c.md)", true)]
    public void A_link_that_leads_nowhere_is_noticed(string text, bool breach) =>
        Assert.Equal(breach, TextRules.BrokenLinks([new("docs/how/a.md", text)], path => path is "docs/how/b.md" or "docs/how/../pictures/a.png").Any());

    [Fact]
    public void A_mark_of_unfinished_work_is_noticed() =>
        Assert.Equal(2, TextRules.UnfinishedWork([new("src/Room/A.cs", "// TODO: more\nthrow new NotImplementedException();\nint todo = 1;")]).Count());
}
