using System.Runtime.InteropServices;
using System.Text.Json;

namespace Sparewright.Solid;

/// <summary>How one feature was built: the solid's volume after it, the time it took, and whether it was still there from before.</summary>
public sealed record BuiltFeature(string Name, double VolumeMm3, double Milliseconds, bool FromCache);

/// <summary>Moments and products of inertia about the centroid for density 1, in mm⁵, along the job's axes. Products are those of the tensor: Ixy = −∫xy dV.</summary>
public sealed record Inertia(double Xx, double Yy, double Zz, double Xy, double Yz, double Zx);

/// <summary>The STEP schemas (ISO 10303) that a solid can be written in.</summary>
public enum StepSchema { AP242, AP214 }

/// <summary>
/// A solid in the kernel worker, and what can be asked of it. Should the worker have been replaced meanwhile, the solid is built once more, unseen.
/// </summary>
public sealed class ExactSolid
{
    /// <summary>The mesh by which the worker makes sure of a solid (kernel/src/guards.hpp): asked for right after building with full guards, it is there already.</summary>
    public const double GuardChordMm = 0.05, GuardTurnDegrees = 10;

    private readonly KernelWorker _worker;
    private readonly Func<CancellationToken, Task<Outcome<ExactSolid>>> _again;

    internal ExactSolid(KernelWorker worker, JsonElement answer, Func<CancellationToken, Task<Outcome<ExactSolid>>> again)
    {
        (_worker, _again) = (worker, again);
        Key = answer.GetProperty("key").GetString()!;
        Faces = [.. answer.GetProperty("faces").EnumerateArray().Select(SolidFace.From)];
        VolumeMm3 = answer.GetProperty("volumeMm3").GetDouble();
        AreaMm2 = answer.GetProperty("areaMm2").GetDouble();
        Centroid = Point3.From(answer.GetProperty("centroidMm"));
        JsonElement i = answer.GetProperty("inertiaMm5");
        Inertia = new(i[0].GetDouble(), i[1].GetDouble(), i[2].GetDouble(), i[3].GetDouble(), i[4].GetDouble(), i[5].GetDouble());
        JsonElement box = answer.GetProperty("boxMm");
        (Low, High) = (Point3.From(box[0]), Point3.From(box[1]));
        GuardMilliseconds = answer.TryGetProperty("guardMs", out JsonElement guard) ? guard.GetDouble() : 0;
        Features = answer.TryGetProperty("features", out JsonElement features)
            ? [.. features.EnumerateArray().Select(f => new BuiltFeature(f.GetProperty("name").GetString()!, f.GetProperty("volumeMm3").GetDouble(), f.GetProperty("ms").GetDouble(), f.GetProperty("fromCache").GetBoolean()))]
            : [];
    }

    /// <summary>The solid's name in the worker: a hash of what it was built from.</summary>
    public string Key { get; }

    /// <summary>In a fixed order: the same part gives the same table. <see cref="Mesh.FaceOfTriangle"/> counts in it.</summary>
    public IReadOnlyList<SolidFace> Faces { get; }

    public double VolumeMm3 { get; }

    public double AreaMm2 { get; }

    public Point3 Centroid { get; }

    public Inertia Inertia { get; }

    /// <summary>Lower corner of its box.</summary>
    public Point3 Low { get; }

    /// <summary>Upper corner of its box.</summary>
    public Point3 High { get; }

    /// <summary>The part of the time that went into meshing rounds and final solid to be sure of them.</summary>
    public double GuardMilliseconds { get; }

    /// <summary>The features as they were built; none for a solid read from a file.</summary>
    public IReadOnlyList<BuiltFeature> Features { get; }

    /// <summary>A mesh of it.</summary>
    /// <param name="chordMm">How far triangles may lie from the exact surface, mm.</param>
    /// <param name="angleDegrees">How far the surface may turn across one triangle.</param>
    public async Task<Outcome<Mesh>> MeshAsync(double chordMm = 0.01, double angleDegrees = 10, IProgress<SolidProgress>? progress = null, CancellationToken cancel = default)
    {
        Outcome<WorkerAnswer> answer = await AskAsync("mesh", json =>
        {
            json.WriteNumber("chordMm", chordMm);
            json.WriteNumber("angleDeg", angleDegrees);
        }, progress, cancel).ConfigureAwait(false);
        if (!answer.IsGood) return answer.Problem;
        using (answer.Value.Line)
        {
            if (answer.Value.Blocks is not [var points, var triangles, var faces])
                return new SolidProblem(SolidProblemKind.Misunderstood, null, "the kernel worker's mesh has not three blocks", null);
            return new Mesh(MemoryMarshal.Cast<byte, double>(points).ToArray(), MemoryMarshal.Cast<byte, int>(triangles).ToArray(), MemoryMarshal.Cast<byte, int>(faces).ToArray(),
                answer.Value.Root.GetProperty("worstChordMm").GetDouble());
        }
    }

