using System.Diagnostics;
using Sparewright.Handover.PrintFiles;
using Sparewright.Handover.PrintFiles.ThreeMf;
using Xunit;

namespace Sparewright.Handover.Tests;

/// <summary>A small fixed corpus, damaged in many ways from a fixed seed: the readers answer, they never throw.</summary>
public sealed class MutatedFiles
{
    private const int Rounds = 3000;
    private static readonly TimeSpan Deadline = TimeSpan.FromSeconds(1);

    [Fact]
    public void The_3mf_reader_always_answers()
    {
        byte[][] corpus =
        [
            ThreeMfWriterTests.Written(Shapes.Box(1, 2, 3)),
            ThreeMfWriterTests.Written(Shapes.Ring(5, 3, 2, 6), [1, 2, 3]),
            ThreeMfReaderTests.File("""<resources><object id="1"><components/></object></resources><build/>"""),
        ];
        Feed(corpus, file => ThreeMfReader.TryRead(file, out var shape, out var problem) ? shape.VolumeMm3 : Checked(problem));
    }

    [Fact]
    public void The_stl_reader_always_answers() =>
        Feed(
            [StlTests.Written(Shapes.Box(1, 2, 3), "box"), StlTests.Written(Shapes.Ring(5, 3, 2, 6), "ring"), new byte[84]],
            file => Stl.TryRead(file, out var shape, out var problem) ? shape.VolumeMm3 : Checked(problem));

    private static double Checked(Part.Problem problem)
    {
        Assert.NotEmpty(problem.What);
        Assert.NotEmpty(problem.Remedy);
        return 0;
    }

    private static void Feed(byte[][] corpus, Func<byte[], double> read)
    {
        var random = new Random(20260309);
        var slowest = TimeSpan.Zero;
        for (int round = 0; round < Rounds; round++)
        {
            byte[] file = Damaged(corpus[random.Next(corpus.Length)], random);
            var took = Timed(read, file);
            // A busy machine may hold up one answer; only a file that is slow again is slow.
            for (int again = 0; again < 3 && took >= Deadline; again++)
                took = Timed(read, file);
            slowest = took > slowest ? took : slowest;
        }

        // The deadline is the feature: a hostile file must not hold the tool up.
        Assert.True(slowest < Deadline, $"the slowest answer took {slowest}");
    }

    private static TimeSpan Timed(Func<byte[], double> read, byte[] file)
    {
        long start = Stopwatch.GetTimestamp();
        read(file);
        return Stopwatch.GetElapsedTime(start);
    }

    private static byte[] Damaged(byte[] original, Random random)
    {
        var file = original.ToList();
        for (int blow = random.Next(1, 6); blow > 0 && file.Count > 0; blow--)
        {
            int at = random.Next(file.Count), length = Math.Min(random.Next(1, 40), file.Count - at);
            switch (random.Next(6))
            {
                case 0: file[at] ^= (byte)(1 << random.Next(8)); break;
                case 1: file[at] = (byte)random.Next(256); break;
                case 2: file.RemoveRange(at, length); break;
                case 3: file.InsertRange(at, file.GetRange(at, length)); break;
                case 4: file.RemoveRange(at, file.Count - at); break;
                default: file[at] = random.Next(2) == 0 ? (byte)0 : (byte)255; break;
            }
        }

        return [.. file];
    }
}
