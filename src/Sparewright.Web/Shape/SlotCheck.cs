using System.Globalization;
using Sparewright.Measure.Numbers;
using Sparewright.Part;
using Sparewright.Part.Sizes;

namespace Sparewright.Web.Shape;

/// <summary>What comes of something typed into a slot before it is kept.</summary>
/// <param name="Problem">What is wrong with it there.</param>
/// <param name="UnknownSizes">Size names in it that nothing defines.</param>
public sealed record SlotCheck(Problem? Problem, IReadOnlyList<string> UnknownSizes)
{
    private static readonly SlotCheck Fine = new(null, []);

    /// <summary>The change is tried on the text, and the whole job is read anew: what is said here is what will be said once it is kept.</summary>
    public static SlotCheck Of(string text, SentencePiece.Slot slot, string typed)
    {
        if (typed == slot.Shown) return Fine;
        JobEdit edit = slot.Fill(typed, "").Make(text);
        if (edit.Text is not { } changed) return new SlotCheck(edit.Problem, []);
        if (Written.Read(changed, out _)?.At(slot.Path.Split('/')) is not { } there) return Fine;
        var lines = new Lines(changed);
        Problem? problem = JobFile.Read(changed).Problems.FirstOrDefault(p => lines.OffsetOf(p.Place) is var at && there.Start <= at && at <= there.End);
        string[] sizes = Written.Read(changed, out _)?.At("sizes") is Written.Group group ? [.. group.Entries.Select(e => e.Key)] : [];
        string[] unknown = problem is not null && slot.Kind is Forms.SlotKind.Length or Forms.SlotKind.Angle
            ? [.. ExpressionParser.Read(typed).Names.Select(n => n.Name).Distinct(StringComparer.Ordinal).Except(sizes, StringComparer.Ordinal)]
            : [];
        return new SlotCheck(problem, unknown);
    }

    /// <summary>What an expression comes to at the sizes as they stand, as "= 13.5 mm"; null where that says nothing new.</summary>
    public static string? ComesTo(string typed, IReadOnlyDictionary<string, Dual>? sizes, bool isAngle)
    {
        if (sizes is null || ExpressionParser.Read(typed).Expression is not { } expression || expression is SizeExpression.Number { Measured: null } || expression.Names().Any(n => !sizes.ContainsKey(n))) return null;
        double value = expression.At(sizes).Value;
        return double.IsFinite(value) ? string.Create(CultureInfo.InvariantCulture, $"= {value:0.##} {(isAngle ? "degrees" : "mm")}") : null;
    }
}
