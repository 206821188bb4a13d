using Acquire.Web.Security.Tokens;
using Microsoft.AspNetCore.Authentication;

namespace Acquire.Web.Security;

/// <summary>Who may ask, and what: the rules put together, in the order in which a request meets them.</summary>
internal static class WhoMay
{
    private const string Either = "token or page";

    public static void AddWhoMay(this IServiceCollection services, SecuritySettings settings)
    {
        services.AddSingleton(settings);
        services.AddSingleton<Lockout>();
        services.AddSingleton<EntryCodes>();
        services.AddSingleton(at => new TokenWatch(
            settings.DataFolder, at.GetRequiredService<TimeProvider>(), at.GetRequiredService<ILogger<TokenWatch>>()));
        services.AddHostedService(at => at.GetRequiredService<TokenWatch>());
        services.AddRates(settings);
        services.AddRoles();
        services
            .AddAuthentication(options =>
            {
                options.DefaultScheme = Either;
                options.DefaultChallengeScheme = BearerHandler.Name;
                options.DefaultForbidScheme = BearerHandler.Name;
            })
            .AddPolicyScheme(Either, null, options => options.ForwardDefaultSelector =
                context => context.Request.Headers.Authorization.Count > 0 ? BearerHandler.Name : PageSignIn.Scheme)
            .AddScheme<AuthenticationSchemeOptions, BearerHandler>(BearerHandler.Name, null)
            .AddPageCookie(settings.DataFolder);
    }

    /// <summary>What every route of the API asks for and is bounded by, whoever wrote it.</summary>
    public static RouteGroupBuilder Guarded(this RouteGroupBuilder api) => api.WithRoles().WithBodyLimits().WithPortChecks();

    /// <summary>Before any route: what everybody gets, what nobody may, how often, and who it is.</summary>
    public static void UseWhoMay(this WebApplication app)
    {
        app.UseSafeHeaders();
        app.UseExceptionHandler();
        app.UseStatusCodePages();
        app.UseGate();
        app.UseRouting();
        app.UseRateLimiter();
        app.UseAuthentication();
        app.UseAuthorization();

        // Whoever stays, such as a stream of events, goes when the token goes.
        app.Use(async (context, next) =>
        {
            var hash = Roles.TokenOf(context.User);
            using (hash is null ? null : context.RequestServices.GetRequiredService<TokenWatch>().Watch(context, hash))
            {
                await next(context);
            }
        });
    }
}
