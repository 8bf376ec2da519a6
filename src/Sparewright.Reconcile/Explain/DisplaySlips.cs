using System.Globalization;
using Sparewright.Measure.Quantities;

namespace Sparewright.Reconcile.Explain;

/// <summary>The ways in which what was written down can differ from what should have been.</summary>
internal enum SlipKind { DigitsSwapped, LookAlikeDigit, OneDigit, DecimalPoint, WrongUnit, WholeStep, RadiusForDiameter, DiameterForRadius, OtherPlace, OtherWay, Zero, JawFlats, Worn, NoneOfThese }

/// <summary>What a display may have said instead of what was written down.</summary>
/// <param name="MeantMm">In mm, uncorrected.</param>
/// <param name="Share">Which share of its kind's weight this one has.</param>
/// <param name="Words">What went wrong, in a few words.</param>
internal sealed record DisplaySlip(SlipKind Kind, double MeantMm, double Share, string Words);

/// <summary>What people make of the digits on a display: every value that may have stood there when another was written down.</summary>
internal static class DisplaySlips
{
    /// <summary>Digits that look alike on a display of seven strokes: one stroke more or less (plain geometry of the strokes; our own list).</summary>
    private const string LookAlikes = "08 17 39 56 59 68 89 06 38";

    /// <summary>Miscounts of a scale, mm: half a turn, a division, a numbered division.</summary>
    private static readonly double[] Steps = [0.5, 1, 10];

    /// <param name="shownMm">What was written down, mm.</param>
    /// <param name="resolutionMm">The step of the display, which says how many digits it has.</param>
    public static IReadOnlyList<DisplaySlip> Of(double shownMm, double resolutionMm)
    {
        string digits = Math.Abs(shownMm).ToString($"F{DecimalsOf(resolutionMm)}", CultureInfo.InvariantCulture);
        return
        [
            .. Shared(SlipKind.DigitsSwapped, Swapped(digits), "two digits swapped"),
            .. Shared(SlipKind.LookAlikeDigit, Changed(digits, LooksLike), "a digit misread for one that looks like it"),
            .. Shared(SlipKind.OneDigit, Changed(digits, (a, b) => a != b && !LooksLike(a, b)), "one digit wrong"),
            .. Shared(SlipKind.DecimalPoint, [shownMm * 10, shownMm / 10], "the decimal point in the wrong place"),
            .. Shared(SlipKind.WrongUnit, [shownMm * Unit.Inch.Size, shownMm / Unit.Inch.Size], "inches taken for millimetres, or the reverse"),
            .. Steps.SelectMany(step => Shared(SlipKind.WholeStep, [shownMm - step, shownMm + step], string.Create(CultureInfo.InvariantCulture, $"off by {step:0.#} mm, a miscounted division"), Steps.Length)),
        ];
    }

    private static IEnumerable<DisplaySlip> Shared(SlipKind kind, IEnumerable<double> meant, string words, int groups = 1)
    {
        double[] all = [.. meant.Where(m => m > 0).Distinct()];
        return all.Select(m => new DisplaySlip(kind, m, 1.0 / all.Length / groups, words));
    }

    /// <summary>Neighbouring digits exchanged, the point between them or not staying where it is: 41.2 for 14.2, 30.41 for 34.01.</summary>
    private static IEnumerable<double> Swapped(string digits)
    {
        int[] places = [.. Enumerable.Range(0, digits.Length).Where(k => char.IsAsciiDigit(digits[k]))];
        for (int k = 0; k + 1 < places.Length; k++)
        {
            if (digits[places[k]] == digits[places[k + 1]]) continue;
            char[] swapped = digits.ToCharArray();
            (swapped[places[k]], swapped[places[k + 1]]) = (swapped[places[k + 1]], swapped[places[k]]);
            yield return Number(swapped);
        }
    }

    private static IEnumerable<double> Changed(string digits, Func<char, char, bool> may)
    {
        for (int k = 0; k < digits.Length; k++)
            for (char other = '0'; other <= '9'; other++)
                if (char.IsAsciiDigit(digits[k]) && may(digits[k], other))
                {
                    char[] changed = digits.ToCharArray();
                    changed[k] = other;
                    yield return Number(changed);
                }
    }

    private static bool LooksLike(char a, char b) => a != b && LookAlikes.Split(' ').Any(pair => pair.Contains(a, StringComparison.Ordinal) && pair.Contains(b, StringComparison.Ordinal));

    private static int DecimalsOf(double resolutionMm) => Math.Clamp((int)Math.Ceiling(-Math.Log10(resolutionMm) - 1e-9), 0, 4);

    private static double Number(char[] digits) => double.Parse(digits, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture);
}
