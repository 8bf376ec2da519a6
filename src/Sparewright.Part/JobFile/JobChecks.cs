using Sparewright.Part.Grammar;
using Sparewright.Part.Record;
using Sparewright.Part.Sizes;

namespace Sparewright.Part;

/// <summary>What can be judged only over the whole file: that names mean something, that derived sizes do not run in a circle, that quantities agree.</summary>
internal static class JobChecks
{
    /// <param name="parts">The job, or null where some of it could not be read: names are still checked.</param>
    public static void Run(JobParts? parts, Findings findings)
    {
        bool sizesKnown = CheckSizeNames(findings);
        CheckFeatureNames(findings);
        CheckInstruments(findings);
        CheckCounterparts(findings);
        CheckFitWords(findings);
        if (parts is null) return;
        CheckReadingIds(parts, findings);
        if (!sizesKnown) return;
        CheckChangedSizes(parts, findings);
        CheckCircles(parts.Sizes, findings);
        CheckQuantities(parts.Sizes, findings);
    }

    private static bool CheckSizeNames(Findings findings)
    {
        bool known = true;
        foreach (var (name, place, _) in findings.Sizes.Used)
        {
            if (findings.Sizes.Find(name) is not null) continue;
            known = false;
            findings.Add(place, $"nothing defines the size {Show.Name(name)}", findings.DidYouMean(name, findings.Sizes.Names, $"add it under sizes: {Show.Clip(name)}: {{about: …}}"));
        }

        return known;
    }

    private static void CheckFeatureNames(Findings findings)
    {
        string[] known = [.. findings.Features.Names, .. PlaceForms.Given];
        foreach (var (text, place, order) in findings.Features.Used)
        {
            string name = text.Split('.', '#')[0];
            if (PlaceForms.Given.Contains(name)) continue;
            if (findings.Features.Find(name) is not { } found)
            {
                if (findings.HasNamelessFeature) continue;
                string rest = text[name.Length..];
                findings.Add(place, $"there is no feature {Show.Name(name)}",
                    findings.Nearest(name, known) is { } nearest ? $"did you mean {Show.Name(nearest + rest)}?" : known.Length > 12 ? "write the name of a feature of the shape" : $"the features are {Show.List(known, "and")}");
            }
            else if (found.Order == order)
            {
                findings.Add(place, $"{Show.Name(text)} is used in the feature that makes it", "name an element of an earlier feature");
            }
            else if (found.Order > order)
            {
                findings.Add(place, $"{Show.Name(name)} is built only later, in line {found.Place.Line}", $"put {Show.Name(name)} before this feature");
            }
        }
    }

    private static void CheckInstruments(Findings findings)
    {
        foreach (var (name, place, _) in findings.Instruments.Used)
        {
            if (findings.Instruments.Find(name) is not null) continue;
            findings.Add(place, $"there is no instrument {Show.Name(name)}", findings.DidYouMean(name, findings.Instruments.Names, "add it under instruments"));
        }
    }

    private static void CheckCounterparts(Findings findings)
    {
        foreach (var (ledger, remedy) in ((NameLedger, string)[])[(findings.Counterparts, "add it under counterparts, or name an element with `at`"), (findings.Tried, "add it under counterparts")])
            foreach (var (name, place, _) in ledger.Used)
                if (findings.Counterparts.Find(name) is null)
                    findings.Add(place, $"there is no counterpart {Show.Name(name)}", findings.DidYouMean(name, findings.Counterparts.Names, remedy));
    }

    private static void CheckFitWords(Findings findings)
    {
        string[] known = [.. CounterpartForms.Words.Select(w => w.Word), .. findings.FitWords.Names];
        foreach (var (word, place, _) in findings.FitWords.Used)
            if (!known.Contains(word))
                findings.Add(place, $"{Show.Name(word)} is not a fit", findings.Nearest(word, known) is { } nearest
                    ? $"did you mean {Show.Name(nearest)}? The words are {Show.List(known, "and")}"
                    : $"write {Show.List(known.Select(Show.Name))}, or say what it means: fit_words: {{{Show.Clip(word)}: [0.1, 0.3]}}");
    }

