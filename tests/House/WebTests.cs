using Xunit;

namespace Sparewright.House;

/// <summary>What browsers get keeps to the house rules, and the rules notice when it does not.</summary>
public sealed class WebTests
{
    private static TextFile[] One(string name, string text) => [new($"src/Sparewright.Web/Pane/{name}", text)];

    [Fact]
    public void What_users_wrote_is_shown_as_text() => Breaches.None(WebRules.UnescapedMarkup(Repository.Files));

    [Fact]
    public void Looks_stand_in_style_sheets() => Breaches.None(WebRules.LooksWithinMarkup(Repository.Files));

    [Fact]
    public void Scripts_stand_in_files() => Breaches.None(WebRules.ScriptWithinMarkup(Repository.Files));

    [Fact]
    public void Everything_comes_from_the_shop_itself() => Breaches.None(WebRules.AddressesElsewhere(Repository.Files));

    [Theory]
    [InlineData("A.razor", "@((MarkupString)text)", true)]
    [InlineData("A.cs", "builder.AddMarkupContent(0, text);", true)]
    [InlineData("a.js", "place.innerHTML = text;", true)]
    [InlineData("a.ts", "place.textContent = text;", false)]
    public void Unescaped_markup_is_noticed(string name, string text, bool breach) => Assert.Equal(breach, WebRules.UnescapedMarkup(One(name, text)).Any());

    [Theory]
    [InlineData("<p style=\"color: red\">", true)]
    [InlineData("<p style = @look>", true)]
    [InlineData("<style>", true)]
    [InlineData("<p class=\"style\" data-style=\"x\">", false)]
    public void Looks_within_markup_are_noticed(string text, bool breach) => Assert.Equal(breach, WebRules.LooksWithinMarkup(One("A.razor", text)).Any());

    [Theory]
    [InlineData("<script>run()</script>", true)]
    [InlineData("<button onclick=\"run()\">", true)]
    [InlineData("<button @onclick=\"Run\">", false)]
    [InlineData("<script src=\"a.js\"></script>", false)]
    public void Script_within_markup_is_noticed(string text, bool breach) => Assert.Equal(breach, WebRules.ScriptWithinMarkup(One("A.razor", text)).Any());

    [Theory]
    [InlineData("a.css", "@import url(https://fonts.example/x.css);", true)]
    [InlineData("a.js", "fetch('http://example.org/x')", true)]
    [InlineData("a.ts", "const space = \"http://www.w3.org/2000/svg\";", false)]
    [InlineData("a.ts", "const line = `ws://${location.host}`;", false)]
    public void An_address_elsewhere_is_noticed(string name, string text, bool breach) => Assert.Equal(breach, WebRules.AddressesElsewhere(One(name, text)).Any());
}
