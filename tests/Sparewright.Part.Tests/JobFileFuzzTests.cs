using System.Text;
using Sparewright.Part.Sizes;
using Xunit;

namespace Sparewright.Part.Tests;

/// <summary>
/// Whatever stands in a file, the answer is a job or problems with a place in the file. A fixed corpus and some thousands of mutations of it run here; bench/Soak runs as many as wanted.
/// </summary>
public class JobFileFuzzTests
{
    private static readonly string Folder = Path.Combine(Repository.Root, "tests", "Sparewright.Part.Tests", "corpus");

    private static string[] Jobs() =>
    [
        .. Directory.GetFiles(Folder, "*.yaml").Order(StringComparer.Ordinal).Select(File.ReadAllText),
        .. Directory.GetFiles(Path.Combine(Repository.Root, "examples"), "job.yaml", SearchOption.AllDirectories).Order(StringComparer.Ordinal).Select(File.ReadAllText),
    ];

    [Fact]
    public void The_corpus_has_good_and_bad_jobs()
    {
        JobReading[] readings = [.. Jobs().Select(JobFile.Read)];
        Assert.Contains(readings, r => r.Job is not null);
        Assert.Contains(readings, r => r.Job is null);
        Assert.All(readings, r => Assert.Equal(r.Job is null, r.Problems.Count > 0));
    }

    [Fact]
    public void Damaged_jobs_are_read_or_refused_with_places_that_exist()
    {
        var mutations = new Mutations(Jobs(), seed: 1);
        int good = 0, bad = 0;
        for (int k = 0; k < 1_500; k++)
        {
            string text = mutations.Next();
            JobReading reading = JobFile.Read(text);
            Assert.Equal(reading.Job is null, reading.Problems.Count > 0);
            if (reading.Job is null) bad++;
            else good++;
            int lines = text.Count(c => c is '\n' or '\r' or '\u0085' or '\u2028' or '\u2029') + 1;
            Assert.All(reading.Problems, p =>
            {
                Assert.InRange(p.Place.Line, 0, lines + 1);
                Assert.False(string.IsNullOrWhiteSpace(p.What));
                Assert.False(string.IsNullOrWhiteSpace(p.Remedy));
                Assert.DoesNotContain('\n', p.What + p.Remedy);
            });
        }

        Assert.True(good > 0 && bad > 0, $"{good} good, {bad} bad: the mutations are too mild or too wild");
    }

    [Fact]
    public void Damaged_bytes_are_read_or_refused()
    {
        byte[] job = Encoding.UTF8.GetBytes(Jobs()[^1]);
        var random = new Random(2);
        for (int k = 0; k < 200; k++)
        {
            byte[] damaged = [.. job];
            for (int n = random.Next(1, 5); n > 0; n--) damaged[random.Next(damaged.Length)] = (byte)random.Next(256);
            JobReading reading = JobFile.Read(damaged);
            Assert.Equal(reading.Job is null, reading.Problems.Count > 0);
        }
    }

    [Fact]
    public void Damaged_expressions_are_read_or_refused()
    {
        var mutations = new Mutations(File.ReadAllLines(Path.Combine(Folder, "expressions.txt")), seed: 3);
        for (int k = 0; k < 10_000; k++)
        {
            string text = mutations.Next();
            ExpressionReading reading = ExpressionParser.Read(text);
            Assert.Equal(reading.Expression is null, reading.Refusal is not null);
            Assert.InRange(reading.Offset, 0, text.Length);
        }
    }
}
