using System.Collections.Concurrent;
using System.Reflection;
using System.Runtime.CompilerServices;
using System.Text;
using ArchUnitNET.Domain;
using ArchUnitNET.Domain.Dependencies;

namespace Sparewright.House;

/// <summary>The house rules that compiled code can be held to. Each returns what breaks the rule, one line per breach.</summary>
public static class CodeRules
{
    private const string Nowhere = "";

    /// <summary>What has one place in the house: types by the start of their full names, the rooms that may use them, and why.</summary>
    private static readonly (string Types, string Rooms, string Why)[] OnePlaceEach =
    [
        ("YamlDotNet.", "Part", "there is one reader of job files"),
        ("MathNet.", "Measure Reconcile", "there is one least-squares engine"),
        ("SkiaSharp.", "Handover", "there is one drawing code"),
        ("System.CommandLine.", "Cli Web", "only the doors parse a command line"),
        ("Spectre.Console.", "Cli", "only the door speaks to people"),
        ("System.Console", "Cli Web", "only the doors speak to people"),
        ("Dapper.", "Shop", "there is one store"),
        ("DbUp.", "Shop", "there is one store"),
        ("Microsoft.Data.Sqlite.", "Shop", "there is one store"),
        ("Npgsql.", "Shop", "there is one store"),
        ("Microsoft.AspNetCore.", "Web", "only the web door speaks HTTP"),
        ("System.Diagnostics.Process", "Solid Web", "processes that are started are the kernel worker and the user's own browser"),
        ("System.Net.Http.", Nowhere, "it works with no network"),
        ("System.Net.Sockets.", Nowhere, "it works with no network"),
        ("System.Xml.XmlDocument", Nowhere, "write with XmlWriter, read with XmlReader under limits, or use XDocument on our own files"),
        ("System.Reflection.Emit.", Nowhere, "no reflection tricks"),
        ("Microsoft.CSharp.RuntimeBinder.", Nowhere, "no dynamic: types are known"),
    ];

    /// <summary>Calls that only some rooms may make: methods by the start of "Type::Method", the rooms, and why.</summary>
    private static readonly (string Methods, string Rooms, string Why)[] Calls =
    [
        ("System.DateTime::get_Now", Nowhere, "ask the TimeProvider that was handed in"),
        ("System.DateTime::get_UtcNow", Nowhere, "ask the TimeProvider that was handed in"),
        ("System.DateTime::get_Today", Nowhere, "ask the TimeProvider that was handed in"),
        ("System.DateTimeOffset::get_Now", Nowhere, "ask the TimeProvider that was handed in"),
        ("System.DateTimeOffset::get_UtcNow", Nowhere, "ask the TimeProvider that was handed in"),
        ("System.TimeProvider::get_System", "Cli Web", "the door hands the clock in"),
        ("System.Environment::Exit", Nowhere, "return the exit code"),
        ("System.Environment::FailFast", Nowhere, "throw"),
        ("System.Random::get_Shared", Nowhere, "the same job gives the same result: hand in a seed"),
        ("System.Random::.ctor()", Nowhere, "the same job gives the same result: hand in a seed"),
        ("System.Activator::", Nowhere, "no reflection tricks"),
        ("System.Type::GetMethod", Nowhere, "no reflection tricks"),
        ("System.Type::GetProperty(", Nowhere, "no reflection tricks"),
        ("System.Type::GetField", Nowhere, "no reflection tricks"),
        ("System.Type::GetConstructor", Nowhere, "no reflection tricks"),
        ("System.Type::GetMember", Nowhere, "no reflection tricks"),
        ("System.Type::GetType(", Nowhere, "no reflection tricks"),
        ("System.Type::InvokeMember", Nowhere, "no reflection tricks"),
        ("System.Reflection.MethodBase::Invoke", Nowhere, "no reflection tricks"),
        ("System.Reflection.PropertyInfo::SetValue", Nowhere, "no reflection tricks"),
        ("System.Reflection.FieldInfo::SetValue", Nowhere, "no reflection tricks"),
        ("System.Reflection.Assembly::Load", Nowhere, "no reflection tricks"),
        ("System.Reflection.Assembly::GetType", Nowhere, "no reflection tricks"),
        ("System.Threading.Thread::Abort", Nowhere, "cancel with a CancellationToken"),
    ];

