using System.Runtime.InteropServices;
using Xunit;

namespace Sparewright.Outside;

/// <summary>
/// Debian's lib3mf 1.8.1 (package lib3mf1, BSD-2-Clause, the 3MF Consortium's own implementation) reads what we write, in its strict mode.
/// Only the tests call it; its interface is declared in NMR_DLLInterfaces.h of lib3mf-dev.
/// </summary>
public sealed partial class ThreeMfJudge
{
    private const string Library = "lib3MF.so.1";

    [Fact]
    public void Strict_reading_has_no_warnings_and_finds_one_manifold_oriented_object()
    {
        var verdict = Judge(PrintedPart.ThreeMf());
        Assert.Equal(0, verdict.Error);
        Assert.Empty(verdict.Warnings);
        Assert.Equal(1, verdict.Meshes);
        Assert.True(verdict.Valid);
        Assert.True(verdict.ManifoldAndOriented);
    }

    [Fact]
    public void The_judge_can_say_no()
    {
        // A file of ours, opened by taking one triangle away after the writer has let it pass.
        byte[] whole = PrintedPart.ThreeMf();
        using var stream = new MemoryStream();
        stream.Write(whole);
        using (var zip = new System.IO.Compression.ZipArchive(stream, System.IO.Compression.ZipArchiveMode.Update, leaveOpen: true))
        {
            var entry = zip.GetEntry("3D/3dmodel.model")!;
            string text;
            using (var reader = new StreamReader(entry.Open()))
                text = reader.ReadToEnd();
            int at = text.IndexOf("<triangle ", StringComparison.Ordinal);
            text = text.Remove(at, text.IndexOf("/>", at, StringComparison.Ordinal) + 2 - at);
            entry.Delete();
            using var writer = new StreamWriter(zip.CreateEntry("3D/3dmodel.model").Open());
            writer.Write(text);
        }

        Assert.False(Judge(stream.ToArray()).ManifoldAndOriented);
    }

    private sealed record Verdict(int Error, IReadOnlyList<string> Warnings, int Meshes, bool Valid, bool ManifoldAndOriented);

    private static Verdict Judge(byte[] file)
    {
        if (!NativeLibrary.TryLoad(Library, out _))
            Assert.Skip($"skipped: {Library} (Debian package lib3mf1) is not installed");

        string path = Path.GetTempFileName();
        nint model = 0, reader = 0, meshes = 0;
        try
        {
            File.WriteAllBytes(path, file);
            Check(CreateModel(out model));
            Check(QueryReader(model, "3mf", out reader));
            Check(SetStrictModeActive(reader, 1));
            int error = ReadFromFile(reader, path);
            Check(GetWarningCount(reader, out uint warnings));
            var texts = Enumerable.Range(0, (int)warnings).Select(index => Warning(reader, (uint)index)).ToList();

            int count = 0;
            bool valid = true, manifold = true;
            Check(GetMeshObjects(model, out meshes));
            while (true)
            {
                Check(MoveNext(meshes, out int more));
                if (more == 0)
                    break;
                Check(GetCurrent(meshes, out nint mesh));
                Check(IsValidObject(mesh, out int isValid));
                Check(IsManifoldAndOriented(mesh, out int isManifold));
                (count, valid, manifold) = (count + 1, valid && isValid != 0, manifold && isManifold != 0);
                _ = Release(mesh);
            }

            return new(error, texts, count, valid, manifold);
        }
        finally
        {
            foreach (nint instance in new[] { meshes, reader, model })
            {
                if (instance != 0)
                    _ = Release(instance);
            }

            File.Delete(path);
        }
    }

    private static string Warning(nint reader, uint index)
    {
        var text = new byte[4096];
        Check(GetWarning(reader, index, out uint code, text, (uint)text.Length, out uint length));
        return $"{code}: {System.Text.Encoding.UTF8.GetString(text, 0, (int)Math.Min(length, (uint)text.Length))}";
    }

    private static void Check(int result) => Assert.Equal(0, result);

    [LibraryImport(Library, EntryPoint = "lib3mf_createmodel")]
    private static partial int CreateModel(out nint model);

    [LibraryImport(Library, EntryPoint = "lib3mf_release")]
    private static partial int Release(nint instance);

    [LibraryImport(Library, EntryPoint = "lib3mf_model_queryreader", StringMarshalling = StringMarshalling.Utf8)]
    private static partial int QueryReader(nint model, string kind, out nint reader);

    [LibraryImport(Library, EntryPoint = "lib3mf_reader_setstrictmodeactive")]
    private static partial int SetStrictModeActive(nint reader, int active);

    [LibraryImport(Library, EntryPoint = "lib3mf_reader_readfromfileutf8", StringMarshalling = StringMarshalling.Utf8)]
    private static partial int ReadFromFile(nint reader, string path);

    [LibraryImport(Library, EntryPoint = "lib3mf_reader_getwarningcount")]
    private static partial int GetWarningCount(nint reader, out uint count);

    [LibraryImport(Library, EntryPoint = "lib3mf_reader_getwarningutf8")]
    private static partial int GetWarning(nint reader, uint index, out uint code, byte[] text, uint size, out uint needed);

    [LibraryImport(Library, EntryPoint = "lib3mf_model_getmeshobjects")]
    private static partial int GetMeshObjects(nint model, out nint iterator);

    [LibraryImport(Library, EntryPoint = "lib3mf_resourceiterator_movenext")]
    private static partial int MoveNext(nint iterator, out int more);

    [LibraryImport(Library, EntryPoint = "lib3mf_resourceiterator_getcurrent")]
    private static partial int GetCurrent(nint iterator, out nint resource);

    [LibraryImport(Library, EntryPoint = "lib3mf_object_isvalidobject")]
    private static partial int IsValidObject(nint resource, out int valid);

    [LibraryImport(Library, EntryPoint = "lib3mf_meshobject_ismanifoldandoriented")]
    private static partial int IsManifoldAndOriented(nint mesh, out int manifold);
}
