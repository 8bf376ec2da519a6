using Sparewright.Web.Shelf;

namespace Sparewright.Web.Data;

/// <summary>What browsers fetch besides pages: meshes, drawn views, photographs, readings as CSV.</summary>
internal static class JobData
{
    public static void MapData(this WebApplication app)
    {
        app.MapJobText();
        app.MapPictures();
        app.MapFiles();
        app.MapReadings();
        app.MapPhotographs();
    }
}
