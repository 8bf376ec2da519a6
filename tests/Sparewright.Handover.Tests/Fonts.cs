using Sparewright.Handover.Picture;
using Xunit;

namespace Sparewright.Handover.Tests;

/// <summary>The drawing's own fonts, loaded for one test; the test is skipped where they are not installed.</summary>
internal static class Fonts
{
    public static Lettering Load()
    {
        if (!Lettering.TryLoad(Lettering.UsualFiles, out var lettering, out var problem))
            Assert.Skip($"skipped: {problem.What}");
        return lettering;
    }
}
