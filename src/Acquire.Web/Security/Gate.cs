using Microsoft.Extensions.Primitives;

namespace Acquire.Web.Security;

/// <summary>
/// What a browser can be made to send by a page of somebody else's stops here, before anybody is asked who they are: a name that leads to
/// this computer only because a stranger's name server says so, and a request that another site began. Programs send no such headers, and
/// pass.
/// </summary>
/// <remarks>Sources: RFC 6454, 7.3 (Origin); W3C Fetch Metadata Request Headers, 2.3 (Sec-Fetch-Site).</remarks>
internal static class Gate
{
    private static readonly StringSegment[] Loopback = ["localhost", "*.localhost", "127.0.0.1", "[::1]"];

    public static void UseGate(this WebApplication app)
    {
        StringSegment[] hosts = [.. Loopback, .. app.Services.GetRequiredService<SecuritySettings>().Hosts.Select(Pattern)];
        var log = new RefusalLog(
            app.Services.GetRequiredService<ILoggerFactory>().CreateLogger(typeof(Gate)), app.Services.GetRequiredService<TimeProvider>());
        app.Use(async (context, next) =>
        {
            if (Against(context, hosts) is not var (status, title, detail))
            {
                await next(context);
                return;
            }

            log.Refused(Peer.Of(context), title);
            await Refusal.WriteAsync(context, status, title, detail);
        });
    }

    private static (int Status, string Title, string Detail)? Against(HttpContext context, StringSegment[] hosts)
    {
        var request = context.Request;
        if (!HostFits(context, hosts))
        {
            return (
                StatusCodes.Status400BadRequest,
                "The service does not go by this name.",
                "The Host header must name this computer: loopback, the address the request came to, or a name given by: acquire serve "
                + "--host NAME");
        }

        if (request.Headers.Origin.Count > 0 && !IsOwn(request))
        {
            return (
                StatusCodes.Status403Forbidden,
                "A page of another origin asks.",
                "Only the service's own page may ask from a browser.");
        }

        if (request.Headers["Sec-Fetch-Site"] is [{ } site] && site is not ("same-origin" or "none"))
        {
            return (
                StatusCodes.Status403Forbidden,
                "Another site asks.",
                "Type or paste the address into the browser: a link from another site does not lead in.");
        }

        // A cookie goes along by itself. Every browser says where a change comes from; who does not say it is none.
        return IsUnsafe(request) && request.Headers.Cookie.Count > 0 && request.Headers.Origin.Count == 0
                && request.Headers.Authorization.Count == 0
            ? (StatusCodes.Status403Forbidden, "It does not say where it comes from.", "Outside a browser, send a token and no cookie.")
            : null;
    }

    /// <summary>
    /// An address in numbers is safe when the connection came to it: no name server had a say. So the computer may get another address
    /// while the service runs.
    /// </summary>
    private static bool HostFits(HttpContext context, StringSegment[] hosts)
    {
        var host = context.Request.Host;
        return host.HasValue
            && (HostString.MatchesAny(host.Value, hosts)
                || (context.Connection.LocalIpAddress is { } local
                    && host.Host.Trim('[', ']') == (local.IsIPv4MappedToIPv6 ? local.MapToIPv4() : local).ToString()));
    }

    private static bool IsOwn(HttpRequest request) =>
        request.Headers.Origin is [{ } origin]
        && string.Equals(origin, $"{request.Scheme}://{request.Host.Value}", StringComparison.OrdinalIgnoreCase);

    private static bool IsUnsafe(HttpRequest request) =>
        !HttpMethods.IsGet(request.Method) && !HttpMethods.IsHead(request.Method) && !HttpMethods.IsOptions(request.Method);

    /// <summary>As the framework compares: an IPv6 address in brackets.</summary>
    private static StringSegment Pattern(string host) =>
        host.Contains(':', StringComparison.Ordinal) && host[0] != '[' ? $"[{host}]" : host;
}

/// <summary>
/// Tells of refusals at most once a minute, with how many there were: whoever is refused must not be able to fill the log.
/// </summary>
internal sealed class RefusalLog(ILogger logger, TimeProvider time)
{
    private static readonly TimeSpan Pause = TimeSpan.FromMinutes(1);
    private readonly Lock _lock = new();
    private DateTimeOffset _next = DateTimeOffset.MinValue;
    private int _since;

    public void Refused(Peer peer, string why)
    {
        lock (_lock)
        {
            _since++;
            if (time.GetUtcNow() is var now && now < _next)
            {
                return;
            }

            SecurityLog.Refused(logger, _since, peer.Key, why);
            (_next, _since) = (now + Pause, 0);
        }
    }
}