    /// <summary>A name of the user's own must not be the one that another reading gets by its place.</summary>
    private static void CheckReadingIds(JobParts parts, Findings findings)
    {
        foreach (var same in parts.Readings.GroupBy(r => r.Id, StringComparer.Ordinal).Where(g => g.Count() > 1))
        {
            var second = same.ElementAt(1);
            if (findings.ReadingIds.Find(same.Key) is { } said)
                findings.Add(said.Place, $"another reading is called {Show.Name(same.Key)} by its place in the list", "give this one another name");
            else
                findings.Add(second.Place, $"two readings are called {Show.Name(same.Key)}", "give one of them another name");
        }
    }

    /// <summary>What a fit decides must be a length that stands for itself.</summary>
    private static void CheckChangedSizes(JobParts parts, Findings findings)
    {
        foreach (Counterpart counterpart in parts.Counterparts)
        {
            if (counterpart.Changes is not { } name || parts.Sizes.First(s => s.Name == name) is not { } size) continue;
            if (size.Quantity != Quantity.Length)
                findings.Add(counterpart.ChangesPlace, $"the size {Show.Name(name)} is an angle, and a clearance changes lengths", "name the length that the fit may change");
            else if (size.Given is Given.EqualTo { Expression: var from } && from.Names().Distinct().ToArray() is var others)
                findings.Add(counterpart.ChangesPlace, $"the size {Show.Name(name)} is derived from others, so that a fit cannot change it by itself",
                    others.Length == 0 ? "write it with `about` or `fixed`" : $"name {Show.List(others.Take(6).Select(Show.Name))}, from which it is derived");
        }

        foreach (string name in parts.Print?.DrawnMm.Keys ?? [])
            if (parts.Counterparts.All(c => c.Changes != name))
                findings.Add(parts.Print!.DrawnPlace, $"the size {Show.Name(name)} is none that a fit changes", "take it out, or name it under `changes` of a counterpart");
    }

    private static void CheckCircles(IReadOnlyList<Size> sizes, Findings findings)
    {
        if (SizeTable.FirstCircle(sizes) is not { } circle) return;
        findings.Add(circle[0].Place, circle.Count == 1
            ? $"the size {Show.Name(circle[0].Name)} is derived from itself"
            : $"these sizes are derived from each other in a circle: {string.Join(" → ", circle.Append(circle[0]).Take(13).Select(s => s.Name))}", "give one of them a value of its own with `about`, `likely` or `fixed`");
    }

    private static void CheckQuantities(IReadOnlyList<Size> sizes, Findings findings)
    {
        var byName = sizes.ToDictionary(s => s.Name, s => s.Quantity, StringComparer.Ordinal);
        foreach (var (expression, wanted, place) in findings.Quantities)
        {
            if (!Dimension.TryFind(expression, name => byName[name], out Dimension? found, out string? complaint))
                findings.Add(place, complaint!, "give bare numbers their unit where they are meant as lengths (12 mm) or angles (30 deg), and divide by a unit to be rid of it");
            else if (found is { } dimension && dimension != Dimension.Of(wanted))
                findings.Add(place, $"this comes out as {dimension}, and {Dimension.Of(wanted)} is wanted here", Remedy(dimension, wanted));
        }
    }

    private static string Remedy(Dimension found, Quantity wanted) =>
        found == Dimension.OfAngle && wanted == Quantity.Length ? "write a length; a derived size that is an angle has kind: angle"
        : found == Dimension.Pure && wanted == Quantity.Length ? "multiply by a length, for example by 1 mm"
        : found == Dimension.Pure && wanted == Quantity.Angle ? "multiply by an angle, for example by 1 deg"
        : found == Dimension.OfLength && wanted == Quantity.Angle ? "write an angle, as 30 deg; atan2 makes one of two lengths"
        : "give the bare numbers in it their unit, as 10 mm, so that the units come out right";
}
