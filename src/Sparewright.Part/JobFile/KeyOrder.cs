using System.Globalization;
using Sparewright.Part.Grammar;
using Sparewright.Part.Yaml;

namespace Sparewright.Part;

/// <summary>Where a new key goes among those of its group: in the order of the reference, behind the nearest one before it that is there. Names of the user's own go behind all.</summary>
internal static class KeyOrder
{
    /// <summary>The number that the first missing key of a path gets in its group; 0 where none is missing.</summary>
    public static int PlaceOf(YamlNode root, IReadOnlyList<string> path)
    {
        Form? form = JobGrammar.Job;
        YamlNode? here = root;
        foreach (string step in path)
        {
            YamlNode? next = here switch
            {
                YamlMap map => map.Entries.FirstOrDefault(e => e.Key.Text == step)?.Value,
                YamlList list when int.TryParse(step, NumberStyles.None, CultureInfo.InvariantCulture, out int number) => list.Items.ElementAtOrDefault(number),
                _ => null,
            };
            if (next is null) return here is YamlMap group ? Behind(group, [.. form?.KeysOf(group) ?? []], step) : 0;
            form = form?.Under(here, step);
            here = next;
        }

        return 0;
    }

    private static int Behind(YamlMap group, List<string> order, string key)
    {
        int own = order.IndexOf(key);
        if (own < 0) return group.Entries.Count;
        return order.Take(own).Reverse().Select(before => group.Entries.TakeWhile(e => e.Key.Text != before).Count()).Where(number => number < group.Entries.Count).Select(number => number + 1).FirstOrDefault();
    }
}
