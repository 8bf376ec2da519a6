using System.Globalization;
using CsCheck;
using Sparewright.Measure.Quantities;
using Sparewright.Web.Readings;
using Xunit;

namespace Sparewright.Web.Tests.Readings;

public class EntryTextTests
{
    private static (Entered? Entered, Refusal? Refusal) Read(string typed, LengthUnit usual) =>
        EntryText.TryRead(typed, usual, out Entered? entered, out Refusal? refusal) ? (entered, null) : (null, refusal);

    /// <summary>Ways to say one value, each with what is written for it: how people and calipers spell it, by our own list.</summary>
    public static IEnumerable<(string Typed, LengthUnit Usual, double Mm, string Written)> Spellings()
    {
        const LengthUnit mm = LengthUnit.Millimetre, inch = LengthUnit.Inch;
        foreach (string digits in (string[])["12.40", "0.48", "7", "103.21", "48.0", "5.005", "16.97", "150.00", "2.4", "33.333"])
        {
            double value = double.Parse(digits, CultureInfo.InvariantCulture);
            string comma = digits.Replace('.', ',');
            foreach (string typed in (string[])[digits, comma, $"{digits} mm", $"{digits}mm", $"{comma} mm", $"{comma}MM", $"  {digits} ", $"+{digits}", $"00{digits}", $"{digits}\u00a0mm", $"{digits}\t", $"{digits} millimetres"])
                yield return (typed, mm, value, digits);
            yield return ($"{digits} mm", inch, value, digits);
            yield return ($"{comma}mm", inch, value, digits);
        }

        foreach (string digits in (string[])["0.4885", "1.125", "2", "0.5", "4.6250", "0.0315", "3.5"])
        {
            double value = (double)(decimal.Parse(digits, CultureInfo.InvariantCulture) * 25.4m);
            string comma = digits.Replace('.', ',');
            foreach (string typed in (string[])[$"{digits}in", $"{digits} in", $"{comma} in", $"{digits}\"", $"{comma}\"", $"{digits} inch", $"{digits} inches", $"{digits} IN", $"{digits}″", $"{digits}”", $"{digits}''", $"{digits} in."])
            {
                yield return (typed, mm, value, $"{digits} in");
                yield return (typed, inch, value, $"{digits} in");
            }

            yield return (digits, inch, value, $"{digits} in");
            yield return (comma, inch, value, $"{digits} in");
        }

        // Whole inches and parts of 64, by hand.
        foreach (var (fraction, sixtyFourths) in ((string, int)[])[("31/64", 31), ("15/32", 30), ("7/16", 28), ("3/8", 24), ("1/4", 16), ("1/2", 32), ("1 15/32", 94), ("2 1/4", 144), ("4 5/8", 296), ("10 63/64", 703)])
        {
            double value = (double)(sixtyFourths * 25.4m / 64);
            foreach (string typed in (string[])[fraction, $"{fraction}\"", $"{fraction} in", $"{fraction}in", fraction.Replace(' ', '-'), $"{fraction.Replace(' ', '+')} in", $" {fraction} inch "])
            {
                yield return (typed, mm, value, $"{fraction} in");
                yield return (typed, inch, value, $"{fraction} in");
            }
        }

        yield return ("½", mm, 12.7, "1/2 in");
        yield return ("1½\"", mm, 38.1, "1 1/2 in");
        yield return ("2¾", inch, 69.85, "2 3/4 in");
        yield return ("1⅜ in", mm, 34.925, "1 3/8 in");
        yield return (".4885in", mm, 12.4079, "0.4885 in");
        yield return (",5", mm, 0.5, "0.5");
        yield return ("12.", mm, 12, "12");
        yield return ("12,", mm, 12, "12");
        yield return ("000.50", mm, 0.5, "0.50");
        yield return ("31 / 64", mm, 12.303125, "31/64 in");
        yield return ("31⁄64", mm, 12.303125, "31/64 in");
    }

    [Fact]
    public void Every_spelling_of_the_table_is_read_right()
    {
        (string Typed, LengthUnit Usual, double Mm, string Written)[] all = [.. Spellings()];
        Assert.True(all.Length >= 300, $"{all.Length} spellings");
        string[] wrong = [.. all.Where(s => Read(s.Typed, s.Usual).Entered is not { } e || Math.Abs(e.Value - s.Mm) > 1e-12 * s.Mm || e.Written != s.Written)
            .Select(s => $"“{s.Typed}” ({s.Usual}): {Read(s.Typed, s.Usual).Entered?.ToString() ?? Read(s.Typed, s.Usual).Refusal!.ToString()}, should be {s.Written}")];
        Assert.True(wrong.Length == 0, string.Join('\n', wrong));
    }

