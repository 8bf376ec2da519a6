using System.Globalization;
using Sparewright.Fit.Capability;
using Sparewright.Part.Record;

namespace Sparewright.Fit.Counterparts;

/// <summary>The process that a job is going to be printed with.</summary>
public static class JobProcess
{
    private static readonly string[] ResinWords = ["vpp", "vat", "resin", "photopolymer"];

    /// <summary>By the words of the job's print plan: vat photopolymerization where its machine or material says so, material extrusion otherwise.</summary>
    public static ProcessSetting Of(PrintPlan? print)
    {
        string machine = print?.Machine ?? "a printer that the job does not name", material = print?.Material ?? "a material that the job does not name";
        bool resin = ResinWords.Any(w => $"{print?.Machine} {print?.Material}".Contains(w, StringComparison.OrdinalIgnoreCase));
        string[] settings = [.. new[] { ("nozzle", print?.NozzleMm), ("layer", print?.LayerMm) }.Where(s => s.Item2 is not null).Select(s => string.Create(CultureInfo.InvariantCulture, $"{s.Item1} {s.Item2:0.###} mm"))];
        return new(resin ? ProcessKind.Vpp : ProcessKind.Mex, machine, material, string.Join(", ", settings)) { LayerMm = print?.LayerMm, NozzleMm = resin ? null : print?.NozzleMm };
    }
}
