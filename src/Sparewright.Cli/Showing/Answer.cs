using System.Text;
using Sparewright.Remake;
using Sparewright.Remake.Reports;

namespace Sparewright.Cli.Showing;

/// <summary>How every verb ends: the result on standard output, what went wrong on standard error, the exit code.</summary>
internal static class Answer
{
    public static int With(Surroundings around, bool json, Func<byte[]> asJson, Func<Report> asReport, bool needsAttention)
    {
        if (json) Write(around, asJson());
        else DrawnReport.Show(asReport(), around);
        return needsAttention ? ExitCode.NeedsAttention : ExitCode.Done;
    }

    public static int With(Surroundings around, bool json, Failure failure)
    {
        foreach (string message in failure.Messages) around.Error.WriteLine(message);
        if (json) Write(around, RemadeJson.Of(failure));
        return failure.JobIsWrong ? ExitCode.Wrong : ExitCode.Failed;
    }

    private static void Write(Surroundings around, byte[] json)
    {
        around.Out.Write(Encoding.UTF8.GetString(json));
        around.Out.Flush();
    }
}
