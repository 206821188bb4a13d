using System.Text.Encodings.Web;
using Acquire.Web.Security.Tokens;
using Microsoft.AspNetCore.Authentication;
using Microsoft.Extensions.Options;

namespace Acquire.Web.Security;

/// <summary>
/// <c>Authorization: Bearer TOKEN</c>, with the service's own token or one that was given out. Source: RFC 6750, 2.1 and 3.
/// </summary>
internal sealed class BearerHandler(
    IOptionsMonitor<AuthenticationSchemeOptions> options,
    ILoggerFactory logs,
    UrlEncoder encoder,
    SecuritySettings settings,
    TokenWatch tokens,
    Lockout lockout) : AuthenticationHandler<AuthenticationSchemeOptions>(options, logs, encoder)
{
    public const string Name = "Bearer";
    private const string Prefix = Name + " ";
    private TimeSpan? _wait;

    protected override Task<AuthenticateResult> HandleAuthenticateAsync() => Task.FromResult(Authenticate());

    protected override Task HandleChallengeAsync(AuthenticationProperties properties)
    {
        if (_wait is { } wait)
        {
            return Refusal.WriteAsync(
                Context, StatusCodes.Status429TooManyRequests, "Too many wrong tokens.", "Wait, then try with a token that is good.", wait);
        }

        Response.Headers.WWWAuthenticate = Name;
        return Refusal.WriteAsync(
            Context,
            StatusCodes.Status401Unauthorized,
            "Nobody is signed in.",
            Peer.Of(Context).IsHere
                ? "Send Authorization: Bearer TOKEN, with the token in service.json in the data folder or one made by: "
                    + "acquire token add. A "
                    + "browser gets in by the address that acquire serve prints, or a new one made by: acquire serve enter"
                : "Send Authorization: Bearer TOKEN, with a token made on the service's computer by: acquire token add");
    }

    protected override Task HandleForbiddenAsync(AuthenticationProperties properties)
    {
        SecurityLog.Forbidden(Logger, Context.User.Identity?.Name ?? "", Request.Method, Peer.Of(Context).Key);
        return Refusal.WriteAsync(
            Context,
            StatusCodes.Status403Forbidden,
            "This token may only look.",
            $"The token {Context.User.Identity?.Name} has the role {Roles.Read}; to change something takes one with the role "
            + $"{Roles.Operate}.");
    }

    private AuthenticateResult Authenticate()
    {
        if (Given(Request) is not { } given)
        {
            return AuthenticateResult.NoResult();
        }

        // Never kept out by what others on this computer tried: it is the owner's.
        var peer = Peer.Of(Context);
        if (peer.IsHere && RandomSecret.Same(given, settings.ServiceToken))
        {
            return Success(settings.User, TokenRole.Operate, null);
        }

        if (lockout.Left(peer) is { } left)
        {
            _wait = left;
            return AuthenticateResult.Fail("It has to wait.");
        }

        if (tokens.Find(given) is { } token)
        {
            lockout.Passed(peer);
            return Success(token.Name, token.Role, token.Hash);
        }

        var wait = lockout.Failed(peer);
        SecurityLog.WrongToken(Logger, peer.Key, wait);
        return AuthenticateResult.Fail("There is no such token.");
    }

    private AuthenticateResult Success(string name, TokenRole role, string? token) =>
        AuthenticateResult.Success(new AuthenticationTicket(Roles.Principal(name, role, token, Scheme.Name), Scheme.Name));

    private static string? Given(HttpRequest request) =>
        request.Headers.Authorization is [{ } header] && header.StartsWith(Prefix, StringComparison.OrdinalIgnoreCase)
            ? header[Prefix.Length..].Trim()
            : null;
}

internal static partial class SecurityLog
{
    [LoggerMessage(1, LogLevel.Warning, "A wrong token from {Peer}; it waits {Wait}.")]
    public static partial void WrongToken(ILogger logger, string peer, TimeSpan wait);

    [LoggerMessage(2, LogLevel.Warning, "{Name} may not {Method}, from {Peer}.")]
    public static partial void Forbidden(ILogger logger, string name, string method, string peer);

    [LoggerMessage(3, LogLevel.Warning, "{Count} refused, the last from {Peer}: {Why}")]
    public static partial void Refused(ILogger logger, int count, string peer, string why);

    [LoggerMessage(4, LogLevel.Information, "{Name} signed in at a browser, from {Peer}.")]
    public static partial void SignedIn(ILogger logger, string name, string peer);
}
