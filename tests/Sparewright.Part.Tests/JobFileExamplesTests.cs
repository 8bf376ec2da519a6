using Xunit;

namespace Sparewright.Part.Tests;

public class JobFileExamplesTests
{
    public static TheoryData<string> Examples => [.. Directory.GetDirectories(Path.Combine(Repository.Root, "examples")).Select(d => Path.GetFileName(d)).Order(StringComparer.Ordinal)];

    [Theory]
    [MemberData(nameof(Examples))]
    public void Every_example_is_read_without_a_problem(string name)
    {
        JobReading reading = JobFile.ReadFile(Path.Combine(Repository.Root, "examples", name, "job.yaml"));

        Assert.Empty(reading.Problems);
        Assert.NotNull(reading.Job);
        Assert.NotEmpty(reading.Job.Readings);
    }
}

/// <summary>Where the repository stands on this machine.</summary>
internal static class Repository
{
    public static string Root { get; } = Find(AppContext.BaseDirectory);

    private static string Find(string from)
    {
        for (DirectoryInfo? here = new(from); here is not null; here = here.Parent)
            if (File.Exists(Path.Combine(here.FullName, "Sparewright.slnx"))) return here.FullName;
        throw new InvalidOperationException("the tests do not lie in the repository");
    }
}
