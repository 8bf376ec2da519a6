using Sparewright.Handover.Files;

namespace Sparewright.Shop.Store;

/// <summary>The folder that a shop's file lies in: only its owner can look into it, it does not lie on another machine, and it says whether there has been a shop in it.</summary>
internal static class DataFolder
{
    private const string Mark = "about-this-folder.txt";

    private const string About = """
        This folder holds a shop of Sparewright: its jobs with all their revisions, photographs and records, in shop.db.
        Copy it only while no Sparewright is running, and then with everything in it; or take bundles of single jobs.
        While this text lies here, an empty or missing shop.db counts as lost.
        """;

    /// <summary>File systems whose locks and shared memory SQLite cannot rely on, as Linux names them (sqlite.org/wal.html: all processes must be on one machine).</summary>
    private static readonly string[] OfOtherMachines =
        ["nfs", "nfs4", "cifs", "smb3", "smbfs", "ncpfs", "afs", "9p", "ceph", "fuse.ceph", "coda", "gfs2", "ocfs2", "lustre", "beegfs", "fuse.sshfs", "fuse.rclone", "fuse.glusterfs", "fuse.davfs", "fuse.s3fs", "vboxsf", "vmhgfs", "prl_fs"];

    /// <summary>Makes the folder where it is missing. Null when it will do.</summary>
    public static StoreProblem? Ready(string folder)
    {
        try
        {
            if (!Directory.Exists(folder))
            {
                if (OperatingSystem.IsWindows()) Directory.CreateDirectory(folder);
                else Directory.CreateDirectory(folder, UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute);
            }

            return LiesElsewhere(new DriveInfo(Path.GetFullPath(folder)).DriveFormat, folder);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            return new(StoreProblemKind.Unavailable, $"the folder {folder} cannot be made or looked at", "choose another with --data, or give yourself leave to write there");
        }
    }

    /// <summary>What is to be said of a folder on a file system of this format; null when it will do.</summary>
    internal static StoreProblem? LiesElsewhere(string format, string folder) =>
        OfOtherMachines.Contains(format, StringComparer.Ordinal)
            ? new(StoreProblemKind.Refused, $"the folder {folder} lies on another machine ({format}), where a shop's file can be damaged by two who write at once", "choose a folder on this machine with --data; several machines share a shop through PostgreSQL")
            : null;

    public static bool WasUsed(string folder) => File.Exists(Path.Combine(folder, Mark));

    /// <exception cref="IOException">The disk said no.</exception>
    public static void MarkUsed(string folder)
    {
        if (!WasUsed(folder)) AtomicFile.Write(Path.Combine(folder, Mark), About);
    }
}
