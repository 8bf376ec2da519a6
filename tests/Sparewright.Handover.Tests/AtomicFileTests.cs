using Sparewright.Handover.Files;
using Xunit;

namespace Sparewright.Handover.Tests;

public sealed class AtomicFileTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("sparewright-").FullName;

    [Fact]
    public void Writes_over_the_old_file()
    {
        AtomicFile.Write(At("a.txt"), "old", Stop);
        AtomicFile.Write(At("a.txt"), "new", Stop);
        Assert.Equal("new", File.ReadAllText(At("a.txt")));
        Assert.Single(Directory.GetFiles(_folder));
    }

    [Fact]
    public void A_cancel_while_writing_leaves_the_old_file_and_nothing_else()
    {
        AtomicFile.Write(At("a.txt"), "old", Stop);
        using var stop = new CancellationTokenSource();
        Assert.Throws<OperationCanceledException>(() => AtomicFile.Write(
            At("a.txt"),
            stream =>
            {
                stream.Write("half"u8);
                stop.Cancel();
            },
            stop.Token));
        Assert.Equal("old", File.ReadAllText(At("a.txt")));
        Assert.Single(Directory.GetFiles(_folder));
    }

    [Fact]
    public void An_error_while_writing_leaves_nothing()
    {
        Assert.Throws<IOException>(() => AtomicFile.Write(At("a.txt"), (Stream _) => throw new IOException("disk full"), Stop));
        Assert.Empty(Directory.GetFiles(_folder));
    }

    [Fact]
    public void A_folder_in_the_way_is_an_error_and_leaves_nothing_behind()
    {
        Directory.CreateDirectory(At("a.txt"));
        Assert.ThrowsAny<Exception>(() => AtomicFile.Write(At("a.txt"), "text", Stop));
        Assert.Empty(Directory.GetFiles(_folder));
    }

    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    private string At(string name) => Path.Combine(_folder, name);
}
