using Acquire.Storage.Files;
using Microsoft.Extensions.Logging;
using Serilog;
using Serilog.Core;
using Serilog.Events;
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
        var folder = DataFolder.Logs(dataFolder);
        var configuration = new LoggerConfiguration()
            .MinimumLevel.Debug()
            // A line for each request would fill the day's file, and whoever asks often enough could keep other things out of it.
            .MinimumLevel.Override("Microsoft", LogEventLevel.Warning)
            // It warns that its key is in a file in plain; so is the store, for the same user alone.
            .MinimumLevel.Override("Microsoft.AspNetCore.DataProtection", LogEventLevel.Error)
            .Filter.With(new PrivateFiles(folder))
            .WriteTo.File(
                Path.Combine(folder, "acquire-.log"),
                formatProvider: CultureInfo.InvariantCulture,
                rollingInterval: RollingInterval.Day,
                retainedFileCountLimit: DaysKept,
                fileSizeLimitBytes: MostBytes,
                shared: true);
        if (verbose)
        {
            configuration.WriteTo.Console(formatProvider: CultureInfo.InvariantCulture, standardErrorFromLevel: LogEventLevel.Verbose);
        }

        return new SerilogLoggerFactory(configuration.CreateLogger(), dispose: true);
    }

    /// <summary>
    /// Lets every event pass, and sees to it that the file it goes to is the user's own: a file that several programs share takes no other
    /// hook.
    /// </summary>
    private sealed class PrivateFiles(string folder) : ILogEventFilter
    {
        private string _day = "";

        public bool IsEnabled(LogEvent logEvent)
        {
            var day = logEvent.Timestamp.ToString("yyyyMMdd", CultureInfo.InvariantCulture);
            if (Interlocked.Exchange(ref _day, day) != day)
            {
                try
                {
                    UserOnly.Folder(folder);
                    new FileStream(
                        Path.Combine(folder, $"acquire-{day}.log"),
                        UserOnly.Options(FileMode.OpenOrCreate, FileAccess.Write, FileShare.ReadWrite)).Dispose();
                }
                catch (Exception e) when (e is IOException or UnauthorizedAccessException)
                {
                    // A log that cannot be written stops nothing.
                }
            }

            return true;
        }
    }
}
