using DbUp.Engine;

namespace Sparewright.Shop.Store;

/// <summary>Makes or extends the tables by the numbered scripts that the database has not seen yet.</summary>
internal static class Tables
{
    /// <returns>Null when the tables are as this program knows them.</returns>
    public static StoreProblem? Bring(UpgradeEngine upgrade, string what)
    {
        HashSet<string> known = [.. upgrade.GetDiscoveredScripts().Select(s => s.Name)];
        if (upgrade.GetExecutedScripts().FirstOrDefault(name => !known.Contains(name)) is { } unknown)
            return new(StoreProblemKind.Refused, $"{what} was written by another version of Sparewright, which has the script {unknown}", "open it with the newest version; nothing was changed");
        if (!upgrade.IsUpgradeRequired()) return null;
        DatabaseUpgradeResult upgraded = upgrade.PerformUpgrade();
        // The error goes on as it was: full disks and lost servers have their meaning here too.
        if (!upgraded.Successful) System.Runtime.ExceptionServices.ExceptionDispatchInfo.Throw(upgraded.Error);
        return null;
    }
}
