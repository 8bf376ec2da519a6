using System.Security.Cryptography;
using System.Text;
using Sparewright.Handover.PrintFiles;
using Sparewright.Part;
using Sparewright.Reconcile;
using Sparewright.Solid;

namespace Sparewright.Remake.Outputs;

/// <summary>What a result was made from, as one hash: equal hashes, equal results.</summary>
internal static class InputHash
{
    /// <summary>SHA-256 over the texts, hexadecimal; where one ends and the next begins makes a difference.</summary>
    public static string Of(params ReadOnlySpan<string> inputs)
    {
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        foreach (string input in inputs)
        {
            byte[] bytes = Encoding.UTF8.GetBytes(input);
            hash.AppendData(BitConverter.GetBytes(bytes.Length));
            hash.AppendData(bytes);
        }

        return Convert.ToHexStringLower(hash.GetHashAndReset());
    }

    /// <summary>The program itself: another build or another kernel worker may come to another result.</summary>
    public static string OfProgram(KernelProgram kernel)
    {
        var worker = new FileInfo(kernel.Path);
        return Of(
            typeof(JobFile).Module.ModuleVersionId.ToString(),
            typeof(Reconciliation).Module.ModuleVersionId.ToString(),
            typeof(ExactSolid).Module.ModuleVersionId.ToString(),
            typeof(Stl).Module.ModuleVersionId.ToString(),
            typeof(InputHash).Module.ModuleVersionId.ToString(),
            $"{worker.Length} {worker.LastWriteTimeUtc.Ticks}");
    }
}
