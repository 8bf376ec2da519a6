using System.Diagnostics;
using System.Globalization;
using Sparewright.Part;
using Sparewright.Part.Sizes;
using Sparewright.Part.Tests;

// dotnet run -c Release --project bench/Soak -- [inputs, default 1000000] [seed, default 1]
// Gives damaged job files and damaged size expressions, in turn, to the readers, and reports every exception, every input over 1 s of
// processor time and every input over 256 MiB of allocation (an upper bound of the memory held). Input k of a seed is always the same. Ends with 1 if there was any.
const double LongestSeconds = 1;
const long MostBytes = 256L << 20;

int inputs = args.Length > 0 ? int.Parse(args[0], CultureInfo.InvariantCulture) : 1_000_000;
int seed = args.Length > 1 ? int.Parse(args[1], CultureInfo.InvariantCulture) : 1;

string root = AppContext.BaseDirectory;
while (!File.Exists(Path.Combine(root, "Sparewright.slnx")))
    root = Path.GetDirectoryName(root) ?? throw new InvalidOperationException("the soak does not lie in the repository");
string corpus = Path.Combine(root, "tests", "Sparewright.Part.Tests", "corpus");
string[] jobs =
[
    .. Directory.GetFiles(corpus, "*.yaml").Order(StringComparer.Ordinal).Select(File.ReadAllText),
    .. Directory.GetFiles(Path.Combine(root, "examples"), "job.yaml", SearchOption.AllDirectories).Order(StringComparer.Ordinal).Select(File.ReadAllText),
];
var jobMutations = new Mutations(jobs, seed);
var expressionMutations = new Mutations(File.ReadAllLines(Path.Combine(corpus, "expressions.txt")), seed);

int good = 0, refused = 0, failures = 0;
double slowest = 0;
long largest = 0;
var total = Stopwatch.StartNew();
for (int k = 0; k < inputs; k++)
{
    bool isJob = k % 2 == 0;
    string text = isJob ? jobMutations.Next() : expressionMutations.Next();
    long allocated = GC.GetAllocatedBytesForCurrentThread();
    var clock = Stopwatch.StartNew();
    TimeSpan processor = Environment.CpuUsage.TotalTime;
    try
    {
        bool isGood = isJob ? JobFile.Read(text).Job is not null : ExpressionParser.Read(text).Expression is not null;
        if (isGood) good++;
        else refused++;
    }
    catch (Exception e)
    {
        Report(k, isJob, text, e.ToString());
    }

    // On a busy machine the clock runs while others work: processor time counts, and never more than the clock.
    double seconds = Math.Min(clock.Elapsed.TotalSeconds, (Environment.CpuUsage.TotalTime - processor).TotalSeconds);
    long bytes = GC.GetAllocatedBytesForCurrentThread() - allocated;
    (slowest, largest) = (Math.Max(slowest, seconds), Math.Max(largest, bytes));
    if (seconds > LongestSeconds) Report(k, isJob, text, string.Create(CultureInfo.InvariantCulture, $"{seconds:0.00} s"));
    if (bytes > MostBytes) Report(k, isJob, text, $"{bytes >> 20} MiB");
    if ((k + 1) % 50_000 == 0) Console.Error.WriteLine($"{k + 1} inputs, {failures} failures, {total.Elapsed:hh\\:mm\\:ss}");
}

Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
    $"{inputs} inputs (seed {seed}): {good} read, {refused} refused, {failures} failures; slowest {slowest * 1000:0} ms, largest {largest >> 20} MiB allocated; {total.Elapsed.TotalSeconds:0} s in all"));
return failures == 0 ? 0 : 1;

void Report(int number, bool isJob, string text, string what)
{
    failures++;
    string file = Path.Combine(Path.GetTempPath(), $"soak-{seed}-{number}.{(isJob ? "yaml" : "txt")}");
    File.WriteAllText(file, text);
    Console.WriteLine($"input {number} ({file}): {what}");
}
