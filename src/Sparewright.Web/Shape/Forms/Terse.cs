using Sparewright.Part;

namespace Sparewright.Web.Shape.Forms;

/// <summary>Short words to write forms with.</summary>
internal static class Terse
{
    public static readonly string[] Directions = ["right", "left", "back", "front", "up", "down"];

    public static FormPiece.Slot Name(string key) => new(key, SlotKind.Name, "name");

    public static FormPiece.Slot Length(string key, string label) => new(key, SlotKind.Length, label);

    public static FormPiece.Slot Angle(string key, string label, string? otherwise = null) => new(key, SlotKind.Angle, label, otherwise);

    public static FormPiece.Slot Flat(string key, string label, string? otherwise = null) => new(key, SlotKind.FlatElement, label, otherwise);

    public static FormPiece.Slot Direction(string key, string label) => new(key, SlotKind.Direction, label, null, Directions);

    public static FormPiece.Slot Word(string key, string label, string otherwise, params string[] words) => new(key, SlotKind.Word, label, otherwise, words);

    public static FormPiece.Point Point2(string key, string label) => new(key, 2, label);

    public static FormPiece.Point Point3(string key, string label) => new(key, 3, label);

    public static FormPiece.Option May(string key, string add, string remove, JobValue start, params FormPiece[] pieces) => new(key, add, remove, start, pieces);

    public static FormPiece.Choice OneOf(params Way[] ways) => new(false, ways);

    public static FormPiece.Choice AtMostOneOf(params Way[] ways) => new(true, ways);

    public static Way Way(string key, string offer, JobValue.Group start, params FormPiece[] pieces) => new(key, offer, start, pieces);

    public static SentenceForm Form(string key, string title, params FormPiece[] pieces) => new(key, title, null, pieces);

    public static SentenceForm Form(string key, string title, JobValue.Group start, params FormPiece[] pieces) => new(key, title, start, pieces);

    public static JobValue.List List(params JobValue[] items) => new(items);

    public static JobValue.Group Group(params (string Key, JobValue Value)[] entries) => new(entries);

    public static readonly JobValue Zero2 = List("0", "0");

    public static readonly JobValue Zero3 = List("0", "0", "0");
}
