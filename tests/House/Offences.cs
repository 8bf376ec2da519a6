// Invented code that breaks the house rules, one offence a type: it proves that the rules notice. Nothing here is ever run.
#pragma warning disable CA1051, CA1802, CA1805, CA1810, CA1822, CA1823, CA2211, CS0067, CS0169, IDE0044, IDE0051, IDE0052

using System.Xml;

namespace Sparewright.House.Offences;

public sealed class Upwards
{
    public Measure.Numbers.Vector Zero() => Measure.Numbers.Vector.Zero;
}

public sealed class Console
{
    public void Speak() => System.Console.Out.Flush();
}

public sealed class ConsoleInLambda
{
    public Action<string> Speaker() => text => System.Console.WriteLine(text);
}

public sealed class XmlInSignature
{
    public XmlDocument? Pass(XmlDocument? document) => document;
}

public sealed class Dynamic
{
    public object Add(dynamic one, dynamic other) => one + other;
}

public sealed class StartsProcess
{
    public object Start() => System.Diagnostics.Process.GetCurrentProcess();
}

public sealed class Clock
{
    public DateTime Now() => DateTime.Now;
}

public sealed class ClockInAsync
{
    public async Task<DateTimeOffset> Now()
    {
        await Task.Yield();
        return DateTimeOffset.UtcNow;
    }
}

public sealed class SystemClock
{
    public TimeProvider Clock() => TimeProvider.System;
}

public sealed class Exit
{
    public void Leave() => Environment.Exit(3);
}

public sealed class Chance
{
    public Random Dice() => new();
}

public sealed class Reflection
{
    public object Look(Type type) => type.GetMethods();
}

public sealed class Creation
{
    public object? Make(Type type) => Activator.CreateInstance(type);
}

public static class Statics
{
    private static int _counter;
    public static int Setting { get; set; }
    public static event Action? Changed;
    private static readonly Dictionary<string, int> Seen = [];

    // These do not remember.
    public const int Largest = 3;
    public static readonly double[] Table = [1, 2];
    public static int Fixed { get; } = 4;
    public static Func<int, int> Next => n => n + 1;
}
