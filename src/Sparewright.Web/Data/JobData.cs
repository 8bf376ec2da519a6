namespace Sparewright.Web.Data;

/// <summary>What browsers fetch besides pages: meshes, drawn views, photographs, readings as CSV.</summary>
internal static class JobData
{
    public static void MapData(this WebApplication app)
    {
        app.MapPictures();
        app.MapFiles();
        app.MapReadings();
    }
}
