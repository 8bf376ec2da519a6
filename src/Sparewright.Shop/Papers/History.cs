using System.Globalization;
using System.Text;
using Sparewright.Shop.Store;

namespace Sparewright.Shop.Papers;

/// <summary>
/// A job's revisions as one readable file, the earliest first. Each begins with a line that says what it is and how many bytes of text follow, or which earlier revision's text it has:
/// <c>revision 2 entry 2026-03-01T10:00:00.0000000Z 812 bytes: reading r7</c>, <c>revision 3 undo 2026-03-01T10:01:00.0000000Z text of 1: undo: reading r7</c>.
/// </summary>
internal static class History
{
    private const string Title = "sparewright revisions 1\n";

    /// <param name="revisions">From number 1 on.</param>
    public static byte[] Write(IReadOnlyList<Revision> revisions)
    {
        using var file = new MemoryStream();
        file.Write(Encoding.UTF8.GetBytes(Title));
        var first = new Dictionary<string, int>(StringComparer.Ordinal);
        foreach (Revision revision in revisions)
        {
            byte[]? text = first.TryAdd(revision.Text, revision.Number) ? Encoding.UTF8.GetBytes(revision.Text) : null;
            string holds = text is null ? $"text of {first[revision.Text]}" : $"{text.Length} bytes";
            file.Write(Encoding.UTF8.GetBytes(string.Create(CultureInfo.InvariantCulture, $"\nrevision {revision.Number} {Word(revision.Kind)} {Times.Written(revision.At)} {holds}: {revision.What}\n")));
            if (text is null) continue;
            file.Write(text);
            file.WriteByte((byte)'\n');
        }

        return file.ToArray();
    }

    /// <summary>The revisions in such a file, or why it is none.</summary>
    public static Kept<IReadOnlyList<Revision>> Read(byte[] file)
    {
        ReadOnlySpan<byte> rest = file;
        if (!rest.StartsWith(Encoding.UTF8.GetBytes(Title))) return Refused("it does not begin with: sparewright revisions 1");
        rest = rest[Title.Length..];
        var revisions = new List<Revision>();
        while (!rest.IsEmpty)
        {
            if (rest[0] != '\n') return Refused($"behind revision {revisions.Count} there is something else");
            int end = rest[1..].IndexOf((byte)'\n');
            if (end < 0 || HeadOf(rest.Slice(1, end)) is not { } head || head.Number != revisions.Count + 1) return Refused($"the line of revision {revisions.Count + 1} cannot be read");
            rest = rest[(end + 2)..];
            string? text;
            if (head.TextOf is { } other)
            {
                text = other >= 1 && other <= revisions.Count ? revisions[other - 1].Text : null;
            }
            else
            {
                if (head.Bytes > rest.Length - 1 || rest[head.Bytes] != '\n') return Refused($"revision {head.Number} is not as long as it says");
                text = Contents.Text(rest[..head.Bytes].ToArray(), $"revision {head.Number}").Value;
                rest = rest[(head.Bytes + 1)..];
            }

            if (text is null) return Refused($"the text of revision {head.Number} cannot be had");
            revisions.Add(new Revision(default, head.Number, head.Kind, head.What, head.At, text));
        }

        return revisions.Count > 0 ? revisions : Refused("there is none in it");
    }

    private sealed record Head(int Number, RevisionKind Kind, DateTimeOffset At, int Bytes, int? TextOf, string What);

    private static Head? HeadOf(ReadOnlySpan<byte> line)
    {
        string[] halves = Encoding.UTF8.GetString(line).Split(": ", 2);
        if (halves.Length != 2 || halves[1] != Contents.OneLine(halves[1]) || halves[0].Split(' ') is not ["revision", var number, var kind, var at, var a, .. var b]) return null;
        if (!int.TryParse(number, NumberStyles.None, CultureInfo.InvariantCulture, out int n) || KindOf(kind) is not { } kindOf || Times.Read(at) is not { } when) return null;
        return (a, b) switch
        {
            (_, ["bytes"]) when int.TryParse(a, NumberStyles.None, CultureInfo.InvariantCulture, out int bytes) => new Head(n, kindOf, when, bytes, null, halves[1]),
            ("text", ["of", var other]) when int.TryParse(other, NumberStyles.None, CultureInfo.InvariantCulture, out int of) => new Head(n, kindOf, when, 0, of, halves[1]),
            _ => null,
        };
    }

    private static string Word(RevisionKind kind) => kind switch
    {
        RevisionKind.Begun => "begun",
        RevisionKind.Entry => "entry",
        RevisionKind.Undo => "undo",
        _ => "redo",
    };

    private static RevisionKind? KindOf(string word) => word switch
    {
        "begun" => RevisionKind.Begun,
        "entry" => RevisionKind.Entry,
        "undo" => RevisionKind.Undo,
        "redo" => RevisionKind.Redo,
        _ => null,
    };

    private static StoreProblem Refused(string why) => new(StoreProblemKind.Refused, $"revisions.txt cannot be read: {why}", "take it out; the job file is then its first revision");
}
