using System.Reflection;
using Acquire.Bench.Service;
using Microsoft.Extensions.Configuration;
using OpenTelemetry.Metrics;
using OpenTelemetry.Resources;

namespace Acquire.Web.Hosting;

/// <summary>
/// Sends the meters to where OpenTelemetry's own environment variables say, and only when they say it: without one nothing is loaded and
/// nothing leaves the computer. Variables: OpenTelemetry specification, "Environment Variable Specification" and "OTLP Exporter
/// Configuration".
/// </summary>
internal static class Metrics
{
    private const string Endpoint = "OTEL_EXPORTER_OTLP_ENDPOINT";
    private const string MetricsEndpoint = "OTEL_EXPORTER_OTLP_METRICS_ENDPOINT";

    public static void AddMeters(this WebApplicationBuilder builder)
    {
        builder.Services.AddSingleton<BenchMeters>();

        // The SDK reads its settings from the host's configuration.
        builder.Configuration.AddInMemoryCollection(StandardVariables());
        if (!IsWanted(builder.Configuration))
        {
            return;
        }

        builder.Services.AddOpenTelemetry()
            .ConfigureResource(resource => resource.AddService(
                "acquire",
                serviceVersion: typeof(Metrics).Assembly.GetCustomAttribute<AssemblyInformationalVersionAttribute>()!.InformationalVersion))
            .WithMetrics(metrics => metrics
                .AddMeter("Acquire.*", "System.Runtime", "Microsoft.AspNetCore.Hosting", "Microsoft.AspNetCore.Server.Kestrel")
                .AddOtlpExporter());
    }

    /// <summary>Whether the variables name a receiver, and none of them says that there shall be no metrics.</summary>
    internal static bool IsWanted(IConfiguration variables) =>
        (Says(variables, Endpoint) || Says(variables, MetricsEndpoint))
        && !Is(variables, "OTEL_SDK_DISABLED", "true")
        && !Is(variables, "OTEL_METRICS_EXPORTER", "none");

    private static bool Says(IConfiguration variables, string name) => !string.IsNullOrWhiteSpace(variables[name]);

    private static bool Is(IConfiguration variables, string name, string value) =>
        string.Equals(variables[name]?.Trim(), value, StringComparison.OrdinalIgnoreCase);

    private static IEnumerable<KeyValuePair<string, string?>> StandardVariables() =>
        from System.Collections.DictionaryEntry variable in Environment.GetEnvironmentVariables()
        let name = (string)variable.Key
        where name.StartsWith("OTEL_", StringComparison.Ordinal)
        select KeyValuePair.Create(name, (string?)variable.Value);
}
