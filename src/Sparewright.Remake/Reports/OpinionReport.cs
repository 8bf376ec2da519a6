using System.Globalization;
using System.Text.Json;
using Sparewright.Measure.Quantities;
using Sparewright.Part.Record;
using Sparewright.Remake.Bearing;
using Sparewright.Strength.Formulas;

namespace Sparewright.Remake.Reports;

/// <summary>The usual formulas beside the solver's answers, in words and for other programs.</summary>
internal static class OpinionReport
{
    public static IEnumerable<ReportPart> Of(CaseFound of, LengthUnit unit)
    {
        IReadOnlyList<SecondOpinion> opinions = of.Solved.Opinions;
        if (opinions.Count > 0)
        {
            yield return new ReportPart.Table(["second opinion", "formula", "solver", ""],
                [.. opinions.Select(o => new ReportPart.Row(o.Disagrees ? Tone.LookHere : Tone.Plain, o.Name, Value(o.Formula, o.FormulaPlusMinus, o.Unit, unit), Value(o.Solver, o.SolverPlusMinus, o.Unit, unit), o.Disagrees ? "disagree" : "agree"))]);
            foreach (SecondOpinion o in opinions.Where(o => o.Disagrees))
                yield return new ReportPart.Line(string.Create(CultureInfo.InvariantCulture,
                    $"Disagreement beyond both ±: the solver says {100 * Math.Abs(o.Difference):0} % {(Math.Abs(o.Solver) > Math.Abs(o.Formula) ? "more" : "less")} than the formula for “{o.Name}”. One of them describes another part: see whether load and support are as meant, and count on the worse of the two."), Tone.LookHere);
        }
        else if (of.Screws.Count == 0)
        {
            yield return new ReportPart.Line("Second opinion: none of the formulas at hand (beam, twist, eye, ring, snap arm, screw) fits this shape and load.");
        }

        foreach (SecondOpinion strain in opinions.Where(o => o.Unit == "%")) yield return Strain(of, strain);
        foreach (PulledScrew screw in of.Screws)
            yield return new ReportPart.Line(string.Create(CultureInfo.InvariantCulture,
                $"Screw {screw.Counterpart} is pulled out of {screw.Hole} with {screw.AskedN:0} N. By the formula its thread is allowed {Newtons(screw.AllowedN, screw.PlusMinus)} (at once, with nothing taken off, it goes at {Newtons(screw.ShortTermN, screw.PlusMinus)}; the ± is of where between hole and thread it shears, and of the strength). {LengthsShown.Rounded(screw.EngagedMm, 1, unit)} {unit.Symbol()} of it hold; {LengthsShown.Rounded(screw.LeastEngagedMm, 1, unit)} {unit.Symbol()} or more are common practice."), screw.AskedN > screw.AllowedN * (1 - screw.PlusMinus) || screw.EngagedMm < screw.LeastEngagedMm ? Tone.LookHere : Tone.Good);
    }

    private static ReportPart.Line Strain(CaseFound of, SecondOpinion strain)
    {
        double share = of.Load.Times == HowOften.Once ? SnapArm.OnceShare : SnapArm.RepeatedShare, allowed = 100 * share * of.StrainOnce.Value;
        // The one that asks more, with its own ±.
        var (asked, plusMinus) = strain.Formula >= strain.Solver ? (strain.Formula, strain.FormulaPlusMinus) : (strain.Solver, strain.SolverPlusMinus);
        return new(string.Create(CultureInfo.InvariantCulture, $"A snap arm is judged by its strain: {StrengthReport.WithError(asked, asked * plusMinus)} % is asked, {StrengthReport.WithError(allowed, 2 * of.StrainOnce.Spread * allowed)} % is allowed ({100 * share:0} % of the {100 * of.StrainOnce.Value:0.0} % that the material is taken to bear once; {of.StrainOnce.Source})."), asked * (1 + plusMinus) > allowed ? Tone.LookHere : Tone.Good);
    }

    public static void Write(Utf8JsonWriter json, CaseFound of)
    {
        json.WriteStartArray("secondOpinions");
        foreach (SecondOpinion o in of.Solved.Opinions)
        {
            json.WriteStartObject();
            json.WriteString("name", o.Name);
            json.WriteString("unit", o.Unit);
            json.WriteNumber("formula", o.Formula);
            json.WriteNumber("formulaPlusMinus", o.FormulaPlusMinus);
            json.WriteNumber("solver", o.Solver);
            json.WriteNumber("solverPlusMinus", o.SolverPlusMinus);
            json.WriteBoolean("disagrees", o.Disagrees);
            json.WriteEndObject();
        }

        json.WriteEndArray();
        json.WriteStartArray("screws");
        foreach (PulledScrew screw in of.Screws)
        {
            json.WriteStartObject();
            json.WriteString("counterpart", screw.Counterpart);
            json.WriteString("hole", screw.Hole);
            json.WriteNumber("askedN", screw.AskedN);
            json.WriteNumber("allowedN", screw.AllowedN);
            json.WriteNumber("shortTermN", screw.ShortTermN);
            json.WriteNumber("plusMinus", screw.PlusMinus);
            json.WriteNumber("engagedMm", screw.EngagedMm);
            json.WriteEndObject();
        }

        json.WriteEndArray();
        if (of.Solved.Handbook is { } book)
        {
            json.WriteStartObject("handbook");
            json.WriteString("of", book.Of);
            json.WriteNumber("factor", book.Factor);
            json.WriteNumber("inBending", book.InBending);
            json.WriteNumber("wallMm", book.WallMm);
            json.WriteEndObject();
        }
        else
        {
            json.WriteNull("handbook");
        }
    }

    private static string Value(double value, double plusMinus, string of, LengthUnit unit) => of == LengthUnit.Millimetre.Symbol()
        ? $"{StrengthReport.Rounded(value / unit.InMm(), Math.Abs(value) * plusMinus / unit.InMm(), unit == LengthUnit.Inch ? 5 : 3)} {unit.Symbol()}"
        : $"{StrengthReport.Rounded(value, Math.Abs(value) * plusMinus, 3)} {of}";

    private static string Newtons(double value, double plusMinus) => string.Create(CultureInfo.InvariantCulture, $"{value:0} ± {Math.Max(1, value * plusMinus):0} N");
}
