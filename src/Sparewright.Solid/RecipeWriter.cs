using System.Text.Json;
using Sparewright.Measure.Numbers;
using Sparewright.Part.Elements;

namespace Sparewright.Solid;

/// <summary>Writes placed features as JSON: values only, with all digits that a double needs to come back the same.</summary>
internal sealed class RecipeWriter(Utf8JsonWriter json)
{
    /// <summary>False once a number was met that JSON cannot hold; 0 stands in its place.</summary>
    public bool AllFinite { get; private set; } = true;

    public void Write(PlacedFeature feature)
    {
        json.WriteStartObject();
        json.WriteString("name", feature.Name);
        switch (feature)
        {
            case Combination combination:
                json.WriteString("does", combination.Joins ? "join" : "cut");
                json.WriteStartArray("tools");
                foreach (Tool tool in combination.Tools) Write(tool);
                json.WriteEndArray();
                break;
            case EdgeTreatment treatment:
                Write(treatment);
                break;
            default:
                throw new InvalidOperationException($"unknown feature {feature}");
        }

        json.WriteEndObject();
    }

    /// <summary>A kept solid, joined where it is put.</summary>
    public void Write(string name, string key, Frame place)
    {
        json.WriteStartObject();
        json.WriteString("name", name);
        json.WriteString("does", "join");
        json.WriteStartArray("tools");
        json.WriteStartObject();
        Write(place);
        json.WriteString("again", key);
        json.WriteEndObject();
        json.WriteEndArray();
        json.WriteEndObject();
    }

    private void Write(EdgeTreatment treatment)
    {
        bool isChamfer = treatment.Kind == EdgeTreatmentKind.Chamfer;
        json.WriteString("does", treatment.Kind switch
        {
            EdgeTreatmentKind.EdgeRound => "edge_round",
            EdgeTreatmentKind.Fillet => "fillet",
            _ => "chamfer",
        });
        json.WriteStartObject("edges");
        switch (treatment.Edges)
        {
            case PlacedEdges.Meeting meeting:
                Write("meeting", [meeting.First, meeting.Second]);
                if (meeting.Near is { } near) Write("near", near);
                break;
            case PlacedEdges.OfFeature all:
                json.WriteString("edgesOf", all.Feature);
                json.WriteStartArray("except");
                foreach (var (first, second) in all.Except) Write(null, [first, second]);
                json.WriteEndArray();
                break;
            default:
                throw new InvalidOperationException($"unknown edges {treatment.Edges}");
        }

        json.WriteEndObject();
        Write(isChamfer ? "setback" : "radius", treatment.Radius);
        if (isChamfer) Write("angle", treatment.AngleDegrees);
    }

    private void Write(Tool tool)
    {
        json.WriteStartObject();
        Write(tool.Frame);
        switch (tool)
        {
            case PrismTool prism:
                json.WritePropertyName("prism");
                Write(prism.Region);
                Write("from", prism.From);
                Write("to", prism.To);
                json.WriteStartObject("names");
                Write("from", prism.FromNames);
                Write("to", prism.ToNames);
                json.WriteEndObject();
                break;
            case TurnedTool turned:
                Write("turned", turned.Loop);
                break;
            default:
                throw new InvalidOperationException($"unknown tool {tool}");
        }

        json.WriteEndObject();
    }

    private void Write(Frame place)
    {
        json.WriteStartObject("place");
        Write("origin", place.Origin);
        Write("u", place.U);
        Write("v", place.V);
        Write("n", place.N);
        json.WriteEndObject();
    }

    private void Write(Region region)
    {
        json.WriteStartObject();
        switch (region)
        {
            case Region.Loop loop:
                Write("loop", loop.Pieces);
                break;
            case Region.Circle circle:
                json.WriteStartObject("circle");
                Write("c", circle.Center);
                Write("r", circle.Radius);
                Write("names", circle.Names);
                json.WriteEndObject();
                break;
            case Region.Joined joined:
                Write("joined", joined.Regions);
                break;
            case Region.TakenAway taken:
                Write("takenAway", [taken.First, .. taken.Others]);
                break;
            case Region.Overlapped overlapped:
                Write("overlapped", overlapped.Regions);
                break;
            default:
                throw new InvalidOperationException($"unknown region {region}");
        }

        json.WriteEndObject();
    }

    private void Write(string name, IReadOnlyList<Region> regions)
    {
        json.WriteStartArray(name);
        foreach (Region region in regions) Write(region);
        json.WriteEndArray();
    }

    private void Write(string name, IReadOnlyList<Piece> pieces)
    {
        json.WriteStartArray(name);
        foreach (Piece piece in pieces)
        {
            json.WriteStartObject();
            json.WriteStartArray(piece is ArcPiece ? "arc" : "line");
            Write(null, piece.From);
            Write(null, piece.To);
            json.WriteEndArray();
            if (piece is ArcPiece arc)
            {
                Write("center", arc.Center);
                json.WriteString("turning", arc.TurningLeft ? "left" : "right");
            }

            Write("names", piece.Names);
            json.WriteEndObject();
        }

        json.WriteEndArray();
    }

    private void Write(string? name, IReadOnlyList<string> names)
    {
        if (name is not null) json.WritePropertyName(name);
        json.WriteStartArray();
        foreach (string each in names) json.WriteStringValue(each);
        json.WriteEndArray();
    }

    private void Write(string? name, PlanePoint p) => Write(name, [p.U.Value, p.V.Value]);

    private void Write(string name, Vector v) => Write(name, [v.X.Value, v.Y.Value, v.Z.Value]);

    private void Write(string name, Dual value)
    {
        json.WritePropertyName(name);
        Write(value.Value);
    }

    private void Write(string? name, ReadOnlySpan<double> numbers)
    {
        if (name is not null) json.WritePropertyName(name);
        json.WriteStartArray();
        foreach (double number in numbers) Write(number);
        json.WriteEndArray();
    }

    private void Write(double value)
    {
        AllFinite &= double.IsFinite(value);
        // Adding 0 turns −0 into 0, so that equal shapes have equal hashes.
        json.WriteNumberValue(double.IsFinite(value) ? value + 0.0 : 0.0);
    }
}
