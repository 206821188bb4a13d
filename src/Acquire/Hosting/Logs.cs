using Microsoft.Extensions.Logging;
using Serilog;
using Serilog.Extensions.Logging;

namespace Acquire.Hosting;

/// <summary>
/// What the links do, for the day something goes wrong: a file a day in the data folder, kept for two weeks. A log that cannot be written
/// stops nothing.
/// </summary>
internal static class Logs
{
    private const int DaysKept = 14;
    private const long MostBytes = 10_000_000;

    /// <summary>The loggers of a process; dispose to write what is left.</summary>
    public static ILoggerFactory Open(string dataFolder, bool verbose)
    {
        var configuration = new LoggerConfiguration()
            .MinimumLevel.Debug()
            .WriteTo.File(
                Path.Combine(DataFolder.Logs(dataFolder), "acquire-.log"),
                formatProvider: CultureInfo.InvariantCulture,
                rollingInterval: RollingInterval.Day,
                retainedFileCountLimit: DaysKept,
                fileSizeLimitBytes: MostBytes,
                shared: true);
        if (verbose)
        {
            configuration.WriteTo.Console(formatProvider: CultureInfo.InvariantCulture, standardErrorFromLevel: Serilog.Events.LogEventLevel.Verbose);
        }

        return new SerilogLoggerFactory(configuration.CreateLogger(), dispose: true);
    }
}
