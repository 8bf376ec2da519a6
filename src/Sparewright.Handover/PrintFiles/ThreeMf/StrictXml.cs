using System.Globalization;
using System.Text;
using System.Xml;
using Sparewright.Handover.Files;
using Sparewright.Part;

namespace Sparewright.Handover.PrintFiles.ThreeMf;

/// <summary>
/// XML of one part of the package, one element after another: UTF-8 only, no document type, nothing fetched, bounded in depth and length.
/// </summary>
internal sealed class StrictXml : IDisposable
{
    private const int MostDepth = 64;
    private readonly XmlReader _reader;
    private readonly string _part;

    public StrictXml(Stream stream, string part)
    {
        _part = part;
        // The mark at the start of UTF-8 text is passed over, any other encoding is not even tried.
        var text = new StreamReader(stream, new UTF8Encoding(encoderShouldEmitUTF8Identifier: true, throwOnInvalidBytes: true), detectEncodingFromByteOrderMarks: false);
        _reader = Guarded(() => XmlReader.Create(text, new XmlReaderSettings
        {
            DtdProcessing = DtdProcessing.Prohibit,
            XmlResolver = null,
            MaxCharactersInDocument = StrictZip.MostBytes,
            IgnoreComments = true,
            IgnoreProcessingInstructions = true,
            IgnoreWhitespace = true,
            CloseInput = true,
        }));
    }

    public string Name => _reader.LocalName;

    public string Namespace => _reader.NamespaceURI;

    public bool IsCore(string name) => _reader.LocalName == name && _reader.NamespaceURI == Names.Core;

    /// <summary>Steps to the root element.</summary>
    public void Root()
    {
        while (Step())
        {
            if (_reader.NodeType == XmlNodeType.XmlDeclaration && _reader.GetAttribute("encoding") is { } encoding && !encoding.Equals("utf-8", StringComparison.OrdinalIgnoreCase))
                throw Refuse($"the text says that its encoding is {encoding}", "have it written in UTF-8");
            if (_reader.NodeType == XmlNodeType.Element)
                return;
        }
    }

    /// <summary>Calls <paramref name="child"/> for each child element of the one the reader stands on; what the call leaves unread is skipped.</summary>
    public void Children(Action child)
    {
        if (_reader.IsEmptyElement)
            return;
        int depth = _reader.Depth;
        while (Step() && _reader.Depth > depth)
        {
            if (_reader.NodeType == XmlNodeType.Element && _reader.Depth == depth + 1)
                child();
        }
    }

    /// <summary>The text in the element, without markup.</summary>
    public string Text()
    {
        var text = new StringBuilder();
        if (_reader.IsEmptyElement)
            return "";
        int depth = _reader.Depth;
        while (Step() && _reader.Depth > depth)
        {
            if (_reader.NodeType is XmlNodeType.Text or XmlNodeType.CDATA or XmlNodeType.SignificantWhitespace)
                text.Append(Guarded(() => _reader.Value));
        }

        return text.ToString();
    }

    /// <summary>Reads to the end of the part, so that its check sum is verified, and allows nothing more there.</summary>
    public void End()
    {
        while (Step())
        {
            if (_reader.NodeType == XmlNodeType.Element)
                throw Refuse("there is a second root element", "have the file written again with one model in each part");
        }
    }

    /// <summary>An attribute without a namespace, or null.</summary>
    public string? Attribute(string name) => _reader.GetAttribute(name);

    public string Needed(string attribute) =>
        _reader.GetAttribute(attribute) ?? throw Refuse($"<{_reader.Name}> has no {attribute}", "have the file written again by the program that made it");

    /// <summary>A whole number from 0 to 2³¹ − 1, or null where the attribute is absent.</summary>
    public int? Index(string attribute)
    {
        if (_reader.GetAttribute(attribute) is not { } text)
            return null;
        return int.TryParse(text, NumberStyles.AllowLeadingWhite | NumberStyles.AllowTrailingWhite | NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out int value) && value >= 0
            ? value
            : throw Refuse($"{attribute}=\"{Shortened(text)}\" is not a whole number from 0 on", "have the file written again by the program that made it");
    }

    public int NeededIndex(string attribute)
    {
        Needed(attribute);
        return Index(attribute)!.Value;
    }

    public double NeededNumber(string attribute) => Number(Needed(attribute));

    /// <summary>A finite number in the notation of English text.</summary>
    public double Number(ReadOnlySpan<char> text) =>
        double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out double value) && double.IsFinite(value)
            ? value
            : throw Refuse($"\"{Shortened(text.ToString())}\" is not a finite number", "have the file written again by the program that made it");

    /// <summary>The namespace that a prefix stands for here, or null.</summary>
    public string? NamespaceOf(string prefix) => _reader.LookupNamespace(prefix);

    public RefusedException Refuse(string what, string remedy)
    {
        var info = (IXmlLineInfo)_reader;
        return new(new Problem(new Place(info.LineNumber, info.LinePosition), $"in {_part}, {what}", remedy));
    }

    public void Dispose() => _reader.Dispose();

    private static string Shortened(string text) => text.Length <= 40 ? text : text[..40] + "…";

    private bool Step()
    {
        if (!Guarded(_reader.Read))
            return false;
        if (_reader.Depth > MostDepth)
            throw Refuse($"elements are nested more than {MostDepth} deep", "do not trust this file");
        if (_reader.NodeType == XmlNodeType.Element && _reader.GetAttribute("space", Names.Xml) is not null)
            throw Refuse("xml:space is used, which 3MF forbids", "have the file written again without it");
        return true;
    }

    private T Guarded<T>(Func<T> read)
    {
        try
        {
            return read();
        }
        catch (XmlException broken)
        {
            var place = new Place(Math.Max(broken.LineNumber, 1), Math.Max(broken.LinePosition, 1));
            throw new RefusedException(new Problem(place, $"in {_part}, the XML is not well formed or has a document type: {broken.Message.TrimEnd('.')}", "have the file written again by the program that made it"));
        }
        catch (DecoderFallbackException)
        {
            throw new RefusedException($"{_part} is not UTF-8 text", "have it written in UTF-8");
        }
        catch (InvalidDataException)
        {
            throw new RefusedException($"the packed data of {_part} is damaged", "check that the file was copied whole");
        }
    }
}
