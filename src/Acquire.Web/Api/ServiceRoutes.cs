using System.Reflection;

namespace Acquire.Web.Api;

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
