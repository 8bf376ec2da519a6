namespace Sparewright.Strength.Solve;

/// <summary>Pairs of a corner and something that pulls it, put in the order of memory.</summary>
internal static class SlotOrder
{
    /// <summary>The pairs' numbers by the slot of their corner; those of one slot in the order in which they come, so that sums are the same always.</summary>
    /// <param name="slots">How many slots there are.</param>
    public static int[] Of(ReadOnlySpan<int> slotOfPair, int slots)
    {
        if (slotOfPair.IsEmpty) return [];
        var next = new int[slots + 1];
        foreach (int slot in slotOfPair) next[slot + 1]++;
        for (int slot = 0; slot < slots; slot++) next[slot + 1] += next[slot];
        var order = new int[slotOfPair.Length];
        for (int pair = 0; pair < order.Length; pair++) order[next[slotOfPair[pair]]++] = pair;
        return order;
    }

    /// <summary>The first place in ascending slots whose slot is no less.</summary>
    public static int First(ReadOnlySpan<int> ascending, int slot)
    {
        int low = 0, high = ascending.Length;
        while (low < high)
        {
            int middle = (low + high) / 2;
            if (ascending[middle] < slot) low = middle + 1;
            else high = middle;
        }

        return low;
    }
}
