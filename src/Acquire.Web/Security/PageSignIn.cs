using Acquire.Storage.Files;
using Acquire.Web.Security.Tokens;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.DataProtection;

namespace Acquire.Web.Security;

/// <summary>
/// Keeps a browser signed in by a cookie that only the service can read, sealed with a key in the data folder: it stays good when the
/// service starts anew.
/// </summary>
internal static class PageSignIn
{
    public const string Scheme = "page";
    private static readonly TimeSpan GoodFor = TimeSpan.FromHours(12);

    public static AuthenticationBuilder AddPageCookie(this AuthenticationBuilder builder, string dataFolder)
    {
        var keys = Path.Combine(dataFolder, "service-keys");
        UserOnly.Folder(keys);
        builder.Services.AddDataProtection().SetApplicationName("acquire").PersistKeysToFileSystem(new DirectoryInfo(keys));
        return builder.AddCookie(Scheme, cookie =>
        {
            // Browsers send the cookies of a host to all its ports: two services on one computer need two names.
            cookie.Cookie.Name = "acquire-" + RandomSecret.Hash(Path.GetFullPath(dataFolder))[..12];
            cookie.Cookie.HttpOnly = true;
            cookie.Cookie.SameSite = SameSiteMode.Strict;
            cookie.Cookie.SecurePolicy = CookieSecurePolicy.SameAsRequest;
            cookie.ExpireTimeSpan = GoodFor;
            cookie.SlidingExpiration = true;
            cookie.Events.OnValidatePrincipal = context =>
            {
                var tokens = context.HttpContext.RequestServices.GetRequiredService<TokenWatch>();
                if (Roles.TokenOf(context.Principal) is { } hash && !tokens.Stands(hash))
                {
                    context.RejectPrincipal();
                }

                return Task.CompletedTask;
            };
        });
    }

    /// <summary><c>GET /enter/CODE</c>, open to whoever has the code.</summary>
    public static void MapEntry(this IEndpointRouteBuilder routes) => routes.MapGet(
            "/enter/{code}",
            async (string code, HttpContext context, EntryCodes codes, Lockout lockout, ILoggerFactory logs) =>
            {
                var (peer, logger) = (Peer.Of(context), logs.CreateLogger(typeof(PageSignIn)));
                if (lockout.Left(peer) is { } left)
                {
                    await Refusal.WriteAsync(
                        context, StatusCodes.Status429TooManyRequests, "Too many wrong addresses.", "Wait, then try again.", left);
                }
                else if (codes.Take(code) is not { } who)
                {
                    SecurityLog.WrongToken(logger, peer.Key, lockout.Failed(peer));
                    await Refusal.WriteAsync(
                        context,
                        StatusCodes.Status403Forbidden,
                        "This address does not lead in any more.",
                        "Each is good once and for ten minutes. Get a new one with: acquire serve enter");
                }
                else
                {
                    SecurityLog.SignedIn(logger, who.Identity?.Name ?? "", peer.Key);
                    await context.SignInAsync(Scheme, who);
                    context.Response.StatusCode = StatusCodes.Status303SeeOther;
                    context.Response.Headers.Location = "/";
                }
            })
        .AllowAnonymous()
        .ExcludeFromDescription();
}
