using Xunit;

namespace Sparewright.Solid.Tests;

public sealed class KernelProgramTests : IDisposable
{
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("sparewright-test-");

    public void Dispose() => _folder.Delete(recursive: true);

    private string At(params string[] parts) => Path.Combine([_folder.FullName, .. parts]);

    private string Write(params string[] parts)
    {
        string path = At(parts);
        Directory.CreateDirectory(Path.GetDirectoryName(path)!);
        File.WriteAllText(path, "");
        return path;
    }

    [Fact]
    public void The_variable_comes_first()
    {
        Write("tool", "sparewright-kernel");
        string named = Write("elsewhere", "worker");
        Assert.Equal(named, KernelProgram.Find(named, At("tool")).OrThrow().Path);
    }

    [Fact]
    public void A_variable_that_names_nothing_is_said_so_and_nothing_else_is_taken()
    {
        Write("tool", "sparewright-kernel");
        SolidProblem problem = KernelProgram.Find(At("gone"), At("tool")).Problem!;
        Assert.Equal(SolidProblemKind.NoWorker, problem.Kind);
        Assert.Contains("SPAREWRIGHT_KERNEL", problem.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void Beside_the_tool_comes_second()
    {
        string beside = Write("src", "bin", "sparewright-kernel");
        Write("kernel", "CMakeLists.txt");
        Write("build", "kernel", "sparewright-kernel");
        Assert.Equal(beside, KernelProgram.Find(null, At("src", "bin")).OrThrow().Path);
    }

    [Fact]
    public void The_repositorys_build_comes_third()
    {
        Write("kernel", "CMakeLists.txt");
        string built = Write("build", "kernel", "sparewright-kernel");
        Directory.CreateDirectory(At("src", "bin"));
        Assert.Equal(built, KernelProgram.Find(null, At("src", "bin")).OrThrow().Path);
    }

    [Fact]
    public void Without_one_the_one_command_that_builds_it_is_named()
    {
        Write("kernel", "CMakeLists.txt");
        Directory.CreateDirectory(At("src", "bin"));
        SolidProblem problem = KernelProgram.Find(null, At("src", "bin")).Problem!;
        Assert.Equal($"the kernel worker is not built yet; run `scripts/build tool` in {_folder.FullName}", problem.ToString());
    }
}
