namespace Sparewright.Remake;

/// <summary>The stages of the main job, in the order in which the data walks.</summary>
public enum Stage { Read, Reconcile, Fit, Solid, Remeasure, Mesh, Step, Views, Strength, Files }

/// <summary>How far the work has come.</summary>
/// <param name="Fraction">0 to 1 within the stage.</param>
/// <param name="Doing">What is being done, in words.</param>
public readonly record struct StageProgress(Stage Stage, double Fraction, string Doing);

/// <summary>How long a stage took.</summary>
/// <param name="UpToDate">True when it came to what is there already, so that nothing of it was made again.</param>
public sealed record StageTime(Stage Stage, double Seconds, bool UpToDate);

/// <summary>The names of the stages as people and programs read them.</summary>
public static class StageNames
{
    public static string Name(this Stage stage) => stage switch
    {
        Stage.Read => "read",
        Stage.Reconcile => "reconcile",
        Stage.Fit => "fit",
        Stage.Solid => "solid",
        Stage.Remeasure => "remeasure",
        Stage.Mesh => "mesh",
        Stage.Step => "step",
        Stage.Views => "views",
        Stage.Strength => "strength",
        _ => "files",
    };
}
