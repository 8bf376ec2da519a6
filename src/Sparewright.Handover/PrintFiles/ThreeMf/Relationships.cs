using Sparewright.Handover.Files;

namespace Sparewright.Handover.PrintFiles.ThreeMf;

/// <summary>One relationship of a package: from where it stands to a part named from the root.</summary>
internal readonly record struct Relationship(string Type, string Target);

/// <summary>Reads what belongs to what in a package, and of which type each part is.</summary>
internal static class Relationships
{
    /// <summary>The relationships of a part ("/" for the package itself); none when there is no list.</summary>
    /// <exception cref="RefusedException">The list is broken, leads outside the package or to a part that is not there.</exception>
    public static List<Relationship> Of(Package package, string source)
    {
        int slash = source.LastIndexOf('/');
        string list = $"{source[..(slash + 1)]}_rels/{source[(slash + 1)..]}.rels";
        var found = new List<Relationship>();
        if (!package.Has(list))
            return found;

        var ids = new HashSet<string>(StringComparer.Ordinal);
        using var xml = new StrictXml(package.Read(list), list);
        xml.Root();
        xml.Children(() =>
        {
            if (xml.Name != "Relationship" || xml.Namespace != Names.Relationships)
                throw xml.Refuse($"<{xml.Name}> is not known in a list of relationships", "have the file written again by the program that made it");
            string target = xml.Needed("Target");
            if (xml.Attribute("TargetMode") == "External" || target.Contains(':', StringComparison.Ordinal))
                throw xml.Refuse($"the relationship to {target} leads outside the package", "have the file written with everything inside it");
            if (!ids.Add(xml.Needed("Id")))
                throw xml.Refuse($"two relationships have the id {xml.Needed("Id")}", "have the file written again by the program that made it");
            string part = Resolved(source[..(slash + 1)], target);
            if (!package.Has(part))
                throw xml.Refuse($"{part} is named but not in the package", "check that the file was copied whole");
            found.Add(new(xml.Needed("Type"), part));
        });
        xml.End();

        if (found.Count(r => r.Type == Names.PrintTicketRelation) > 1)
            throw new RefusedException($"{source} has more than one print ticket", "have the file written again with one");
        return found;
    }

    /// <summary>The content type of each part that the package names, by the part's own entry or else by its ending.</summary>
    /// <exception cref="RefusedException">The list is missing or broken.</exception>
    public static Func<string, string?> ContentTypes(Package package)
    {
        const string List = "/[Content_Types].xml";
        if (!package.Has(List))
            throw new RefusedException("the package has no [Content_Types].xml, so it is no 3MF file", "check that it is the right file");
        var byEnding = new Dictionary<string, string>(StringComparer.OrdinalIgnoreCase);
        var byPart = new Dictionary<string, string>(StringComparer.OrdinalIgnoreCase);
        using var xml = new StrictXml(package.Read(List), List);
        xml.Root();
        xml.Children(() =>
        {
            bool added = xml.Name switch
            {
                "Default" => byEnding.TryAdd(xml.Needed("Extension"), xml.Needed("ContentType")),
                "Override" => byPart.TryAdd(xml.Needed("PartName"), xml.Needed("ContentType")),
                _ => throw xml.Refuse($"<{xml.Name}> is not known in a list of content types", "have the file written again by the program that made it"),
            };
            if (!added)
                throw xml.Refuse("a content type is given twice for the same parts", "have the file written again by the program that made it");
        });
        xml.End();
        return part => byPart.TryGetValue(part, out var own) ? own : byEnding.GetValueOrDefault(part[(part.LastIndexOf('.') + 1)..]);
    }

    private static string Resolved(string folder, string target)
    {
        var segments = new List<string>();
        string full = Uri.UnescapeDataString(target.StartsWith('/') ? target : folder + target);
        foreach (string segment in full.Split('/', StringSplitOptions.RemoveEmptyEntries))
        {
            if (segment == ".." && segments.Count > 0)
                segments.RemoveAt(segments.Count - 1);
            else if (segment != ".")
                segments.Add(segment);
        }

        return "/" + string.Join('/', segments);
    }
}
