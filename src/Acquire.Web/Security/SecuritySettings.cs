namespace Acquire.Web.Security;

/// <summary>What the rules of who may need to know of the service.</summary>
/// <param name="User">Who runs the service; the service's own token and the page act in this name.</param>
/// <param name="ServiceToken">The token in <c>service.json</c>, good on this computer alone.</param>
/// <param name="Hosts">Names, besides loopback's, by which requests may call the service.</param>
/// <param name="MostBodyBytes">The largest body of a file.</param>
/// <param name="HeadersWithin">How long a client has for its headers.</param>
internal sealed record SecuritySettings(
    string DataFolder,
    string User,
    string ServiceToken,
    ImmutableArray<string> Hosts,
    long MostBodyBytes,
    TimeSpan HeadersWithin,
    int MostRequestsInTenSeconds,
    int MostEventStreams);
