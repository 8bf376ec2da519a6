namespace Sparewright.Strength.Solve;

/// <summary>Things that hang together by pairs.</summary>
internal static class Groups
{
    /// <summary>For each of some things the first of those it hangs together with, by way of others too.</summary>
    public static int[] Of(int count, Func<int, int, bool> hangTogether)
    {
        var first = new int[count];
        for (int n = 0; n < count; n++)
        {
            first[n] = n;
            for (int before = 0; before < n; before++)
            {
                if (first[before] == first[n] || !hangTogether(before, n)) continue;
                int low = Math.Min(first[before], first[n]), high = Math.Max(first[before], first[n]);
                for (int at = 0; at <= n; at++)
                    if (first[at] == high) first[at] = low;
            }
        }

        return first;
    }
}
