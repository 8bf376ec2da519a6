using Sparewright.Measure.Numbers;
using Sparewright.Part;
using Sparewright.Part.Elements;
using Sparewright.Web.Shape.Forms;
using static Sparewright.Web.Shape.Forms.Terse;

namespace Sparewright.Web.Shape;

/// <summary>A kind of feature that can be added, as the list of next sentences shows it.</summary>
/// <param name="Key">As in the job file.</param>
/// <param name="Does">What such features do.</param>
public sealed record FeatureKind(string Key, string Words, string Does);

/// <summary>The first draft of a new feature: it stands on what is there and leaves only its sizes to be said.</summary>
internal sealed class NewFeatures(ShapeView view, PlacedShape? shape)
{
    public static IReadOnlyList<FeatureKind> Kinds { get; } =
    [
        new("plate", "A plate with an outline", "adds material"), new("boss", "A round boss", "adds material"), new("block", "A block", "adds material"),
        new("turned_shape", "A turned shape", "adds material"), new("rib", "A rib", "adds material"),
        new("hole", "A round hole", "takes material away"), new("slot", "A slot", "takes material away"), new("pocket", "A pocket with an outline", "takes material away"), new("groove", "A groove all round", "takes material away"),
        new("edge_round", "An edge round", "treats edges"), new("fillet", "A fillet in a corner", "treats edges"), new("chamfer", "A chamfer", "treats edges"), new("rounded_end", "A rounded end", "treats edges"),
        new("row", "A row of holes", "copies"), new("ring", "A ring of holes", "copies"), new("mirror", "A mirror image", "copies"),
        new("datum", "A datum plane or axis", "says where"),
    ];

    private readonly Element[] _elements = [.. (shape?.Elements.Values ?? []).Reverse()];

    /// <summary>The change that puts a new feature into the list, and the name it gets.</summary>
    public (TextChange Change, string Name) Add(string kind, int number)
    {
        string name = Free(kind is "turned_shape" ? "turned" : kind);
        JobValue.Group feature = Draft(kind, name);
        TextChange change = view.Sentences.Count > 0
            ? TextChange.Insert("shape", number, feature, $"add {name}")
            : TextChange.Write("shape", new JobValue.List([feature]), $"add {name}");
        return (change, name);
    }

    private JobValue.Group Draft(string kind, string name)
    {
        string top = Top;
        (JobValue, JobValue)? meeting = Corner;
        return kind switch
        {
            "plate" => Group(("plate", name), ("thickness", "3"), ("outline", Group(("rectangle", List("20", "10")), ("middle_at", Zero2))), ("stands_on", top)),
            "boss" => Group(("boss", name), ("diameter", "8"), ("height", "8"), ("stands_on", top)),
            "block" => Group(("block", name), ("long", "10"), ("deep", "10"), ("tall", "10"), ("corner_at", Zero3)),
            "turned_shape" => Group(("turned_shape", name), ("outline", Group(("rectangle", List("5", "8")), ("corner_at", Zero2))), ("stands_on", top)),
            "rib" => Group(("rib", name), ("between", List(List("-5", "0"), List("5", "0"))), ("thickness", "2"), ("height", "4"), ("stands_on", top)),
            "rounded_end" => Group(("rounded_end", name), ("of", End), ("axis", End.EndsWith(".back", StringComparison.Ordinal) || End.EndsWith(".front", StringComparison.Ordinal) ? "right" : "back")),
            "hole" => HoleDraft(name, top),
            "slot" => Group(("slot", name), ("from", top), ("between", List(List("-4", "0"), List("4", "0"))), ("width", "3"), ("depth", "2")),
            "pocket" => Group(("pocket", name), ("from", top), ("outline", Group(("rectangle", List("6", "4")), ("middle_at", Zero2))), ("depth", "2")),
            "groove" => Groove(name),
            "edge_round" => Group(("edge_round", name), ("edges_of", LastAdded), ("radius", "0.5")),
            "fillet" when meeting is var (first, second) => Group(("fillet", name), ("meeting", List(first, second)), ("radius", "1")),
            "fillet" => Group(("fillet", name), ("edges_of", LastAdded), ("radius", "1")),
            "chamfer" => Group(("chamfer", name), ("edges_of", LastAdded), ("setback", "0.5")),
            "row" => Group(("row", name), ("count", "2"), ("pitch", "10"), ("along", "right"), ("of", HoleDraft(Free("hole"), top))),
            "ring" => Group(("ring", name), ("count", "3"), ("pitch_circle", "10"), ("of", HoleDraft(Free("hole"), top))),
            "mirror" => Group(("mirror", name), ("of", LastAdded), ("across", Side)),
            "datum" => Group(("datum", name), ("plane", "ground"), ("offset", "10")),
            _ => throw new InvalidOperationException($"unknown kind {kind}"),
        };
    }

