using Sparewright.Part;
using Sparewright.Part.Record;
using Sparewright.Remake.Start;
using Sparewright.Web.Intake;
using Xunit;

namespace Sparewright.Web.Tests.Intake;

public class BeginningTests
{
    private static Beginning Filled() => new() { Part = "Hook", Shape = "clip", Harm = new Harm { Could = "no" } };

    [Fact]
    public void What_must_be_answered_is_asked_in_the_order_of_the_form()
    {
        Assert.Equal(["shape", "part", "could-no"], new Beginning().Finish().Problems.Select(p => p.Field));
        Assert.Equal(["why", "typed"], (Filled() with { Harm = new Harm { Could = "yes" } }).Finish().Problems.Select(p => p.Field));
        Assert.Equal(["typed"], (Filled() with { Harm = new Harm { Could = "yes", Why = "lifting", Typed = "yes" } }).Finish().Problems.Select(p => p.Field));
    }

    [Fact]
    public void Every_first_shape_begins_a_job_that_can_be_read()
    {
        foreach (StartingPattern pattern in StartingPattern.All)
        {
            var (job, problems) = (Filled() with { Shape = pattern.Name, About = "holds: # a hose", Broke = " ", MadeBy = "moulding" }).Finish();
            Assert.Empty(problems);
            Job read = JobFile.Read(job!.Text()).Job!;
            Assert.Equal(("Hook", "holds: # a hose", MadeBy.Moulding, null, false), (read.PartName, read.About, read.MadeBy, read.Broke, read.CouldInjure.Could));
        }
    }

    [Theory]
    [InlineData("knob")]
    [InlineData("lever")]
    [InlineData("bracket")]
    [InlineData("cover")]
    [InlineData("clip")]
    [InlineData("wheel")]
    [InlineData("bush")]
    [InlineData("other")]
    public void What_is_it_offers(string name) => Assert.NotNull(StartingPattern.Find(name));

    [Fact]
    public void A_yes_is_written_with_its_reason()
    {
        var (job, _) = (Filled() with { Harm = new Harm { Could = "yes", Why = "lifting", Typed = Injury.Acknowledgement.ToUpperInvariant() + "." } }).Finish();
        Injury injury = JobFile.Read(job!.Text()).Job!.CouldInjure;
        Assert.Equal((true, "lifting"), (injury.Could, injury.Why));
    }
}
