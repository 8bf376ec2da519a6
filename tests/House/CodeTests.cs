using ArchUnitNET.Domain;
using ArchUnitNET.Loader;
using Xunit;
using Type = System.Type;

namespace Sparewright.House;

/// <summary>The compiled rooms keep to the house rules, and the rules notice when code does not.</summary>
public sealed class CodeTests
{
    private static readonly Architecture House = new ArchLoader().LoadAssemblies([.. Rooms.Assemblies]).Build();

    private static readonly Architecture Offended = new ArchLoader().LoadNamespacesWithinAssembly(typeof(Offences.Clock).Assembly, typeof(Offences.Clock).Namespace!).Build();

    private static IEnumerable<IType> OffencesOf(Type offender) => Offended.Types.Where(type => type.FullName == offender.FullName);

    [Fact]
    public void A_room_uses_only_rooms_nearer_the_ground() => Breaches.None(CodeRules.UsesUpwards(House.Types));

    [Fact]
    public void Libraries_and_the_outside_world_are_used_in_one_place_each() => Breaches.None(CodeRules.UsesOutOfPlace(House.Types));

    [Fact]
    public void Clock_chance_process_end_and_reflection_are_left_alone() => Breaches.None(CodeRules.CallsOutOfPlace(House.Types));

    [Fact]
    public void No_static_remembers() => Breaches.None(CodeRules.StaticsThatRemember(Rooms.Assemblies.SelectMany(room => room.GetTypes())));

    [Fact]
    public void The_rules_look_at_every_room() =>
        Assert.Equal(
            Rooms.Assemblies.Where(room => room.GetTypes().Length > 0).Select(room => room.GetName().Name).Order(),
            House.Types.Select(type => type.Assembly.Name.Split(',')[0]).Distinct().Order());

    [Fact]
    public void A_use_of_a_higher_room_is_noticed() =>
        Assert.Contains("Sparewright.Measure", Assert.Single(CodeRules.UsesUpwards(OffencesOf(typeof(Offences.Upwards)))), StringComparison.Ordinal);

    [Theory]
    [InlineData(typeof(Offences.Console), "System.Console")]
    [InlineData(typeof(Offences.ConsoleInLambda), "System.Console")]
    [InlineData(typeof(Offences.XmlInSignature), "System.Xml.XmlDocument")]
    [InlineData(typeof(Offences.Dynamic), "Microsoft.CSharp.RuntimeBinder")]
    [InlineData(typeof(Offences.StartsProcess), "System.Diagnostics.Process")]
    public void A_use_out_of_place_is_noticed(Type offender, string used)
    {
        var found = CodeRules.UsesOutOfPlace(OffencesOf(offender)).ToList();
        Assert.NotEmpty(found);
        Assert.All(found, breach => Assert.Contains(used, breach, StringComparison.Ordinal));
    }

    [Theory]
    [InlineData(typeof(Offences.Clock), "System.DateTime::get_Now")]
    [InlineData(typeof(Offences.ClockInAsync), "System.DateTimeOffset::get_UtcNow")]
    [InlineData(typeof(Offences.SystemClock), "System.TimeProvider::get_System")]
    [InlineData(typeof(Offences.Exit), "System.Environment::Exit")]
    [InlineData(typeof(Offences.Chance), "System.Random::.ctor")]
    [InlineData(typeof(Offences.Reflection), "System.Type::GetMethods")]
    [InlineData(typeof(Offences.Creation), "System.Activator::CreateInstance")]
    public void A_call_out_of_place_is_noticed(Type offender, string called) =>
        Assert.Contains(called, Assert.Single(CodeRules.CallsOutOfPlace(OffencesOf(offender))), StringComparison.Ordinal);

    [Fact]
    public void Statics_that_remember_are_noticed_and_constants_are_not() =>
        Assert.Equal(["_counter", "<Setting>k__BackingField", "Changed", "Seen"],
            CodeRules.StaticsThatRemember([typeof(Offences.Statics)]).Select(breach => breach.Split('.', ' ').SkipWhile(part => !part.EndsWith(nameof(Offences.Statics), StringComparison.Ordinal)).ElementAt(1)));
}
