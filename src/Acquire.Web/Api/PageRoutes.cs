using Acquire.Web.Security;

namespace Acquire.Web.Api;

/// <summary>The way in for a browser, and what it finds.</summary>
internal static class PageRoutes
{
    private const string Page =
        """
        <!DOCTYPE html>
        <html lang="en">
        <head><meta charset="utf-8"><meta name="viewport" content="width=device-width"><title>Acquire</title><link rel="icon" href="data:,"></head>
        <body>
        <h1>The service runs</h1>
        <p>What can be asked is described in <a href="/openapi/v1.json">the OpenAPI document</a>.</p>
        </body>
        </html>
        """;

    public static void MapPage(this WebApplication app)
    {
        app.MapEntry();
        app.MapGet("/", () => Results.Text(Page, "text/html; charset=utf-8")).ExcludeFromDescription().WithRoles();
    }

    public static void MapSignIns(this RouteGroupBuilder api) => api.MapPost(
            "/sign-ins",
            (HttpContext context, EntryCodes codes, TimeProvider time) =>
                TypedResults.Ok(new SignInDocument($"/enter/{codes.Make(context.User)}", time.GetUtcNow() + EntryCodes.GoodFor)))
        .WithTags("service")
        .Writes("letBrowserIn", "An address that lets a browser in once, in the name of whoever asks for it.");
}

/// <param name="Path">Behind the service's URL; good once.</param>
/// <param name="Until">From then on it is worth nothing.</param>
internal sealed record SignInDocument(string Path, DateTimeOffset Until);
