using Sparewright.Part.Record;
using Sparewright.Strength.Cases;
using Sparewright.Strength.Loads;
using Sparewright.Strength.Margins;
using Sparewright.Strength.Materials;
using Xunit;

namespace Sparewright.Strength.Tests.Cases;

public class PartUnderLoadTests(Bench bench, ITestOutputHelper output)
{
    [Theory]
    [InlineData("vent-knuckle", 0)]
    [InlineData("line-reel-crank", 0)]
    [InlineData("line-reel-crank", 1)]
    public async Task Examples(string name, int number)
    {
        BuiltPart part = await bench.ExampleAsync(name);
        Load load = part.Job.Loads[number];
        PrintMaterial material = MaterialTable.Published.Print(part.Job.Print!.Material!, [])!;
        var (@case, problems) = new LoadsOnSolid(part.Job, part.Sizes, part.Solid.Faces, part.Mesh, 0.3, 1.2).Of(load);
        Assert.Empty(problems);
        Allowables allowables = Allowables.Of(material, load.Times, load.Lasts, part.Job.Lives);
        var under = new PartUnderLoad(part.Mesh, part.Solid.Faces, part.Solid.VolumeMm3);
        CaseAnswer answer = under.Solve(@case!, new(0, 0, 1), material.Stiffness, s => MaximumStress.Of(s, allowables.Strength), cancel: TestContext.Current.CancellationToken);
        output.WriteLine(string.Join("; ", answer.Loose.Select(l => l.InWords)));
        SolvedCase s = answer.Solved!;
        output.WriteLine($"{name} {load.Name}: {s.Seconds:0.0} s, {s.Elements} cells of {s.CellMm:0.00} and {s.WindowCellMm:0.00}, moves {s.DisplacementMm:0.000}, reserve {s.Weakest.Reserve}, stress {s.Weakest.Stress} at {string.Join('/', part.Solid.Faces[s.Weakest.Point.Face].Names)} {s.Weakest.Point.At}, ± {s.StressPlusMinus:0.00}, {s.Resolution}, pulling {s.PullingShare}, corner {s.Weakest.SharpCorner}");
    }
}
