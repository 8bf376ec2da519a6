using Sparewright.Measure.Quantities;
using Sparewright.Part.Record;
using Sparewright.Remake.Bearing;

namespace Sparewright.Web.Desk;

/// <summary>The margin under one load, to be shown on the part.</summary>
/// <param name="Version">Of the job's text that it was computed for: it is shown on no other.</param>
public sealed record ShownMargin(int Version, string Address, CaseFound Of);

/// <summary>What one window looks at, and in what unit: elements that stand out on the part, the reading in hand, and who wants to hear of a face that is picked.</summary>
public sealed class Attention
{
    /// <summary>Raised when what stands out changed.</summary>
    public event Action? Changed;

    /// <summary>Raised with all element names of a face that the user picked on the part or in its list.</summary>
    public event Action<IReadOnlyList<string>>? Picked;

    /// <summary>In what this window shows lengths.</summary>
    public LengthUnit Unit { get; private set; }

    /// <summary>Names of elements that stand out.</summary>
    public IReadOnlyList<string> Elements { get; private set; } = [];

    /// <summary>The reading whose dimension line is shown.</summary>
    public CaliperReading? Reading { get; private set; }

    /// <summary>The margin that the part is coloured by; null for none.</summary>
    public ShownMargin? Margin { get; private set; }

    /// <summary>Colours the part by the margin on its surface, or no more.</summary>
    public void Colour(ShownMargin? margin)
    {
        if (Margin == margin) return;
        Margin = margin;
        Changed?.Invoke();
    }

    /// <summary>Makes elements stand out, or a reading, or nothing.</summary>
    public void To(IReadOnlyList<string> elements, CaliperReading? reading = null)
    {
        (Elements, Reading) = (elements, reading);
        Changed?.Invoke();
    }

    /// <summary>Shows lengths in another unit, in every pane.</summary>
    public void Show(LengthUnit unit)
    {
        if (Unit == unit) return;
        Unit = unit;
        Changed?.Invoke();
    }

    /// <summary>Says that a face was picked.</summary>
    public void Pick(IReadOnlyList<string> names)
    {
        To(names);
        Picked?.Invoke(names);
    }
}
