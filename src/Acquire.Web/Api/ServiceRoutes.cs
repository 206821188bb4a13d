using System.Reflection;

namespace Acquire.Web.Api;

/// <summary>Whether it lives, and whether it can be asked; open to everybody, and they tell nothing else.</summary>
internal static class HealthRoutes
{
    public static void MapHealth(this WebApplication app)
    {
        app.MapGet("/health/live", () => Results.Text("alive")).AllowAnonymous().ExcludeFromDescription();
        app.MapGet("/health/ready", () => Results.Text("ready")).AllowAnonymous().ExcludeFromDescription();
    }
}

/// <summary>The service itself.</summary>
internal static class ServiceRoutes
{
    private static readonly string Version =
        typeof(ServiceRoutes).Assembly.GetCustomAttribute<AssemblyInformationalVersionAttribute>()!.InformationalVersion;

    public static void MapService(this RouteGroupBuilder api) =>
        api.MapGet("/service", (TimeProvider time) => new ServiceDocument(Version, time.GetUtcNow()))
            .WithTags("service")
            .Reads("tellService", "Which version answers, and what its clock says.");
}

/// <param name="Now">The service's clock.</param>
internal sealed record ServiceDocument(string Version, DateTimeOffset Now);