    private static JobValue.Group HoleDraft(string name, string from) => Group(("hole", name), ("from", from), ("diameter", "3"), ("through", "whole part"));

    private JobValue.Group Groove(string name)
    {
        foreach (RoundElement round in _elements.OfType<RoundElement>().OrderBy(r => r.Hollow))
        {
            FlatElement? square = _elements.OfType<FlatElement>().Where(f => Math.Abs(Vector.Dot(f.Normal, round.AxisDirection).Value) > 0.999)
                .MaxBy(f => (FeatureOf(f.Name) == FeatureOf(round.Name), f.Name.Contains('.', StringComparison.Ordinal)));
            if (square is not null) return Group(("groove", name), ("in", round.Name), ("from", square.Name), ("offset", "1"), ("width", "1"), ("depth", "0.5"));
        }

        return Group(("groove", name), ("in", ""), ("from", Top), ("offset", "1"), ("width", "1"), ("depth", "0.5"));
    }

    /// <summary>The last face that looks up.</summary>
    private string Top => _elements.OfType<FlatElement>().FirstOrDefault(f => f.Normal.Z.Value > 0.999 && f.Name.EndsWith(".top", StringComparison.Ordinal))?.Name ?? "ground";

    private string End => _elements.OfType<FlatElement>().FirstOrDefault(f => f.Rectangle is not null && f.Name.EndsWith(".right", StringComparison.Ordinal))?.Name
        ?? _elements.OfType<FlatElement>().FirstOrDefault(f => f.Rectangle is not null)?.Name ?? "";

    /// <summary>An upright plane to mirror across.</summary>
    private string Side => _elements.OfType<FlatElement>().OrderBy(f => f.Name.Contains('.', StringComparison.Ordinal)).FirstOrDefault(f => Math.Abs(f.Normal.Z.Value) < 1e-6)?.Name ?? "ground";

    /// <summary>The last feature that adds material.</summary>
    private string LastAdded => view.Sentences.LastOrDefault(s => s.Title is "a plate" or "a round boss" or "a block" or "a turned shape" or "a rib")?.Name ?? "";

    /// <summary>Where the last feature that stands on another meets it.</summary>
    private (JobValue, JobValue)? Corner
    {
        get
        {
            foreach (Sentence sentence in view.Sentences.Reverse())
            {
                if (sentence.Slots.FirstOrDefault(s => s.Path.EndsWith("/stands_on", StringComparison.Ordinal))?.Written is not { } floor || floor == "ground") continue;
                if (_elements.FirstOrDefault(e => FeatureOf(e.Name) == sentence.Name && e is RoundElement or SideElement or ConeElement) is { } side) return (side.Name, floor);
            }

            return null;
        }
    }

    private string Free(string word)
    {
        string[] taken = [.. view.Sentences.SelectMany(s => s.Slots).Where(s => s is { Kind: SlotKind.Name, Written: not null }).Select(s => s.Written!), .. view.Sizes];
        return Enumerable.Range(1, taken.Length + 1).Select(k => k == 1 ? word : $"{word}_{k.ToString(System.Globalization.CultureInfo.InvariantCulture)}").First(n => !taken.Contains(n));
    }

    private static string FeatureOf(string element) => element.Split('.', '#')[0];
}
