namespace Sparewright.BlindRemakes;

/// <summary>Where the faces of a family are, and so everything that can be measured between them, by plain arithmetic. Whether jaws get there is the tool's to say.</summary>
internal sealed class Places
{
    private readonly List<(string Name, int Axis, Func<IReadOnlyDictionary<string, double>, double> At)> _flats = [];
    private readonly List<(string Name, Func<IReadOnlyDictionary<string, double>, double[]> At, Func<IReadOnlyDictionary<string, double>, double> Diameter, bool Hollow)> _rounds = [];

    /// <summary>Two faces of a block, across one axis (0, 1 or 2).</summary>
    public Places Faces(int axis, string low, Func<IReadOnlyDictionary<string, double>, double> lowAt, string high, Func<IReadOnlyDictionary<string, double>, double> highAt)
    {
        _flats.AddRange([(low, axis, lowAt), (high, axis, highAt)]);
        return this;
    }

    public Places Face(int axis, string name, Func<IReadOnlyDictionary<string, double>, double> at)
    {
        _flats.Add((name, axis, at));
        return this;
    }

    /// <summary>A round face that stands upright at (x, y).</summary>
    public Places Round(string name, Func<IReadOnlyDictionary<string, double>, double[]> at, Func<IReadOnlyDictionary<string, double>, double> diameter, bool hollow)
    {
        _rounds.Add((name, at, diameter, hollow));
        return this;
    }

    public IReadOnlyList<Measurable> All => [.. Flats(), .. Mixed(), .. Rounds()];

    private static readonly (string Word, char Way)[] Ways = [("outside", 'o'), ("inside", 'i'), ("depth", 'd'), ("step", 's')];

    private IEnumerable<Measurable> Flats() =>
        from a in _flats
        from b in _flats
        where a.Axis == b.Axis && string.CompareOrdinal(a.Name, b.Name) < 0
        from way in Ways
        select new Measurable($"{way.Word}: [{a.Name}, {b.Name}]", way.Way, s => Math.Abs(a.At(s) - b.At(s)));

    private IEnumerable<Measurable> Mixed() =>
        from round in _rounds
        from flat in _flats
        where flat.Axis < 2
        from way in Ways.Take(2)
        let sign = round.Hollow == (way.Way == 'o') ? -0.5 : 0.5
        select new Measurable($"{way.Word}: [{round.Name}, {flat.Name}]", way.Way, s => Math.Abs(round.At(s)[flat.Axis] - flat.At(s)) + sign * round.Diameter(s), round.Hollow ? s => [round.Diameter(s)] : null);

    private IEnumerable<Measurable> Rounds()
    {
        foreach (var (k, a) in _rounds.Index())
        {
            yield return a.Hollow ? new($"inside: {a.Name}", 'i', a.Diameter, s => [a.Diameter(s)]) : new($"outside: {a.Name}", 'o', a.Diameter);
            if (!a.Hollow) yield return new($"outside: {a.Name}, across: right", 'o', a.Diameter);
            foreach (var b in _rounds.Skip(k + 1))
                foreach (var (word, way) in Ways.Take(2))
                {
                    double Sign(bool hollow) => hollow == (way == 'o') ? -0.5 : 0.5;
                    double[] Hollows(IReadOnlyDictionary<string, double> s) => [.. new[] { a, b }.Where(r => r.Hollow).Select(r => r.Diameter(s))];
                    yield return new($"{word}: [{a.Name}, {b.Name}]", way, s => Math.Sqrt(Math.Pow(a.At(s)[0] - b.At(s)[0], 2) + Math.Pow(a.At(s)[1] - b.At(s)[1], 2)) + Sign(a.Hollow) * a.Diameter(s) + Sign(b.Hollow) * b.Diameter(s), Hollows);
                }
        }
    }
}
