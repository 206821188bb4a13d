using Acquire.Web.Security;

namespace Acquire.Web.Api;

/// <summary>
/// Everything under <c>/api/v1</c>. A route asks the bench once and answers with what it is told; no rule is written here.
/// </summary>
internal static class ApiRoutes
{
    public static RouteGroupBuilder MapApi(this WebApplication app)
    {
        var api = app.MapGroup("/api/v1").Guarded().AddEndpointFilter<WritesAreJson>();
        api.MapService();
        api.MapSignIns();
        api.MapSessions();
        api.MapInstruments();
        api.MapStrips();
        api.MapLots();
        api.MapCrossovers();
        api.MapProcesses();
        api.MapLines();
        api.MapSolutions();
        api.MapBooks();
        api.MapStock();
        api.MapPlaques();
        api.MapChecks();
        api.MapCharts();
        api.MapStudies();
        api.MapExport();
        api.MapImport();
        api.MapSafety();
        return api;
    }

    /// <summary>A route that reads: what it is called in clients, and what it answers, in a sentence.</summary>
    public static RouteHandlerBuilder Reads(this RouteHandlerBuilder route, string name, string summary) =>
        route.Told(name, summary, 400, 401, 404, 422, 429, 503);

    /// <summary>A route that writes.</summary>
    /// <param name="route">The route.</param>
    /// <param name="name">What it is called in clients.</param>
    /// <param name="summary">What it does, in a sentence.</param>
    /// <param name="example">A body that it takes; null for one that takes none, or a file.</param>
    public static RouteHandlerBuilder Writes(this RouteHandlerBuilder route, string name, string summary, object? example = null)
    {
        route.Told(name, summary, 400, 401, 404, 409, 413, 415, 422, 429, 503);
        return example is null ? route : route.WithMetadata(new RequestExample(example));
    }

    private static RouteHandlerBuilder Told(this RouteHandlerBuilder route, string name, string summary, params int[] problems)
    {
        foreach (var status in problems)
        {
            route.ProducesProblem(status);
        }

        return route.WithName(name).WithSummary(summary);
    }
}

/// <summary>A body that a route takes, for its description.</summary>
internal sealed record RequestExample(object Body);

/// <summary>On a route that takes a file as it is, and not JSON.</summary>
internal sealed record TakesFiles;

/// <summary>Where something stands that was made.</summary>
internal static class Location
{
    /// <summary>No header holds a longer one, and nobody types it.</summary>
    private const int LongestName = 500;

    public static string Of(string list, string name) =>
        name.Length > LongestName ? $"/api/v1/{list}" : $"/api/v1/{list}/{Uri.EscapeDataString(name)}";
}

/// <summary>A body is JSON: a form of a foreign page cannot send that without being asked, so no form writes anything.</summary>
internal sealed class WritesAreJson : IEndpointFilter
{
    public ValueTask<object?> InvokeAsync(EndpointFilterInvocationContext context, EndpointFilterDelegate next)
    {
        var request = context.HttpContext.Request;
        var hasBody = request.ContentLength > 0 || request.Headers.TransferEncoding.Count > 0;
        return !hasBody || request.HasJsonContentType() || context.HttpContext.GetEndpoint()?.Metadata.GetMetadata<TakesFiles>() is not null
            ? next(context)
            : throw new BadHttpRequestException("Send application/json as the Content-Type.", StatusCodes.Status415UnsupportedMediaType);
    }
}