    /// <summary>Types that keep what is put into them.</summary>
    private static readonly HashSet<Type> Keeping =
    [
        typeof(List<>), typeof(Dictionary<,>), typeof(SortedDictionary<,>), typeof(SortedList<,>), typeof(HashSet<>), typeof(SortedSet<>),
        typeof(Queue<>), typeof(Stack<>), typeof(LinkedList<>), typeof(PriorityQueue<,>), typeof(IList<>), typeof(IDictionary<,>), typeof(ISet<>),
        typeof(ConcurrentDictionary<,>), typeof(ConcurrentQueue<>), typeof(ConcurrentStack<>), typeof(ConcurrentBag<>),
        typeof(ConditionalWeakTable<,>), typeof(ThreadLocal<>), typeof(AsyncLocal<>), typeof(StringBuilder),
    ];

    /// <summary>A room uses only rooms nearer the ground.</summary>
    public static IEnumerable<string> UsesUpwards(IEnumerable<IType> types) =>
        Breaches(
            from use in Uses(types)
            let own = Room(use.Origin)
            let other = Room(use.Target)
            where Rooms.Floor(other) > Rooms.Floor(own) && other != own
            select $"{Where(use)} uses {use.Target.FullName}: {other} is not nearer the ground than {own}");

    /// <summary>Each outside library, and each means of reaching the outside world, is used in its one place.</summary>
    public static IEnumerable<string> UsesOutOfPlace(IEnumerable<IType> types) =>
        Breaches(
            from use in Uses(types)
            from rule in OnePlaceEach
            where use.Target.FullName.StartsWith(rule.Types, StringComparison.Ordinal) && !IsOneOf(rule.Rooms, use.Origin)
            select $"{Where(use)} uses {use.Target.FullName}: {rule.Why}");

    /// <summary>Clock, chance, process end and reflection are handed in or left alone.</summary>
    public static IEnumerable<string> CallsOutOfPlace(IEnumerable<IType> types) =>
        Breaches(
            from use in Uses(types).OfType<MethodCallDependency>()
            let method = $"{use.Target.FullName}::{use.TargetMember.Name}"
            from rule in Calls
            where method.StartsWith(rule.Methods, StringComparison.Ordinal) && !IsOneOf(rule.Rooms, use.Origin)
            select $"{Where(use)} calls {method}: {rule.Why}");

    /// <summary>No static remembers: static fields are read-only and hold nothing that fills up.</summary>
    public static IEnumerable<string> StaticsThatRemember(IEnumerable<Type> types) =>
        from type in types
        where !type.IsDefined(typeof(CompilerGeneratedAttribute), inherit: false)
        from field in type.GetFields(BindingFlags.Static | BindingFlags.Public | BindingFlags.NonPublic | BindingFlags.DeclaredOnly)
        where !field.IsLiteral && (!field.IsInitOnly || Keeping.Contains(Open(field.FieldType)))
        select $"{type.FullName}.{field.Name} is a static that remembers";

    private static Type Open(Type type) => type.IsGenericType ? type.GetGenericTypeDefinition() : type;

    private static IEnumerable<ITypeDependency> Uses(IEnumerable<IType> types) => types.SelectMany(type => type.Dependencies);

    /// <summary>Pointers and the like belong to no assembly.</summary>
    private static string Room(IType type) => type.Assembly?.Name.Split(',')[0] ?? "";

    private static bool IsOneOf(string rooms, IType type) => rooms.Split(' ').Any(room => $"Sparewright.{room}" == Room(type));

    private static string Where(ITypeDependency use) => use is IMemberTypeDependency { OriginMember: var member } ? member.FullName : use.Origin.FullName;

    /// <summary>One call often shows as several uses.</summary>
    private static IEnumerable<string> Breaches(IEnumerable<string> found) => found.Distinct();
}
