namespace Sparewright.Web.Shape.Forms;

/// <summary>What is written into a slot, and so how it is filled.</summary>
public enum SlotKind
{
    /// <summary>The feature's own name.</summary>
    Name,
    Length,
    Angle,
    Count,

    /// <summary>A flat element or datum plane.</summary>
    FlatElement,

    /// <summary>A round element.</summary>
    RoundElement,

    /// <summary>Any element.</summary>
    Element,

    /// <summary>An earlier feature, or one copy of it.</summary>
    Feature,

    /// <summary>An earlier feature, or the whole part.</summary>
    Reach,
    Direction,

    /// <summary>One of a few words.</summary>
    Word,

    /// <summary>Something that the sentence has no place for: shown as it is written.</summary>
    Other,
}
