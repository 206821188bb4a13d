using System.Net;
using System.Text;
using Acquire.EndToEnd.Tests.Support;

namespace Acquire.EndToEnd.Tests.Installed;

/// <summary>
/// Metrics go to where the standard's variables say: OpenTelemetry specification, OTLP exporter; over HTTP, a POST of protocol buffers to
/// <c>/v1/metrics</c>. Strings in protocol buffers are UTF-8, so names can be looked for in the bytes.
/// </summary>
public sealed class MetricsTests : IDisposable
{
    private readonly Darkroom _darkroom = new();
    private readonly HttpListener _receiver = new();

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    public void Dispose()
    {
        _receiver.Close();
        _darkroom.Dispose();
    }

    [Fact]
    public async Task Meters_of_the_store_arrive_where_the_variables_say()
    {
        var port = FreePort();
        _receiver.Prefixes.Add($"http://127.0.0.1:{port}/");
        _receiver.Start();
        await using var service = _darkroom.StartWith(
            new Dictionary<string, string>
            {
                ["OTEL_EXPORTER_OTLP_ENDPOINT"] = $"http://127.0.0.1:{port}",
                ["OTEL_EXPORTER_OTLP_PROTOCOL"] = "http/protobuf",
                ["OTEL_METRIC_EXPORT_INTERVAL"] = "300",
            },
            "serve");

        var body = await ReceiveAsync("acquire.store.queue.length");
        Assert.Contains("service.name", body, StringComparison.Ordinal);
        Assert.Contains("{write}", body, StringComparison.Ordinal);
    }

    private async Task<string> ReceiveAsync(string metric)
    {
        using var patience = CancellationTokenSource.CreateLinkedTokenSource(Token);
        patience.CancelAfter(TimeSpan.FromSeconds(60));
        while (true)
        {
            var request = await _receiver.GetContextAsync().WaitAsync(patience.Token);
            Assert.Equal("/v1/metrics", request.Request.Url?.AbsolutePath);
            using var bytes = new MemoryStream();
            await request.Request.InputStream.CopyToAsync(bytes, patience.Token);
            request.Response.Close();
            var body = Encoding.UTF8.GetString(bytes.ToArray());
            if (body.Contains(metric, StringComparison.Ordinal))
            {
                return body;
            }
        }
    }

    private static int FreePort()
    {
        using var probe = new System.Net.Sockets.TcpListener(IPAddress.Loopback, 0);
        probe.Start();
        return ((IPEndPoint)probe.LocalEndpoint).Port;
    }
}
