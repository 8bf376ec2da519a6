using Sparewright.Measure;
using Sparewright.Part.Elements;
using Sparewright.Part.Record;

namespace Sparewright.Reconcile.Readings;

/// <summary>How far an arc of the part rises over a chord across it (<see cref="Sagitta"/>).</summary>
internal static class RoundGeometry
{
    /// <param name="chordMm">The chord, corrected.</param>
    public static JawSpan Span(SagittaReading reading, double chordMm, PlacedShape shape)
    {
        if (!shape.Elements.TryGetValue(reading.Of.Text, out Element? element)) return CaliperGeometry.Missing(reading.Of, shape);
        if (JawRest.RoundFaceOf(element) is not { } round)
            return new(double.NaN, new($"`{element.Name}` is not round about one axis, so it has no radius", element is SideElement side ? $"name a round piece of it: {JawRest.PiecesOf(side)}" : "name a round element, such as a wall or a side"));
        var rise = Sagitta.Mm(round.Radius, chordMm);
        return 2 * round.Radius.Value > chordMm
            ? new(rise, null)
            : new(rise, new(FormattableString.Invariant($"at these sizes `{round.Name}` is {2 * round.Radius.Value:0.##} mm across, and has no chord of {chordMm:0.##} mm"), "check the chord, and which element it was taken across"));
    }
}
