using Sparewright.Handover.Files;

namespace Sparewright.Handover.PrintFiles.ThreeMf;

/// <summary>Reads the model part of a 3MF package by the rules of Core 1.4.0 that bear on shape, and flattens it into placed surfaces in mm.</summary>
internal sealed class ModelReader
{
    private const int MostPoints = 2_000_000;
    private const int MostTriangles = 4_000_000;
    private const string WriteAgain = "have the file written again by the program that made it";

    private readonly StrictXml _xml;
    private readonly HashSet<int> _resources = [];
    private readonly Dictionary<int, ModelObject> _objects = [];
    private readonly Dictionary<string, string> _metadata = [];
    private readonly List<ReadSurface> _surfaces = [];
    private int _points, _triangles, _placedTriangles;
    private double _mmPerUnit;

    private ModelReader(StrictXml xml) => _xml = xml;

    private sealed record ModelObject(string Type, ReadSurface? Surface, IReadOnlyList<(ModelObject Of, Placing At)> Parts);

    /// <exception cref="RefusedException">The model breaks a rule; the refusal says which and where.</exception>
    public static ReadShape Read(Package package, string part)
    {
        using var xml = new StrictXml(package.Read(part), part);
        var reader = new ModelReader(xml);
        reader.Model();
        return new(reader._metadata, reader._surfaces);
    }

    private void Model()
    {
        _xml.Root();
        if (!_xml.IsCore("model"))
            throw _xml.Refuse($"the root is <{_xml.Name}> and not a 3MF model", "check that it is the right file");
        _mmPerUnit = MmPerUnit();
        ShapeMustBeTheCores();

        // The order is fixed: all metadata, then the resources, then what to build.
        int stage = 0;
        _xml.Children(() =>
        {
            int next = _xml.Namespace != Names.Core ? Math.Max(stage, 3) : _xml.Name switch
            {
                "metadata" => 0,
                "resources" => 1,
                "build" => 2,
                _ => throw Unknown(),
            };
            if (next < stage || (next == stage && next is 1 or 2))
                throw _xml.Refuse($"<{_xml.Name}> stands in the wrong place or twice", WriteAgain);
            if (next == 2 && stage != 1)
                throw _xml.Refuse("there are no resources before the build", WriteAgain);
            if (next == 3 && stage < 2)
                return;
            stage = next;
            if (next == 0)
                Metadata();
            else if (next == 1)
                _xml.Children(Resource);
            else if (next == 2)
                _xml.Children(Item);
        });
        if (stage < 2)
            throw _xml.Refuse(stage == 0 ? "there are no resources" : "there is no build", WriteAgain);
        _xml.End();
    }

    private double MmPerUnit() => _xml.Attribute("unit") switch
    {
        null or "millimeter" => 1,
        "micron" => 0.001,
        "centimeter" => 10,
        "inch" => 25.4,
        "foot" => 304.8,
        "meter" => 1000,
        var other => throw _xml.Refuse($"the unit \"{other}\" is not known", "use micron, millimeter, centimeter, inch, foot or meter"),
    };

