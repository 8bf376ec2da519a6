using System.Text;
using System.Text.Json;
using Sparewright.Part.Elements;
using Xunit;

namespace Sparewright.Solid.Tests;

public class RecipeTests
{
    private const string BlockWithHole = Shapes.Block + "\n" + """
          - hole: bore
            from: slab.top
            at: [8, 5]
            diameter: d
            through: slab
        """;

    private static JsonElement Json(Recipe recipe)
    {
        using var stream = new MemoryStream();
        using (var json = new Utf8JsonWriter(stream)) recipe.WriteTo(json);
        return JsonDocument.Parse(stream.ToArray()).RootElement;
    }

    [Fact]
    public void It_says_features_tools_and_names_in_the_protocols_words()
    {
        JsonElement recipe = Json(Shapes.RecipeOf(BlockWithHole, ("d", 4.2)));
        Assert.Equal(["slab", "bore"], recipe.EnumerateArray().Select(f => f.GetProperty("name").GetString()));
        Assert.Equal(["join", "cut"], recipe.EnumerateArray().Select(f => f.GetProperty("does").GetString()));
        JsonElement slab = recipe[0].GetProperty("tools")[0];
        Assert.Equal(4, slab.GetProperty("prism").GetProperty("loop").GetArrayLength());
        Assert.Equal("slab.top", slab.GetProperty("names").GetProperty("to")[0].GetString());
        Assert.Equal(3, slab.GetProperty("place").GetProperty("origin").GetArrayLength());
    }

    [Fact]
    public void Numbers_come_back_with_every_digit()
    {
        double d = 4.2 / 3;
        string text = Json(Shapes.RecipeOf(BlockWithHole, ("d", d))).GetRawText();
        Assert.Contains(Shapes.Text(d / 2), text, StringComparison.Ordinal);
    }

    [Fact]
    public void Equal_beginnings_have_equal_hashes_and_a_change_shows_from_its_feature_on()
    {
        Recipe before = Shapes.RecipeOf(BlockWithHole, ("d", 4)), after = Shapes.RecipeOf(BlockWithHole, ("d", 4.1));
        Assert.Equal(before.PrefixHashes[0], after.PrefixHashes[0]);
        Assert.NotEqual(before.Hash, after.Hash);
        Assert.Equal(before.PrefixHashes[0], before.First(1).Hash);
        Assert.Equal(before.Hash, Shapes.RecipeOf(BlockWithHole, ("d", 4)).Hash);
    }

    [Fact]
    public void Zero_has_no_sign()
    {
        // A hole in the plane x = 0 brings −0 in its frame where another brings 0.
        Assert.DoesNotContain("-0,", Encoding.UTF8.GetString(JsonSerializer.SerializeToUtf8Bytes(Json(Shapes.RecipeOf(BlockWithHole, ("d", 4))))), StringComparison.Ordinal);
    }

    [Fact]
    public void What_arithmetic_found_impossible_is_refused_with_its_reason_and_remedy()
    {
        PlacedShape shape = Shapes.Placed(BlockWithHole, ("d", -1));
        Assert.NotEmpty(shape.Problems);
        SolidProblem problem = Assert.IsType<SolidProblem>(Recipe.Of(shape).Problem);
        Assert.Equal(SolidProblemKind.Refused, problem.Kind);
        Assert.Equal(shape.Problems[0].What, problem.Why);
        Assert.Equal(shape.Problems[0].Remedy, problem.Advice);
    }

    [Fact]
    public void A_number_that_is_none_is_refused_by_the_features_name()
    {
        SolidProblem problem = Assert.IsType<SolidProblem>(Recipe.Of(Shapes.Placed(BlockWithHole, ("d", double.PositiveInfinity)) with { Problems = [] }).Problem);
        Assert.Equal("bore", problem.Feature);
        Assert.Contains("not a finite number", problem.Why, StringComparison.Ordinal);
    }
}