    [Theory]
    [InlineData("", "nothing is written")]
    [InlineData("   ", "nothing is written")]
    [InlineData("abc", "is not a value")]
    [InlineData("1,234.5", "a comma and a point")]
    [InlineData("12.40.", "run together")]
    [InlineData("12.4012.41", "run together")]
    [InlineData("12 40", "gap")]
    [InlineData("-3.2", "below zero")]
    [InlineData("−3.2", "below zero")]
    [InlineData("0", "nothing to measure")]
    [InlineData("0.00", "nothing to measure")]
    [InlineData("1e3", "not a value")]
    [InlineData("12.4 furlongs", "furlongs")]
    [InlineData("1.24 cm", "cm")]
    [InlineData("31/63", "63")]
    [InlineData("35/32 in", "proper")]
    [InlineData("3/8 mm", "fraction")]
    [InlineData("1/2/4", "fraction")]
    [InlineData("1.5/8", "fraction")]
    [InlineData("12401240", "longer than any caliper")]
    [InlineData("NaN", "not a value")]
    [InlineData("∞", "not a value")]
    [InlineData("=12", "not a value")]
    [InlineData("1234567890123456789012345678901234567890123", "too long")]
    public void Nonsense_is_refused_with_a_reason_and_a_remedy(string typed, string reason)
    {
        Refusal refusal = Read(typed, LengthUnit.Millimetre).Refusal!;
        Assert.Contains(reason, refusal.Reason, StringComparison.Ordinal);
        Assert.NotEmpty(refusal.Remedy);
    }

    /// <summary>What is written into the job is read there as the same value, whatever was typed.</summary>
    [Fact]
    public void What_is_written_means_the_same_to_the_job() => Gen.Select(Gen.Int[1, 9999], Gen.Int[0, 4], Gen.Int[0, 5].Select(k => new[] { "", " mm", "mm", " in", "\"", " inch" }[k]), Gen.Bool, Gen.Enum<LengthUnit>()).Sample((n, decimals, unit, comma, usual) =>
    {
        string digits = (n / (decimal)Math.Pow(10, decimals)).ToString("F" + decimals, CultureInfo.InvariantCulture);
        var (entered, refusal) = Read((comma ? digits.Replace('.', ',') : digits) + unit, usual);
        if (entered is null) return refusal!.Reason.Contains("longer", StringComparison.Ordinal);
        return QuantityText.TryRead(entered.Written, QuantityKind.Length, out Quantity kept, out _) && kept.Value == entered.Value;
    });

    /// <summary>Whatever comes from the keyboard is read or refused, and never throws.</summary>
    [Fact]
    public void Anything_is_read_or_refused() => Gen.OneOf(Gen.String, Gen.Char["0123456789.,/ -+\"'inm½⁄\u00a0"].Array[0, 14].Select(c => new string(c))).Sample(typed =>
    {
        foreach (LengthUnit usual in Enum.GetValues<LengthUnit>())
        {
            var (entered, refusal) = Read(typed, usual);
            if (entered is null == refusal is null) return false;
            if (entered is not null && !(entered.Value > 0 && double.IsFinite(entered.Value))) return false;
        }

        return true;
    });

    [Theory]
    [InlineData("17.01; 16,97;16.99 mm", "17.01|16.97|16.99")]
    [InlineData("4 5/8; 117.5", "4 5/8 in|117.5")]
    public void Repeats_in_one_line(string line, string written)
    {
        Assert.True(EntryText.TryReadAll(line, piece => Read(piece, LengthUnit.Millimetre), out IReadOnlyList<Entered> all, out _));
        Assert.Equal(written, string.Join('|', all.Select(e => e.Written)));
    }

    [Theory]
    [InlineData("")]
    [InlineData(" ; ")]
    [InlineData("17.01; x")]
    public void A_line_without_sound_repeats_is_refused(string line) => Assert.False(EntryText.TryReadAll(line, piece => Read(piece, LengthUnit.Millimetre), out _, out _));

    [Theory]
    [InlineData("15.4", 15.4, "15.4 g")]
    [InlineData("15,4 g", 15.4, "15.4 g")]
    public void Weights_are_in_grams(string typed, double grams, string written)
    {
        Assert.True(EntryText.TryReadGrams(typed, out Entered? entered, out _));
        Assert.Equal((grams, written), (entered!.Value, entered.Written));
        Assert.False(EntryText.TryReadGrams("12 mm", out _, out _));
    }
}