    /// <summary>Writes it as a STEP file (ISO 10303-21) with exact surfaces.</summary>
    /// <param name="path">Overwritten if it is there; whoever wants it whole or not at all gives a temporary name and moves it.</param>
    /// <returns>The path.</returns>
    public async Task<Outcome<string>> WriteStepAsync(string path, string partName, StepSchema schema = StepSchema.AP242, CancellationToken cancel = default)
    {
        Outcome<WorkerAnswer> answer = await AskAsync("step", json =>
        {
            json.WriteString("path", Path.GetFullPath(path));
            json.WriteString("schema", schema.ToString());
            json.WriteString("partName", partName);
        }, null, cancel).ConfigureAwait(false);
        if (!answer.IsGood) return answer.Problem;
        using (answer.Value.Line) return path;
    }

    /// <summary>The part as seen along a direction.</summary>
    /// <param name="sight">Unit direction in which the eye looks.</param>
    /// <param name="up">Unit direction that points up the page.</param>
    /// <param name="hidden">Whether lines that lie behind are wanted too.</param>
    /// <param name="chordMm">How far polylines may lie from the curves that they stand for, mm.</param>
    public async Task<Outcome<DrawnView>> ViewAsync(Point3 sight, Point3 up, bool hidden = true, double chordMm = 0.02, IProgress<SolidProgress>? progress = null, CancellationToken cancel = default)
    {
        Outcome<WorkerAnswer> answer = await AskAsync("view", json =>
        {
            sight.WriteTo(json, "toward");
            up.WriteTo(json, "up");
            json.WriteBoolean("hidden", hidden);
            json.WriteNumber("chordMm", chordMm);
        }, progress, cancel).ConfigureAwait(false);
        if (!answer.IsGood) return answer.Problem;
        using (answer.Value.Line)
            return new DrawnView([sight.X, sight.Y, sight.Z], [up.X, up.Y, up.Z], [.. answer.Value.Root.GetProperty("lines").EnumerateArray().Select(LineOf)]);
    }

    /// <summary>Takes caliper readings on the exact surfaces of the faces that bear the names.</summary>
    internal async Task<Outcome<IReadOnlyList<JawAnswer>>> CaliperAsync(IReadOnlyList<JawRequest> readings, CancellationToken cancel)
    {
        Outcome<WorkerAnswer> answer = await AskAsync("caliper", json =>
        {
            json.WriteStartArray("readings");
            foreach (JawRequest reading in readings) reading.WriteTo(json);
            json.WriteEndArray();
        }, null, cancel).ConfigureAwait(false);
        if (!answer.IsGood) return answer.Problem;
        using (answer.Value.Line)
            return (JawAnswer[])[.. answer.Value.Root.GetProperty("readings").EnumerateArray().Select(JawAnswer.From)];
    }

    private async Task<Outcome<WorkerAnswer>> AskAsync(string what, Action<Utf8JsonWriter> rest, IProgress<SolidProgress>? progress, CancellationToken cancel)
    {
        void Request(Utf8JsonWriter json)
        {
            json.WriteString("do", what);
            json.WriteString("key", Key);
            rest(json);
        }

        Outcome<WorkerAnswer> answer = await _worker.AskAsync(Request, progress, cancel).ConfigureAwait(false);
        if (answer.IsGood || answer.Problem.Kind != SolidProblemKind.Missing) return answer;
        Outcome<ExactSolid> again = await _again(cancel).ConfigureAwait(false);
        return again.IsGood ? await _worker.AskAsync(Request, progress, cancel).ConfigureAwait(false) : again.Problem;
    }

    private static DrawnLine LineOf(JsonElement line)
    {
        LineKind kind = line.GetProperty("kind").GetString() switch
        {
            "outline" => LineKind.Outline,
            "smooth" => LineKind.Smooth,
            _ => LineKind.Edge,
        };
        return new(kind, line.GetProperty("hidden").GetBoolean(), [.. line.GetProperty("points").EnumerateArray().SelectMany(p => new[] { p[0].GetDouble(), p[1].GetDouble() })]);
    }
}
