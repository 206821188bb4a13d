using System.Threading.RateLimiting;
using Microsoft.AspNetCore.Http.Metadata;
using Microsoft.AspNetCore.Server.Kestrel.Core;

namespace Acquire.Web.Security;

/// <summary>How much, how fast and how many: bounds against whoever floods, hangs on or sends without end.</summary>
internal static class Limits
{
    /// <summary>The policy of routes that stay open, such as event streams.</summary>
    public const string Streams = "streams";

    /// <summary>The largest body of what is no file, bytes.</summary>
    public const long MostJsonBytes = 1024 * 1024;

    private const int MostHeaderBytes = 16 * 1024;
    private const int MostHeaders = 60;
    private const int MostLineBytes = 8 * 1024;
    private const int MostConnections = 4_000;

    /// <summary>
    /// Bytes a second that a client has to send or take while the service waits for it, once it had five seconds to begin. Counted from
    /// the first byte on, so that a low one would let who took much at once hang on for hours.
    /// </summary>
    private static readonly MinDataRate LeastRate = new(bytesPerSecond: 16 * 1024, gracePeriod: TimeSpan.FromSeconds(5));

    public static void Set(KestrelServerLimits limits, SecuritySettings settings)
    {
        limits.MaxRequestBodySize = settings.MostBodyBytes;
        limits.MaxRequestHeadersTotalSize = MostHeaderBytes;
        limits.MaxRequestHeaderCount = MostHeaders;
        limits.MaxRequestLineSize = MostLineBytes;
        limits.MaxConcurrentConnections = MostConnections;
        limits.MaxConcurrentUpgradedConnections = settings.MostEventStreams;
        limits.RequestHeadersTimeout = settings.HeadersWithin;
        limits.KeepAliveTimeout = TimeSpan.FromMinutes(2);
        limits.MinRequestBodyDataRate = LeastRate;
        limits.MinResponseDataRate = LeastRate;
    }

    public static void AddRates(this IServiceCollection services, SecuritySettings settings) => services.AddRateLimiter(rates =>
    {
        rates.GlobalLimiter = PartitionedRateLimiter.Create<HttpContext, string>(context => RateLimitPartition.GetFixedWindowLimiter(
            Peer.Of(context).Key,
            _ => new FixedWindowRateLimiterOptions
            {
                PermitLimit = settings.MostRequestsInTenSeconds,
                Window = TimeSpan.FromSeconds(10),
            }));
        rates.AddPolicy(Streams, _ => RateLimitPartition.GetConcurrencyLimiter(
            "all", _ => new ConcurrencyLimiterOptions { PermitLimit = settings.MostEventStreams }));
        rates.OnRejected = (rejected, _) => new ValueTask(Refusal.WriteAsync(
            rejected.HttpContext,
            StatusCodes.Status429TooManyRequests,
            "Too many requests.",
            "Wait, then go on more slowly.",
            rejected.Lease.TryGetMetadata(MetadataName.RetryAfter, out var wait) ? wait : TimeSpan.FromSeconds(1)));
    });

    /// <summary>
    /// A route whose body is JSON takes a megabyte; one that takes files, as what it accepts says, as much as the service allows.
    /// </summary>
    public static T WithBodyLimits<T>(this T routes)
        where T : IEndpointConventionBuilder
    {
        routes.Finally(endpoint =>
        {
            var accepts = endpoint.Metadata.OfType<IAcceptsMetadata>().ToList();
            var isJson = accepts.Count > 0 && accepts.TrueForAll(a => a.ContentTypes.All(IsJson));
            if (isJson && !endpoint.Metadata.OfType<IRequestSizeLimitMetadata>().Any())
            {
                endpoint.Metadata.Add(new BodyLimit(MostJsonBytes));
            }
        });
        return routes;
    }

    private static bool IsJson(string contentType) => contentType.Contains("json", StringComparison.OrdinalIgnoreCase);

    private sealed record BodyLimit(long? MaxRequestBodySize) : IRequestSizeLimitMetadata;
}
