using System.Globalization;
using Sparewright.Part.Record;
using Sparewright.Part.Shape;
using Sparewright.Part.Sizes;

namespace Sparewright.Remake.Reports;

/// <summary>A load case in a sentence: what acts where, what holds the part meanwhile, how often and how long.</summary>
public static class LoadWords
{
    public static string Of(Load load)
    {
        string acts = string.Join("; ", load.Actions.Select(Words)), holds = string.Join(", ", Holding(load.Holds));
        string sentence = $"{acts}; held by: {(holds.Length > 0 ? holds : "nothing")}; {Words(load.Times)}, for {load.Lasts.ToString().ToLowerInvariant()}.";
        return char.ToUpperInvariant(sentence[0]) + sentence[1..];
    }

    private static string Words(LoadAction action) => action switch
    {
        LoadAction.Force f => $"{f.Word.ToString().ToLowerInvariant()} of {Number(f.Newtons)} N on {At(f.At)}, {Toward(f.Toward)}",
        LoadAction.Moment m => $"{(m.Bends ? "bend" : "twist")} of {Number(m.NewtonMetres)} N·m on {At(m.At)}, about {Word(m.About)}",
        LoadAction.Pressure p => $"pressure of {Number(p.Bar)} bar on {Names(p.At)}",
        LoadAction.OwnWeight w => $"own weight, {Toward(w.Toward)}",
        LoadAction.Movement m => $"{(m.Snaps ? "snap" : "movement")} of {At(m.At)} by {Length(m.HowFar)}, {Toward(m.Toward)}",
        LoadAction.PressFit p => $"press on {At(p.At)} by an interference of {Length(p.Interference)}",
        _ => throw new InvalidOperationException($"unknown action {action}"),
    };

    private static IEnumerable<string> Holding(Holds holds)
    {
        if (holds.Screwed.Count > 0) yield return $"screws in {Names(holds.Screwed)}{(holds.Washer is { } washer ? $" with heads or washers of {Length(washer)}" : "")}";
        if (holds.RestsOn.Count > 0) yield return $"resting on {Names(holds.RestsOn)}, which only pushes";
        if (holds.HeldFast.Count > 0) yield return $"{Names(holds.HeldFast)} held fast";
        if (holds.HeldBy.Count > 0) yield return $"the counterpart {string.Join(" and ", holds.HeldBy)}, which only pushes";
    }

    private static string Words(HowOften times) => times switch
    {
        HowOften.Once => "once",
        HowOften.NowAndThen => "now and then",
        HowOften.Many => "many times",
        _ => "always",
    };

    private static string Length(SizeExpression length) => length switch
    {
        SizeExpression.Number n => $"{Number(n.Value)} mm",
        SizeExpression.Name n => n.Size,
        _ => "what its formula says",
    };

    private static string At(ActsAt at) => at.Counterpart is { } counterpart ? $"the place where {counterpart} meets it" : Names(at.Elements);

    private static string Names(IReadOnlyList<ElementName> names) => string.Join(" and ", names.Select(n => n.Text));

    private static string Toward(Direction direction) => $"toward {Word(direction)}";

    private static string Word(Direction direction) => direction.ToString().ToLowerInvariant();

    private static string Number(double value) => value.ToString("0.###", CultureInfo.InvariantCulture);
}
