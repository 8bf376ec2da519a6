using System.Text;
using Sparewright.Part.Grammar;

namespace Sparewright.Part;

/// <summary>Every key of the job file as tables in Markdown, made from the grammar that the reader obeys; the reference in the documentation carries them.</summary>
public static class JobReference
{
    public static string Keys()
    {
        var definitions = new Definitions();
        JobGrammar.Job.Describe(definitions);
        var text = new StringBuilder();
        // A group is noted before the groups inside it, so that the whole comes before its parts.
        foreach (KeyGroup group in definitions.Groups)
        {
            text.Append("### ").Append(Capital(group.Title)).Append("\n\n").Append(group.About).Append("\n\n");
            text.Append("| key | | written | meaning |\n|---|---|---|---|\n");
            foreach (KeyLine key in group.Keys)
                text.Append("| `").Append(key.Name).Append("` | ").Append(key.Required ? "needed" : "").Append(" | ").Append(Cell(key.Written)).Append(" | ").Append(Cell(key.About)).Append(" |\n");
            text.Append('\n');
            foreach (string rule in group.Rules) text.Append("- ").Append(rule).Append('\n');
            if (group.Rules.Count > 0) text.Append('\n');
        }

        return text.ToString().TrimEnd() + "\n";
    }

    private static string Capital(string text) => char.ToUpperInvariant(text[0]) + text[1..];

    private static string Cell(string text) => text.Replace("|", "\\|", StringComparison.Ordinal);
}
