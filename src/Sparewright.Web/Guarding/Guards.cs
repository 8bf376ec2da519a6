namespace Sparewright.Web.Guarding;

/// <summary>What stands before every request, in order.</summary>
internal static class Guards
{
    public static void UseGuards(this WebApplication app) => _ = app;
}
