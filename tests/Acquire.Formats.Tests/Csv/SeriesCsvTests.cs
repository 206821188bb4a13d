using Acquire.Formats.Csv;

namespace Acquire.Formats.Tests.Csv;

public sealed class SeriesCsvTests : IDisposable
{
    private readonly TempFolder _folder = new();

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    public void Dispose() => _folder.Dispose();

    [Fact]
    public async Task Series_has_values_groups_and_places()
    {
        var rows = await ReadAsync("X;who;Value;Group\n1;Ines;0,25;a\n2,5;Tom;-1e-1;b\n"u8);

        Assert.Equal([new SeriesRow(0.25, "a", 1), new SeriesRow(-0.1, "b", 2.5)], rows);
    }

    /// <summary>Bytes of another encoding were once read as replacement characters, so that two groups could become one.</summary>
    [Fact]
    public async Task Bytes_that_are_no_utf8_are_refused_with_their_line()
    {
        var refusal = await Assert.ThrowsAsync<ImportException>(() => ReadAsync([.. "value,group\n0.25,K"u8, 0xF6, .. "ln\n"u8]));

        Assert.Contains("no UTF-8", refusal.Message, StringComparison.Ordinal);
    }

    private Task<IReadOnlyList<SeriesRow>> ReadAsync(ReadOnlySpan<byte> bytes)
    {
        var file = _folder.In("series.csv");
        File.WriteAllBytes(file, bytes);
        return SeriesCsv.ReadAsync(file, Token);
    }
}
