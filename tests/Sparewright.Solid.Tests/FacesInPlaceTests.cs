using Sparewright.Part.Elements;
using Sparewright.Reconcile.Readings;
using Xunit;

namespace Sparewright.Solid.Tests;

/// <summary>The faces that arithmetic finds on the finished part, beside those of the exact solid.</summary>
public class FacesInPlaceTests(WarmWorker warm)
{
    public static TheoryData<string> Examples => Example.Names;

    [Theory]
    [MemberData(nameof(Examples))]
    public async Task The_same_faces_are_there_as_on_the_exact_solid(string name)
    {
        Example example = Example.Read(name);
        PlacedShape shape = example.At(example.About);
        ExactSolid solid = (await warm.Worker.BuildAsync(Recipe.Of(shape).OrThrow())).OrThrow();
        HashSet<string> real = [.. solid.Faces.SelectMany(f => f.Names)];
        string[] found = [.. FacesInPlace.Of(shape).Keys.Where(shape.Elements.ContainsKey)];
        // Sides that go round bear the names of their pieces on the solid.
        Assert.All(found, f => Assert.True(solid.Faces.Any(face => face.Bears(f)), $"{f} is not on the solid"));
        Assert.All(shape.Elements.Values.Where(e => e is FlatElement or RoundElement && real.Contains(e.Name)), e => Assert.True(found.Contains(e.Name), $"{e.Name} was not found"));
    }
}
