using Acquire.Web.Hosting;
using Microsoft.Extensions.Configuration;

namespace Acquire.Web.Tests.Hosting;

public sealed class MetricsTests
{
    /// <summary>Names and meanings: OpenTelemetry specification, environment variables.</summary>
    [Theory]
    [InlineData(false)]
    [InlineData(false, "OTEL_SERVICE_NAME=acquire")]
    [InlineData(false, "OTEL_EXPORTER_OTLP_ENDPOINT=")]
    [InlineData(true, "OTEL_EXPORTER_OTLP_ENDPOINT=http://127.0.0.1:4318")]
    [InlineData(true, "OTEL_EXPORTER_OTLP_METRICS_ENDPOINT=http://127.0.0.1:4318/v1/metrics")]
    [InlineData(false, "OTEL_EXPORTER_OTLP_ENDPOINT=http://127.0.0.1:4318", "OTEL_SDK_DISABLED=TRUE")]
    [InlineData(false, "OTEL_EXPORTER_OTLP_ENDPOINT=http://127.0.0.1:4318", "OTEL_METRICS_EXPORTER=none")]
    [InlineData(true, "OTEL_EXPORTER_OTLP_ENDPOINT=http://127.0.0.1:4318", "OTEL_METRICS_EXPORTER=otlp", "OTEL_SDK_DISABLED=false")]
    public void Metrics_leave_only_where_a_receiver_is_named(bool expected, params string[] variables)
    {
        var configuration = new ConfigurationBuilder()
            .AddInMemoryCollection(variables.Select(v => v.Split('=', 2)).ToDictionary(v => v[0], string? (v) => v[1]))
            .Build();
        Assert.Equal(expected, Metrics.IsWanted(configuration));
    }
}