    private void ShapeMustBeTheCores()
    {
        foreach (string prefix in (_xml.Attribute("requiredextensions") ?? "").Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries))
        {
            if (_xml.NamespaceOf(prefix) is not { } extension || !Names.ShapeLeftAlone.Contains(extension))
                throw _xml.Refuse($"the shape needs the extension {_xml.NamespaceOf(prefix) ?? prefix}, which is not understood here", "have the file written as a plain mesh");
        }
    }

    private void Metadata()
    {
        string name = _xml.Needed("name");
        int colon = name.IndexOf(':', StringComparison.Ordinal);
        if (colon >= 0 && _xml.NamespaceOf(name[..colon]) is null)
            throw _xml.Refuse($"the metadata name {name} has a prefix that nothing declares", WriteAgain);
        if (!_metadata.TryAdd(name, _xml.Text()))
            throw _xml.Refuse($"the metadata name {name} is used twice", WriteAgain);
    }

    private void Resource()
    {
        if (_xml.Namespace == Names.Core && _xml.Name is not ("object" or "basematerials"))
            throw Unknown();
        if (_xml.Namespace != Names.Core && _xml.Attribute("id") is null)
            return;
        int id = _xml.NeededIndex("id");
        if (id == 0)
            throw _xml.Refuse("an id must be at least 1", WriteAgain);
        if (_resources.Contains(id))
            throw _xml.Refuse($"two resources have the id {id}", WriteAgain);
        if (_xml.IsCore("object"))
            _objects.Add(id, Object());
        _resources.Add(id);
    }

    private ModelObject Object()
    {
        string type = _xml.Attribute("type") ?? "model";
        if (type is not ("model" or "solidsupport" or "support" or "surface" or "other"))
            throw _xml.Refuse($"the object type \"{type}\" is not known", "use model, solidsupport, support, surface or other");
        int? material = _xml.Index("pid");
        bool picked = _xml.Index("pindex") is not null;
        if (picked && material is null)
            throw _xml.Refuse("the object has a pindex but no pid", WriteAgain);
        if (material is { } pid && !_resources.Contains(pid))
            throw _xml.Refuse($"the object's pid {pid} is not defined before it", WriteAgain);

        ReadSurface? surface = null;
        List<(ModelObject, Placing)>? parts = null;
        _xml.Children(() =>
        {
            if (_xml.Namespace != Names.Core || _xml.Name == "metadatagroup")
                return;
            if (surface is not null || parts is not null)
                throw _xml.Refuse("an object holds more than one shape", WriteAgain);
            if (_xml.Name == "mesh")
                surface = Mesh(type);
            else if (_xml.Name == "components")
                parts = material is null ? Parts() : throw _xml.Refuse("an object made of others must not have a pid", WriteAgain);
            else
                throw Unknown();
        });
        if (surface is null && parts is null)
            throw _xml.Refuse("an object holds no shape", WriteAgain);
        return new(type, surface, parts ?? []);
    }

    private ReadSurface Mesh(string type)
    {
        List<double> points = [];
        List<int> triangles = [];
        int stage = 0;
        _xml.Children(() =>
        {
            if (_xml.Namespace != Names.Core)
                return;
            if (_xml.Name == "vertices" && stage == 0)
                _xml.Children(() => Vertex(points));
            else if (_xml.Name == "triangles" && stage == 1)
                _xml.Children(() => Triangle(triangles, points.Count / 3));
            else
                throw Unknown();
            stage++;
        });
        bool solid = type is "model" or "solidsupport";
        if (stage < 2 || points.Count < 9 || triangles.Count < (solid ? 12 : 3))
            throw _xml.Refuse("a mesh has too few points or triangles to enclose anything", WriteAgain);
        return new([.. points], [.. triangles]);
    }

    private void Vertex(List<double> points)
    {
        if (!_xml.IsCore("vertex"))
            throw Unknown();
        if (++_points > MostPoints)
            throw _xml.Refuse($"there are more than {MostPoints} points", "have it written with fewer triangles");
        points.Add(_xml.NeededNumber("x"));
        points.Add(_xml.NeededNumber("y"));
        points.Add(_xml.NeededNumber("z"));
    }

    private void Triangle(List<int> triangles, int points)
    {
        if (!_xml.IsCore("triangle"))
            throw Unknown();
        if (++_triangles > MostTriangles)
            throw _xml.Refuse($"there are more than {MostTriangles} triangles", "have it written with fewer");
        int a = _xml.NeededIndex("v1"), b = _xml.NeededIndex("v2"), c = _xml.NeededIndex("v3");
        if (a >= points || b >= points || c >= points)
            throw _xml.Refuse("a triangle names a point that is not there", WriteAgain);
        if (a == b || b == c || c == a)
            throw _xml.Refuse("a triangle has two corners in one point", WriteAgain);
        triangles.AddRange([a, b, c]);
    }

    private List<(ModelObject, Placing)> Parts()
    {
        List<(ModelObject, Placing)> parts = [];
        _xml.Children(() =>
        {
            if (!_xml.IsCore("component"))
                throw Unknown();
            // Only objects defined before this one can be named, so no object can hold itself.
            parts.Add((Named(), Transform()));
        });
        return parts.Count > 0 ? parts : throw _xml.Refuse("an object made of others names none", WriteAgain);
    }

    private void Item()
    {
        if (_xml.Namespace != Names.Core)
            return;
        if (_xml.Name != "item")
            throw Unknown();
        var named = Named();
        if (named.Type == "other")
            throw _xml.Refuse("the build names an object of the type \"other\", which is not for printing", WriteAgain);
        Place(named, Transform().Then(Placing.Scaled(_mmPerUnit)));
    }

    private ModelObject Named()
    {
        int id = _xml.NeededIndex("objectid");
        return _objects.TryGetValue(id, out var named) ? named : throw _xml.Refuse($"there is no object {id} before this place", WriteAgain);
    }

    private Placing Transform()
    {
        if (_xml.Attribute("transform") is not { } text)
            return Placing.Here;
        Span<double> numbers = stackalloc double[12];
        var words = text.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries);
        if (words.Length != 12)
            throw _xml.Refuse($"a transform has {words.Length} numbers instead of 12", WriteAgain);
        for (int k = 0; k < 12; k++)
            numbers[k] = _xml.Number(words[k]);
        var placing = Placing.From(numbers);
        double volume = Math.Abs(placing.Determinant);
        return double.IsNormal(volume) ? placing : throw _xml.Refuse("a transform flattens the object", WriteAgain);
    }

    private void Place(ModelObject placed, Placing at)
    {
        foreach (var (of, placing) in placed.Parts)
            Place(of, placing.Then(at));
        if (placed.Surface is not { } surface)
            return;
        // A file of a few lines can place an object a million times over.
        if ((_placedTriangles += surface.Triangles.Length / 3) > MostTriangles)
            throw _xml.Refuse($"the build places more than {MostTriangles} triangles", "have it written with fewer parts");

        var points = new double[surface.Points.Length];
        for (int p = 0; p < points.Length; p += 3)
            (points[p], points[p + 1], points[p + 2]) = at.Apply(surface.Points[p], surface.Points[p + 1], surface.Points[p + 2]);
        var triangles = (int[])surface.Triangles.Clone();
        if (at.Determinant < 0)
        {
            // A mirrored surface is turned right side out again.
            for (int t = 0; t < triangles.Length; t += 3)
                (triangles[t + 1], triangles[t + 2]) = (triangles[t + 2], triangles[t + 1]);
        }

        _surfaces.Add(new(points, triangles));
    }

    private RefusedException Unknown() => _xml.Refuse($"<{_xml.Name}> is not known here", WriteAgain);
}
