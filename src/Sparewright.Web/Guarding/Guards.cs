namespace Sparewright.Web.Guarding;

/// <summary>What stands before every request, in order; each refuses with a short page, and every answer bears the headers.</summary>
internal static class Guards
{
    public static void UseGuards(this WebApplication app)
    {
        app.Use(ResponseHeaders.Around);
        app.Use(Refusing.ErrorsAround);
        app.Use(OriginRule.Before);
        app.Use(app.Services.GetRequiredService<DoorKey>().BeforeAsync);
        app.UseStatusCodePagesWithReExecute("/no-such-page", createScopeForStatusCodePages: true);
        app.UseRouting();
        app.UseLimits();
    }
}
