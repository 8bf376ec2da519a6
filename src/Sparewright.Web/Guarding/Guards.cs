namespace Sparewright.Web.Guarding;

/// <summary>What stands before every request, in order; each refuses with a short page, and every answer bears the headers.</summary>
internal static class Guards
{
    public static void UseGuards(this WebApplication app, StartToken token)
    {
        app.Use(ResponseHeaders.Around);
        app.Use(Refusing.ErrorsAround);
        app.Use(OriginRule.Before);
        app.Use(token.BeforeAsync);
    }
}
