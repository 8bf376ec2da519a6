using Sparewright.Remake.Outputs;
using Xunit;

namespace Sparewright.Remake.Tests;

public sealed class OutputFolderTests : IDisposable
{
    private readonly DirectoryInfo _scratch = Directory.CreateTempSubdirectory("sparewright-test-");

    private string Folder => Path.Combine(_scratch.FullName, "out");

    public void Dispose() => _scratch.Delete(recursive: true);

    private static OutputFolder Open(string path)
    {
        Result<OutputFolder> opened = OutputFolder.Open(path);
        Assert.True(opened.Value is not null, opened.Failure?.Messages[0]);
        return opened.Value!;
    }

    [Fact]
    public void Nothing_is_there_before_everything_is()
    {
        using (OutputFolder folder = Open(Folder))
        {
            folder.Put("a", new byte[] { 1 }, CancellationToken.None);
            folder.Put("b", new byte[] { 2 }, CancellationToken.None);
            Assert.False(File.Exists(Path.Combine(Folder, "a")));
            Assert.NotNull(folder.HashOf("a"));
            folder.Keep();
        }

        Assert.Equal(["a", "b"], Directory.EnumerateFileSystemEntries(Folder).Select(Path.GetFileName).Order(StringComparer.Ordinal));
    }

    [Fact]
    public void What_is_not_kept_was_never_there()
    {
        using (OutputFolder folder = Open(Folder)) folder.Put("a", new byte[] { 1 }, CancellationToken.None);
        Assert.False(Directory.Exists(Folder));

        Directory.CreateDirectory(Folder);
        File.WriteAllText(Path.Combine(Folder, "a"), "old");
        using (OutputFolder folder = Open(Folder)) folder.Put("a", new byte[] { 1 }, CancellationToken.None);
        Assert.Equal("old", File.ReadAllText(Path.Combine(Folder, "a")));
        Assert.Equal(["a"], Directory.EnumerateFileSystemEntries(Folder).Select(Path.GetFileName));
    }

    [Fact]
    public void Two_at_once_are_kept_apart()
    {
        using OutputFolder folder = Open(Folder);
        Failure failure = Assert.IsType<Failure>(OutputFolder.Open(Folder).Failure);
        Assert.False(failure.JobIsWrong);
        Assert.Contains("is being written by another run", failure.Messages[0], StringComparison.Ordinal);
        folder.Put("a", new byte[] { 1 }, CancellationToken.None);
        folder.Keep();
        Assert.True(File.Exists(Path.Combine(Folder, "a")));
    }

    [Fact]
    public void A_file_in_the_way_is_said()
    {
        File.WriteAllText(Folder, "in the way");
        Assert.NotNull(OutputFolder.Open(Path.Combine(Folder, "out")).Failure);
    }
}
