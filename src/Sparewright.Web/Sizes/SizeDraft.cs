using System.Diagnostics.CodeAnalysis;
using Sparewright.Measure.Quantities;
using Sparewright.Part;
using Sparewright.Part.Sizes;
using Quantity = Sparewright.Part.Sizes.Quantity;

namespace Sparewright.Web.Sizes;

/// <summary>What a job may say of a size beside the readings.</summary>
public enum SizeGiven { Nothing, About, Likely, Fixed, EqualTo }

/// <summary>What is said of a size while somebody changes it: texts, perhaps not yet sound.</summary>
public sealed record SizeDraft(string Name, Quantity Quantity, SizeGiven Given, string Value, string PlusMinus)
{
    private static readonly string[] Keys = ["about", "likely", "fixed", "equals"];

    /// <summary>What the job's text says of a size.</summary>
    public static SizeDraft Of(Size size, Written? written)
    {
        string Text(params string[] path) => written?.At(path) is Written.Value v ? v.Text : "";
        return size.Otherwise switch
        {
            Part.Sizes.Given.About => new(size.Name, size.Quantity, SizeGiven.About, Text("about"), ""),
            Part.Sizes.Given.Likely => new(size.Name, size.Quantity, SizeGiven.Likely, Text("likely", "value"), Text("likely", "plus_minus")),
            Part.Sizes.Given.Fixed => new(size.Name, size.Quantity, SizeGiven.Fixed, Text("fixed"), ""),
            Part.Sizes.Given.EqualTo => new(size.Name, size.Quantity, SizeGiven.EqualTo, Text("equals"), ""),
            _ => new(size.Name, size.Quantity, SizeGiven.Nothing, "", ""),
        };
    }

    /// <summary>Checks the values, and writes them as the job does.</summary>
    public bool TryMake(LengthUnit unit, [NotNullWhen(true)] out JobValue? value, [NotNullWhen(false)] out Refusal? refusal)
    {
        value = null;
        refusal = null;
        switch (Given)
        {
            case SizeGiven.Nothing:
                value = "";
                return true;
            case SizeGiven.EqualTo:
                if (string.IsNullOrWhiteSpace(Value))
                {
                    refusal = new("nothing is written behind equals", "write an expression of other sizes, as arm_wide/2");
                    return false;
                }

                value = Value.Trim();
                return true;
            case SizeGiven.Likely:
                if (!TryWrite(Value, unit, out string middle, out refusal) || !TryWrite(PlusMinus, unit, out string half, out refusal)) return false;
                value = new JobValue.Group([("value", middle), ("plus_minus", half)]);
                return true;
            default:
                if (!TryWrite(Value, unit, out string written, out refusal)) return false;
                value = written;
                return true;
        }
    }

    /// <summary>The job's text with this said of the size, in the place of what was said before.</summary>
    public JobEdit WriteOver(string text, JobValue value)
    {
        var edit = new JobEdit(text, null);
        Written? before = Written.Read(text, out _)?.At("sizes", Name);
        if (before is null) return new JobEdit(null, new Problem(Place.None, $"there is no size `{Name}` any more", "look at the list as it stands now"));
        string? key = Given switch { SizeGiven.Nothing => null, SizeGiven.EqualTo => "equals", _ => Given.ToString().ToLowerInvariant() };
        if (key is not null) edit = JobText.WithValue(text, ["sizes", Name, key], value);
        // What is fixed or derived has no nominal beside it.
        string[] displaced = [.. Keys.Where(k => k != key), .. Given is SizeGiven.Fixed or SizeGiven.EqualTo ? ["nominal"] : Array.Empty<string>()];
        foreach (string other in displaced.Where(k => before.At(k) is not null))
            if (edit.Text is { } changed) edit = JobText.Without(changed, ["sizes", Name, other]);
        // A size without a value would no longer say that it is an angle.
        if (edit.Text is { } bare && key is null && Quantity == Quantity.Angle && before.At("kind") is null) edit = JobText.WithValue(bare, ["sizes", Name, "kind"], "angle");
        return edit.Text is { } now && JobFile.Read(now) is { Job: null } unsound && JobFile.Read(text).Job is not null ? new JobEdit(null, unsound.Problems[0]) : edit;
    }

    private bool TryWrite(string typed, LengthUnit unit, out string written, [NotNullWhen(false)] out Refusal? refusal)
    {
        written = typed.Trim().Replace('−', '-');
        if (written.Count(c => c is ',' or '.') == 1) written = written.Replace(',', '.');
        bool bare = written.Length > 0 && char.IsAsciiDigit(written[^1]);
        if (bare && Quantity == Quantity.Angle) written += " deg";
        else if (bare && Quantity == Quantity.Length && (unit == LengthUnit.Inch || written.Contains('/', StringComparison.Ordinal))) written += " in";
        return QuantityText.TryRead(written, Quantity switch { Quantity.Angle => QuantityKind.Angle, Quantity.Length => QuantityKind.Length, _ => QuantityKind.Number }, out _, out refusal);
    }
}
