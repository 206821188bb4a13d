using System.Security.Claims;
using Acquire.Web.Security.Tokens;
using Microsoft.AspNetCore.Authorization;

namespace Acquire.Web.Security;

/// <summary>Two roles and the policies that ask for them. A route that names none asks for the higher.</summary>
internal static class Roles
{
    public const string Read = "read";
    public const string Operate = "operate";
    private const string TokenClaim = "acquire:token";

    public static void AddRoles(this IServiceCollection services) => services.AddAuthorizationBuilder()
        .AddPolicy(Read, policy => policy.RequireRole(Read, Operate))
        .AddPolicy(Operate, policy => policy.RequireRole(Operate))
        .SetFallbackPolicy(new AuthorizationPolicyBuilder().RequireRole(Operate).Build());

    /// <summary>
    /// Every route of the group asks for a role by what it does: <c>GET</c> looks, all else changes. Decided last, so that a route cannot
    /// have slipped in without.
    /// </summary>
    public static T WithRoles<T>(this T routes)
        where T : IEndpointConventionBuilder
    {
        routes.Finally(endpoint =>
        {
            var methods = endpoint.Metadata.OfType<IHttpMethodMetadata>().LastOrDefault()?.HttpMethods ?? [];
            var looks = methods.Count > 0 && methods.All(m => HttpMethods.IsGet(m) || HttpMethods.IsHead(m));
            endpoint.Metadata.Add(new AuthorizeAttribute(looks ? Read : Operate));
        });
        return routes;
    }

    /// <param name="token">The hash of the token it came in with; null for the service's own.</param>
    public static ClaimsPrincipal Principal(string name, TokenRole role, string? token, string scheme)
    {
        var identity = new ClaimsIdentity(scheme);
        identity.AddClaim(new Claim(identity.NameClaimType, name));
        identity.AddClaim(new Claim(identity.RoleClaimType, role == TokenRole.Operate ? Operate : Read));
        if (token is not null)
        {
            identity.AddClaim(new Claim(TokenClaim, token));
        }

        return new ClaimsPrincipal(identity);
    }

    /// <summary>The hash of the token that somebody came in with; null for whoever came in with the service's own.</summary>
    public static string? TokenOf(ClaimsPrincipal? user) => user?.FindFirstValue(TokenClaim);
}

/// <summary>Who asks, for the records.</summary>
public static class ByWhom
{
    /// <summary>The name of the token that came with the request, or of whoever runs the service.</summary>
    public static string NameOfUser(this HttpContext context) =>
        context.User.Identity?.Name ?? throw new InvalidOperationException("Nobody is signed in: the route asks for no role.");
}
