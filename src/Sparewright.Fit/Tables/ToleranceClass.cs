using System.Diagnostics.CodeAnalysis;
using System.Globalization;
using Sparewright.Measure.Quantities;

namespace Sparewright.Fit.Tables;

/// <summary>Between which lengths a real size lies, mm.</summary>
public readonly record struct Limits(double LowMm, double HighMm);

/// <summary>
/// A tolerance class of ISO 286-1, as h11 or H7: a to h, js, k, m, n, p for shafts (what is inside), A to H, JS, K, M, N, P for holes; grades IT5 to IT16; sizes to 250 mm.
/// The figures stand in Data/iso286-grades.csv and Data/iso286-deviations.csv, with their sources; P8 and beyond, K9 and beyond of holes are left out.
/// </summary>
/// <param name="Letters">In capitals for a hole.</param>
/// <param name="Grade">The number of the standard tolerance IT.</param>
public sealed record ToleranceClass(string Letters, int Grade)
{
    private const int FirstGrade = 5, LastGrade = 16;

    private static readonly RangeTable Grades = new("iso286-grades.csv"), Deviations = new("iso286-deviations.csv");

    private static readonly string[] Columns = ["a", "b", "c", "d", "e", "f", "g", "h", "k", "m", "n", "p"];

    public bool IsHole => char.IsAsciiLetterUpper(Letters[0]);

    private string Small => Letters.ToLowerInvariant();

    /// <summary>Reads a class, or says why there is none of that name here.</summary>
    public static bool TryRead(string text, [NotNullWhen(true)] out ToleranceClass? read, [NotNullWhen(false)] out Refusal? why)
    {
        string letters = text.TrimEnd('0', '1', '2', '3', '4', '5', '6', '7', '8', '9');
        read = null;
        why = null;
        bool oneCase = letters.All(char.IsAsciiLetterLower) || letters.All(char.IsAsciiLetterUpper);
        if (!oneCase || !(Columns.Contains(letters.ToLowerInvariant()) || letters.Equals("js", StringComparison.OrdinalIgnoreCase)))
            why = new($"there is no table for the ISO 286 class {text}", "write one of a to h, js, k, m, n, p (in capitals for a hole) with its grade, or give the ± as `plus_minus`");
        else if (!int.TryParse(text.AsSpan(letters.Length), NumberStyles.None, CultureInfo.InvariantCulture, out int grade) || grade is < FirstGrade or > LastGrade)
            why = new($"the grade of {text} is not in the table", $"write a grade from {FirstGrade} to {LastGrade}, or give the ± as `plus_minus`");
        else if ((letters == "K" && grade > 8) || (letters == "P" && grade > 7) || (letters is "K" or "M" or "N" && grade == FirstGrade) || (letters == "P" && grade == FirstGrade))
            why = new($"there is no table for the ISO 286 class {text}", "write a grade nearer 7, or give the ± as `plus_minus`");
        else
            read = new(letters, grade);
        return read is not null;
    }

    /// <summary>The limits of a nominal size in mm, or null beyond the table.</summary>
    public Limits? Of(double nominalMm) => Grades.At(nominalMm) is { } row && Deviations.At(nominalMm) is { } deviations ? Within(nominalMm, row, deviations) : null;

    /// <summary>Where the tables end, mm.</summary>
    public static double UpToMm => Grades.UpToMm;

    private Limits Within(double nominalMm, double[] grades, double[] deviations)
    {
        double tolerance = It(Grade), low;
        if (Small == "js") low = -tolerance / 2;
        else if (Array.IndexOf(Columns, Small) is var column && column <= Array.IndexOf(Columns, "h")) low = IsHole ? -deviations[column] : deviations[column] - tolerance;
        else if (!IsHole) low = Small == "k" && Grade > 7 ? 0 : deviations[column];
        else low = (Small == "n" && Grade > 8 && nominalMm > 3 ? 0 : -deviations[column] + Addition()) - tolerance;
        return new(nominalMm + low / 1000, nominalMm + (low + tolerance) / 1000);

        double It(int grade) => grades[grade - FirstGrade];
        double Addition() => nominalMm > 3 && Grade <= (Small == "p" ? 7 : 8) ? It(Grade) - It(Grade - 1) : 0;
    }

    public override string ToString() => $"{Letters}{Grade.ToString(CultureInfo.InvariantCulture)}";
}
