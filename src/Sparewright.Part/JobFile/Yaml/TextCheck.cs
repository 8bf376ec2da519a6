namespace Sparewright.Part.Yaml;

/// <summary>What is looked for in the bare text, before YAML: characters that cannot be seen, and tabs that indent.</summary>
internal static class TextCheck
{
    public static bool Passes(string text, Findings findings)
    {
        int before = findings.Problems.Count;
        int line = 1, lineStart = 0;
        bool indenting = true;
        int tab = -1;
        for (int k = 0; k < text.Length && findings.Problems.Count == before; k++)
        {
            char c = text[k];
            if (c is '\n' || (c is '\r' && (k + 1 == text.Length || text[k + 1] != '\n')))
            {
                (line, lineStart, indenting, tab) = (line + 1, k + 1, true, -1);
                continue;
            }

            if (IsHidden(text, k))
                findings.Add(new Place(line, k - lineStart + 1), $"a character that cannot be seen (U+{(int)c:X4}) stands here", "remove it");
            if (char.IsHighSurrogate(c)) k++;
            if (!indenting || c is '\r') continue;
            if (c == '\t' && tab < 0) tab = k;
            else if (c is not (' ' or '\t'))
            {
                if (tab >= 0) findings.Add(new Place(line, tab - lineStart + 1), "a tab indents this line", "indent with blanks");
                indenting = false;
            }
        }

        return findings.Problems.Count == before;
    }

    /// <summary>Control characters, line separators that only some programs take for line ends, byte order marks, halves of surrogate pairs, non-characters, marks that turn the writing direction.</summary>
    private static bool IsHidden(string text, int k)
    {
        char c = text[k];
        if (char.IsHighSurrogate(c)) return k + 1 == text.Length || !char.IsLowSurrogate(text[k + 1]);
        return c < ' ' ? c is not ('\t' or '\n' or '\r')
            : c is (>= '\u007f' and <= '\u009f') or '\u2028' or '\u2029' or '\ufeff' or '\ufffe' or '\uffff' or (>= '\u202a' and <= '\u202e') or (>= '\u2066' and <= '\u2069')
              or (>= '\ud800' and <= '\udfff');
    }
}
