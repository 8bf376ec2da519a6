using System.Text;
using Sparewright.Web.Shelf;
using Xunit;

namespace Sparewright.Web.Tests.Shelf;

public class ShelfTests
{
    [Fact]
    public void What_calls_for_attention_is_said_in_words()
    {
        Assert.Equal(["1 reading disagrees"], JobWords.Calling(Jobs.Examples["vent-knuckle"]));
        string withoutLeaves = string.Join('\n', Jobs.Examples["vent-knuckle"].Split('\n').Where(l => !l.Contains("radius_gauge:", StringComparison.Ordinal)));
        Assert.Equal(["1 reading disagrees", "1 size undecided"], JobWords.Calling(withoutLeaves));
        Assert.Empty(JobWords.Calling(Jobs.Examples["line-reel-crank"]));
        Assert.Equal(["the text must be put right"], JobWords.Calling("sparewright: 1"));
        Assert.Equal(["the text must be put right"], JobWords.Calling("\t"));
    }

    [Fact]
    public void A_job_is_taken_in_byte_for_byte_with_its_mistakes_and_anything_else_is_not()
    {
        string text = "\ufeff" + Jobs.Examples["vent-knuckle"].Replace("\n", "\r\n", StringComparison.Ordinal);
        byte[] bytes = new UTF8Encoding(false).GetBytes(text);
        Assert.Equal(bytes, new UTF8Encoding(false).GetBytes(TakenIn.Read(bytes).Text!));
        Assert.NotNull(TakenIn.Read("sparewright: 1\npart: x\nwrong: y"u8.ToArray()).Text);
        Assert.Contains("not a job file", TakenIn.Read("hello"u8.ToArray()).Problem, StringComparison.Ordinal);
        Assert.Contains("UTF-8", TakenIn.Read([0xff, 0xfe, 1, 2]).Problem, StringComparison.Ordinal);
        Assert.Contains("UTF-8", TakenIn.Read([0x61, 0xff]).Problem, StringComparison.Ordinal);
        Assert.NotNull(TakenIn.Read([]).Problem);
    }
}
