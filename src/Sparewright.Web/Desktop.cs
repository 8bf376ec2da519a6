using System.ComponentModel;
using System.Diagnostics;
using System.Text;
using Sparewright.Web.Guarding;

namespace Sparewright.Web;

/// <summary>The user's own browser, where there is a desktop.</summary>
internal static class Desktop
{
    private static bool IsHere =>
        !Console.IsOutputRedirected && OperatingSystem.IsLinux()
        && (!string.IsNullOrEmpty(Environment.GetEnvironmentVariable("DISPLAY")) || !string.IsNullOrEmpty(Environment.GetEnvironmentVariable("WAYLAND_DISPLAY")));

    /// <summary>Opens the shop's address. When that does not work nothing is said: the address stands in the terminal.</summary>
    /// <param name="folder">Where a page that leads there may lie: other users can read the arguments of a program, but not that page.</param>
    public static void Open(string address, string folder)
    {
        if (!IsHere) return;
        string page = Path.Combine(Path.GetFullPath(folder), "open-the-shop.html");
        try
        {
            OwnFile.Write(page, Encoding.UTF8.GetBytes(PlainPage.Html("The shop is open.", "", new("To the shop", address, AtOnce: true))));
            using Process? browser = Process.Start(new ProcessStartInfo("xdg-open", [page]) { RedirectStandardOutput = true, RedirectStandardError = true });
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or Win32Exception)
        {
            // There is no such program, or no room for the page.
        }
    }
}
