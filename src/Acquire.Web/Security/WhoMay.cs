using System.Security.Cryptography;
using System.Text;

namespace Acquire.Web.Security;

/// <summary>What a request must carry.</summary>
public sealed record ServiceToken(string Value)
{
    /// <summary>Compared in a time that does not tell how much was right.</summary>
    public bool Fits(string given) =>
        CryptographicOperations.FixedTimeEquals(Encoding.UTF8.GetBytes(given), Encoding.UTF8.GetBytes(Value));
}

/// <summary>Who may ask: everybody for health; else whoever has the token.</summary>
internal static class WhoMay
{
    private const string Scheme = "Bearer ";

    public static void UseWhoMay(this WebApplication app)
    {
        var token = app.Services.GetRequiredService<ServiceToken>();
        app.Use(async (context, next) =>
        {
            if (IsOpen(context.Request.Path) || (TokenOf(context.Request) is { } given && token.Fits(given)))
            {
                await next(context);
                return;
            }

            context.Response.Headers.WWWAuthenticate = "Bearer";
            context.Response.StatusCode = StatusCodes.Status401Unauthorized;
        });
    }

    private static bool IsOpen(PathString path) => path.StartsWithSegments("/health", StringComparison.Ordinal);

    private static string? TokenOf(HttpRequest request) =>
        request.Headers.Authorization.ToString() is { } header && header.StartsWith(Scheme, StringComparison.OrdinalIgnoreCase)
            ? header[Scheme.Length..].Trim()
            : null;
}
