using Xunit;

namespace Sparewright.House;

/// <summary>The source is laid out by the house rules, and the rules notice when it is not.</summary>
public sealed class SourceTests
{
    [Fact]
    public void Using_directives_stand_in_order() => Breaches.None(SourceRules.UsingsOutOfOrder(Repository.Files));

    [Theory]
    [InlineData("using System;\nusing System.Text;\nusing A.B;\nusing A.B.C;\nusing a.C;\nusing static System.Math;\nusing static A.D;\nusing A = Z.B;\nusing T = System.Text;", false)]
    [InlineData("using A;\nusing System;", true)]
    [InlineData("using System.Text;\nusing System;", true)]
    [InlineData("using A.C;\nusing A.B;", true)]
    [InlineData("using static System.Math;\nusing A;", true)]
    [InlineData("using T = System.Text;\nusing static System.Math;", true)]
    [InlineData("using U = System.Text;\nusing T = System.Text;", true)]
    public void Using_directives_out_of_order_are_noticed(string source, bool breach) => Assert.Equal(breach, SourceRules.UsingsOutOfOrder([new("src/Room/A.cs", source)]).Any());
}
