using System.Diagnostics;
using Acquire.Formats.Strips;
using Acquire.Formats.Workbooks;
using Acquire.Storage.Records;

namespace Acquire.Storage.Tests.Export;

/// <summary>
/// What other programs make of the exports: Python's csv, the shell of SQLite, LibreOffice. A test whose program is not here is skipped.
/// </summary>
public sealed class OtherReadersTests : StoreFixture
{
    private const string Nasty = "=\"x\",\r\n'; ö − 日";

    [Fact]
    [Trait("Source", "Python standard library: csv")]
    public async Task Python_csv_reads_the_reads()
    {
        await ExportAsync("reads.csv", StripReadsCsv.WriteAsync);

        Assert.Equal("5 24 0.260 True", await RunAsync("python3", "-c", """
            import csv
            with open('reads.csv', newline='', encoding='utf-8') as f:
                rows = list(csv.DictReader(f, strict=True))
            print(len(rows), len(rows[0]), rows[0]['red'], all(r['note'] == "'=\"x\",\r\n'; \u00f6 \u2212 \u65e5" for r in rows))
            """));
    }

    [Fact]
    [Trait("Source", "sqlite3 command-line shell, .import --csv")]
    public async Task Sqlite_shell_imports_the_reads()
    {
        await ExportAsync("reads.csv", StripReadsCsv.WriteAsync);

        Assert.Equal(
            "5|0.260|9|'=\"x\",",
            (await RunAsync("sqlite3", ":memory:", ".import --csv reads.csv reads", "SELECT count(*), (SELECT red FROM reads LIMIT 1), "
                + "sum(CAST(read AS INTEGER) * (patch <> 'hd')) + 3 * (min(lot) = 'A1207'), note FROM reads;"))
            .Split('\n')[0].TrimEnd('\r'));
    }

    [Fact]
    [Trait("Source", "LibreOffice Calc, headless conversion of the workbook")]
    public async Task LibreOffice_reads_the_workbook()
    {
        await ExportAsync(
            "strips.xlsx", (strips, stream, token) => StripWorkbook.WriteAsync(strips.Select(Exports.Of), TimeZoneInfo.Utc, stream, token));

        _ = await RunAsync(
            "soffice", $"-env:UserInstallation=file://{Folder.In("office")}",
            "--headless", "--convert-to", "csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,true,false,false,false,-1", "strips.xlsx");

        var strips = await File.ReadAllLinesAsync(Folder.In("strips-Strips.csv"), Token);
        Assert.StartsWith(
            "Read (UTC),Process,Lot,Line,Bottle,Zone,Past a limit,LD red,HD − LD spread,Read by,Note,Strip",
            strips[0],
            StringComparison.Ordinal);
        Assert.StartsWith(
            "2026-03-12 18:30:00,c41,A1207,dip tank,\"dev 3, half full\",out,HD − LD spread out,-0.01",
            strips[1],
            StringComparison.Ordinal);
        Assert.Contains("=\"\"x\"\",", strips[1], StringComparison.Ordinal);
        Assert.Equal(6, (await File.ReadAllLinesAsync(Folder.In("strips-Reads.csv"), Token)).Length);
    }

    [Fact]
    public void Headings_of_the_reads_are_all_documented()
    {
        var document = File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "EXPORT.md"));

        Assert.All(StripReadsCsv.Headings, h => Assert.Contains($"`{h}`", document, StringComparison.Ordinal));
    }

    private async Task ExportAsync(string name, Func<IAsyncEnumerable<Domain.Records.StripRecord>, Stream, CancellationToken, Task> write)
    {
        await Store.AddLotAsync(Some.Lot, Token);
        await Store.AddStripAsync(Some.Strip() with { Tags = new StripTags { Note = Nasty } }, Token);
        await using var stream = File.Create(Folder.In(name));
        await write(Store.ListStripsAsync(StripFilter.All, Token), stream, Token);
    }

    private async Task<string> RunAsync(string program, params string[] arguments)
    {
        var start = new ProcessStartInfo(
            program, arguments) { WorkingDirectory = Folder.Path, RedirectStandardOutput = true, RedirectStandardError = true };
        Process? process = null;
        try
        {
            process = Process.Start(start);
        }
        catch (System.ComponentModel.Win32Exception)
        {
            Assert.Skip($"There is no {program} here.");
        }

        using (process)
        {
            var error = process!.StandardError.ReadToEndAsync(Token);
            var output = await process.StandardOutput.ReadToEndAsync(Token);
            await process.WaitForExitAsync(Token);
            Assert.True(process.ExitCode == 0, await error);
            return output.TrimEnd();
        }
    }
}
