using System.CommandLine;

namespace Sparewright.Cli.Verbs;

/// <summary>`shop`: named here so that the help lists it. The web door is a program of its own, which `./sparewright shop` starts in this one's place.</summary>
internal static class ShopVerb
{
    public static Command Grammar(Surroundings around)
    {
        var jobs = new Argument<string[]>("JOB") { Description = "jobs to take into the shop: folders with a job.yaml", Arity = ArgumentArity.ZeroOrMore };
        var command = new Command("shop", "Opens the web door: the job card in a browser on this machine.") { jobs };
        command.SetAction(_ =>
        {
            around.Error.WriteLine("sparewright shop: the web door is a program of its own; start it as ./sparewright shop from the project's folder");
            return ExitCode.Wrong;
        });
        return command;
    }
}
