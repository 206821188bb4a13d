using System.Text;
using Acquire.Formats.Strips;

namespace Acquire.Storage.Tests.Support;

/// <summary>Exports to memory, for the tests of both formats.</summary>
internal static class Exports
{
    public static StripExport Of(StripRecord strip) => new(strip,
    [
        new("speed", "LD", Channel.Red, 0.71, 0.72, -0.01, 0.006, Zone.Inside) { Unit = "density" },
        new("contrast-spread", "HD − LD spread", null, 0.12, null, double.NaN, null, Zone.Out) { Why = "Not all was read." },
    ]);

    public static async Task<string> CsvAsync(params StripExport[] strips)
    {
        using var stream = new MemoryStream();
        await StripCsv.WriteAsync(strips.ToAsyncEnumerable(), stream, TestContext.Current.CancellationToken);
        return Encoding.UTF8.GetString(stream.ToArray());
    }

    public static async Task<string> JsonAsync(params StripExport[] strips)
    {
        using var stream = new MemoryStream();
        await StripJsonLines.WriteAsync(strips.ToAsyncEnumerable(), stream, TestContext.Current.CancellationToken);
        return Encoding.UTF8.GetString(stream.ToArray());
    }
}
