using System.Text;
using Acquire.Bench.Export;
using Acquire.Storage.Records;

namespace Acquire.Bench.Tests.Export;

public sealed class ExportDeskTests : IDisposable
{
    private readonly StudyStore _studies = new();

    public void Dispose() => _studies.Dispose();

    [Theory]
    [InlineData(ExportForm.Results, "kind,strip,", 2)]
    [InlineData(ExportForm.Reads, "strip,", 2)]
    [InlineData(ExportForm.Records, "{\"strip\":", 2)]
    [InlineData(ExportForm.Cgats, "CGATS.17", 2)]
    [InlineData(ExportForm.Workbook, "PK", 2)]
    public async Task Each_form_is_written_and_counts_each_strip_once(ExportForm form, string begins, int count)
    {
        await using var store = await _studies.OpenAsync([StudyStore.Strip(0, 0), StudyStore.Strip(1, 0)]);
        using var file = new MemoryStream();

        var written = await new ExportDesk(store, _studies.Time).WriteAsync(new ExportAsked(StripFilter.All, form), file, StudyStore.Token);

        Assert.Equal(count, written);
        Assert.StartsWith(begins, Encoding.Latin1.GetString(file.ToArray()), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(ExportForm.Records, 2)]
    [InlineData(ExportForm.Reads, 1)]
    public async Task Revisions_are_written_where_the_form_can_tell_them_apart(ExportForm form, int count)
    {
        var strip = StudyStore.Strip(0, 0);
        await using var store = await _studies.OpenAsync([strip]);
        await store.AddStripAsync(
            strip with { Revision = new Revision(2, "staff", _studies.Time.GetUtcNow(), "bottle corrected"), Tags = StudyStore.Tank("D8") },
            StudyStore.Token);
        using var file = new MemoryStream();

        var asked = new ExportAsked(StripFilter.All, form) { Revisions = true };
        Assert.Equal(count, await new ExportDesk(store, _studies.Time).WriteAsync(asked, file, StudyStore.Token));
    }
}
