using Xunit;

namespace Sparewright.House;

public static class Breaches
{
    /// <summary>Fails with every breach on a line of its own, so that one run shows all there is to mend.</summary>
    public static void None(IEnumerable<string> breaches)
    {
        var found = breaches.ToList();
        Assert.True(found.Count == 0, string.Join('\n', found));
    }
}
