using System.Buffers;
using System.Globalization;
using System.Security.Cryptography;
using System.Text.Json;
using Sparewright.Part.Elements;

namespace Sparewright.Solid;

/// <summary>
/// What the kernel worker is to build: the placed shape as numbers, without derivatives, in the words of <c>docs/reference/kernel-protocol.md</c>.
/// </summary>
public sealed class Recipe
{
    private readonly ReadOnlyMemory<byte>[] _features;

    private Recipe(string[] names, ReadOnlyMemory<byte>[] features)
    {
        (FeatureNames, _features) = (names, features);
        PrefixHashes = [.. HashesOf(features)];
    }

    /// <summary>The features' names, in the order in which they are built.</summary>
    public IReadOnlyList<string> FeatureNames { get; }

    /// <summary>For each feature, the SHA-256 (hexadecimal) of everything up to and including it: equal hashes, equal solids.</summary>
    public IReadOnlyList<string> PrefixHashes { get; }

    /// <summary>The hash of the whole.</summary>
    public string Hash => PrefixHashes[^1];

    /// <summary>The recipe of a placed shape; refused when arithmetic has found a problem in it or a number in it is not finite.</summary>
    public static Outcome<Recipe> Of(PlacedShape shape)
    {
        if (shape.Problems.Count > 0) return new SolidProblem(SolidProblemKind.Refused, null, shape.Problems[0].What, shape.Problems[0].Remedy);
        if (shape.Features.Count == 0) return new SolidProblem(SolidProblemKind.Refused, null, "the part has no shape", "list its features under `shape`");
        var features = new ReadOnlyMemory<byte>[shape.Features.Count];
        for (int k = 0; k < features.Length; k++)
        {
            PlacedFeature feature = shape.Features[k];
            var bytes = new ArrayBufferWriter<byte>();
            using var json = new Utf8JsonWriter(bytes);
            var writer = new RecipeWriter(json);
            writer.Write(feature);
            json.Flush();
            if (!writer.AllFinite)
                return new SolidProblem(SolidProblemKind.Refused, feature.Name, $"{feature.Name}: a size in it is not a finite number", "check the expressions and sizes that it comes from");
            features[k] = bytes.WrittenMemory;
        }

        return new Recipe([.. shape.Features.Select(f => f.Name)], features);
    }

    /// <summary>The same with one more feature: a solid that the worker keeps is put elsewhere and joined. Its faces bear the feature's name in front of their own.</summary>
    /// <param name="name">Not yet among <see cref="FeatureNames"/>.</param>
    /// <param name="place">Where the origin and axes of the solid come to; right-handed.</param>
    public Recipe Joining(string name, ExactSolid solid, Frame place)
    {
        var bytes = new ArrayBufferWriter<byte>();
        using (var json = new Utf8JsonWriter(bytes)) new RecipeWriter(json).Write(name, solid.Key, place);
        return new([.. FeatureNames, name], [.. _features, bytes.WrittenMemory]);
    }

    /// <summary>The recipe of the first features only.</summary>
    public Recipe First(int count) => new([.. FeatureNames.Take(count)], _features[..count]);

    internal void WriteTo(Utf8JsonWriter json)
    {
        json.WriteStartArray();
        foreach (ReadOnlyMemory<byte> feature in _features) json.WriteRawValue(feature.Span, skipInputValidation: true);
        json.WriteEndArray();
    }

    private static IEnumerable<string> HashesOf(ReadOnlyMemory<byte>[] features)
    {
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        foreach (ReadOnlyMemory<byte> feature in features)
        {
            // The length in front keeps two features from being taken for one.
            hash.AppendData(System.Text.Encoding.UTF8.GetBytes(feature.Length.ToString(CultureInfo.InvariantCulture) + ":"));
            hash.AppendData(feature.Span);
            yield return Convert.ToHexStringLower(hash.GetCurrentHash());
        }
    }
}
