namespace Acquire.Web.Security;

/// <summary>What every answer tells a browser, errors too. There are no CORS headers: no other site is to read anything.</summary>
internal static class SafeHeaders
{
    /// <summary>
    /// Everything of a page comes from the service itself, and nothing else frames it. Source: W3C Content Security Policy Level 3.
    /// </summary>
    public const string ContentPolicy =
        "default-src 'self'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'; object-src 'none'";

    public static void UseSafeHeaders(this WebApplication app) => app.Use((context, next) =>
    {
        // At the last moment, since whoever writes an error clears what was said before.
        context.Response.OnStarting(Add, context);
        return next(context);
    });

    private static Task Add(object state)
    {
        var context = (HttpContext)state;
        var headers = context.Response.Headers;
        headers.ContentSecurityPolicy = ContentPolicy;
        headers.XContentTypeOptions = "nosniff";
        headers.XFrameOptions = "DENY";
        headers["Referrer-Policy"] = "no-referrer";
        headers["Cross-Origin-Opener-Policy"] = "same-origin";
        headers["Cross-Origin-Resource-Policy"] = "same-origin";
        if (headers.CacheControl.Count == 0)
        {
            headers.CacheControl = "no-store";
        }

        if (context.Request.IsHttps)
        {
            headers.StrictTransportSecurity = "max-age=31536000";
        }

        return Task.CompletedTask;
    }
}
