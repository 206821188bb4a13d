using System.Diagnostics;
using System.Net.Http.Json;
using System.Net.ServerSentEvents;
using System.Text;
using System.Text.Json;
using Acquire.Instruments.Simulation;

namespace Benchmarks.Live;

/// <summary>A strip that a service reads, and a client in another process that watches it as any client may.</summary>
internal sealed class WatchedStrip : IAsyncDisposable
{
    private readonly PseudoTerminal _instrument;
    private readonly HttpResponseMessage _answer;
    private readonly IAsyncEnumerator<SseItem<(long At, byte[] Data)>> _events;
    private JsonElement _session;

    private WatchedStrip(PseudoTerminal instrument, HttpResponseMessage answer, IAsyncEnumerator<SseItem<(long At, byte[] Data)>> events) =>
        (_instrument, _answer, _events) = (instrument, answer, events);

    /// <summary>The patch that is read next; null when all is read.</summary>
    public string? Next =>
        _session.GetProperty("next") is { ValueKind: JsonValueKind.Object } next ? next.GetProperty("patch").GetString() : null;

    public static async Task<WatchedStrip> BeginAsync(HttpClient client, PseudoTerminal instrument, CancellationToken cancellationToken)
    {
        using var begun = await client.PostAsJsonAsync(
            "/api/v1/sessions",
            new { purpose = "strip", instrument = Room.Instrument, lot = Room.Lot, line = "dip tank", readsPerPatch = 3 },
            cancellationToken);
        var session = await begun.EnsureSuccessStatusCode().Content.ReadFromJsonAsync<JsonElement>(cancellationToken);
        var answer = await client.GetAsync(
            $"/api/v1/sessions/{session.GetProperty("id").GetString()}/events",
            HttpCompletionOption.ResponseHeadersRead, cancellationToken);
        var stream = await answer.EnsureSuccessStatusCode().Content.ReadAsStreamAsync(cancellationToken);

        // The moment is taken before anything is made of the event.
        var events = SseParser.Create(stream, (_, data) => (Stopwatch.GetTimestamp(), data.ToArray())).EnumerateAsync(cancellationToken);
        var strip = new WatchedStrip(instrument, answer, events.GetAsyncEnumerator(cancellationToken));
        await strip.UntilAsync(s => s.GetProperty("state").GetString() == "reading");
        return strip;
    }

    /// <summary>From when the line's last byte was written until the event with its reading has come.</summary>
    public async Task<TimeSpan> SendAsync(string line, CancellationToken cancellationToken)
    {
        var reads = Reads(_session);
        var bytes = Encoding.ASCII.GetBytes(line);
        var began = Stopwatch.GetTimestamp();
        await _instrument.WriteAsync(bytes, cancellationToken);
        return Stopwatch.GetElapsedTime(began, await UntilAsync(s => Reads(s) > reads));
    }

    /// <summary>Until the service has kept it as a record.</summary>
    public Task EndAsync() => UntilAsync(s => s.GetProperty("state").GetString() == "completed");

    public async ValueTask DisposeAsync()
    {
        await _events.DisposeAsync();
        _answer.Dispose();
    }

    private static int Reads(JsonElement session) =>
        session.GetProperty("patches").EnumerateArray().Sum(p => p.GetProperty("reads").GetArrayLength());

    private async Task<long> UntilAsync(Func<JsonElement, bool> holds)
    {
        while (await _events.MoveNextAsync())
        {
            var (at, data) = _events.Current.Data;
            using var document = JsonDocument.Parse(data);
            _session = document.RootElement.GetProperty("session").Clone();
            if (holds(_session))
            {
                return at;
            }
        }

        throw new InvalidOperationException($"The session ended: {_session}");
    }
}
