using Acquire.Web.Hosting;

namespace Acquire.Terminal;

/// <summary>The service that a terminal sits at: the same over a restart, when it is another process at another address.</summary>
internal sealed class AttachedService(HttpClient client, string dataFolder) : IDisposable
{
    private volatile HttpClient _client = client;

    public HttpClient Client => _client;

    /// <summary>Whether one runs on the data folder.</summary>
    public bool Runs => ServiceFile.Find(dataFolder) is not null;

    /// <summary>The instrument as the service reads it; null where it does not.</summary>
    public async Task<InstrumentDocument?> StationAsync(string name, CancellationToken cancellationToken)
    {
        try
        {
            using var answer = await _client.GetAsync("/api/v1/instruments", cancellationToken);
            var instruments = await ServiceAnswer.OfAsync<IReadOnlyList<InstrumentDocument>>(answer, cancellationToken);
            return instruments.FirstOrDefault(i => i.Live is not null && Keys.Same(i.Name, name));
        }
        catch (HttpRequestException)
        {
            // It ended just now.
            return null;
        }
    }

    /// <summary>A service that is stopping is still there for a moment, and answers nobody.</summary>
    public async Task<bool> IsBackAsync(CancellationToken cancellationToken)
    {
        if (ServiceFile.Find(dataFolder) is not { } found)
        {
            return false;
        }

        var client = ServiceConnection.Open(found);
        try
        {
            using var answer = await client.GetAsync("/api/v1/service", cancellationToken);
            if (answer.IsSuccessStatusCode)
            {
                (var before, _client) = (_client, client);
                before.Dispose();
                return true;
            }
        }
        catch (HttpRequestException)
        {
            // Not yet.
        }

        client.Dispose();
        return false;
    }

    public void Dispose() => _client.Dispose();
}
