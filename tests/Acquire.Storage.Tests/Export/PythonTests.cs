using System.Diagnostics;
using Acquire.Formats.Strips;
using Acquire.Storage.Records;

namespace Acquire.Storage.Tests.Export;

/// <summary>Another implementation reads what this one writes: Python's own csv, json and sqlite3 modules.</summary>
[Trait("Source", "Python standard library: csv, json, sqlite3")]
public sealed class PythonTests : StoreFixture
{
    private const string Nasty = "=\"x\",\r\n'; ö − 日";

    [Fact]
    public async Task Python_csv_reads_the_export()
    {
        await ExportAsync("strips.csv", StripCsv.WriteAsync);

        Assert.Equal(
            "read=5 mean=6 parameter=2 widths=33 red=0.260 aim=0.25 deviation=-0.01 note=True",
            await PythonAsync("""
                import csv, sys
                with open('strips.csv', newline='', encoding='utf-8') as f:
                    rows = list(csv.DictReader(f, strict=True))
                kinds = [r['kind'] for r in rows]
                note = "'=\"x\",\r\n'; \u00f6 \u2212 \u65e5"
                print(*[f"{k}={kinds.count(k)}" for k in ('read', 'mean', 'parameter')],
                      f"widths={','.join(sorted({str(len(r)) for r in rows}))}",
                      f"red={rows[0]['red']}", f"aim={float(rows[5]['aim'])}", f"deviation={float(rows[11]['deviation'])}",
                      f"note={all(r['note'] == note for r in rows)}")
                """));
    }

    [Fact]
    public async Task Python_json_reads_the_export()
    {
        await ExportAsync("strips.jsonl", StripJsonLines.WriteAsync);

        Assert.Equal(
            "1 0.260 b'R 0.260 G 0.620 B 0.800' True",
            await PythonAsync("""
                import base64, json
                rows = [json.loads(line, parse_float=str) for line in open('strips.jsonl', encoding='utf-8')]
                read = rows[0]['patches'][0]['reads'][0]
                print(len(rows), read['red'], base64.b64decode(read['lines'][0]['base64']), rows[0]['note'] == "=\"x\",\r\n'; \u00f6 \u2212 \u65e5")
                """));
    }

    [Fact]
    public async Task Python_sqlite3_reads_the_store_while_it_is_open()
    {
        await AddAsync();

        Assert.Equal(
            "[('0.260', 0.26, 1), ('0.26', 0.26, 1)] ok",
            await PythonAsync("""
                import sqlite3
                db = sqlite3.connect('file:acquire.db?mode=ro', uri=True)
                print(db.execute("SELECT shown, density, counts FROM strip_density WHERE patch_key = 'DMIN' AND channel = 'red' ORDER BY read_number").fetchall(),
                      db.execute('PRAGMA integrity_check').fetchone()[0])
                """));
    }

    private async Task AddAsync()
    {
        await Store.AddLotAsync(Some.Lot, Token);
        await Store.AddStripAsync(Some.Strip() with { Tags = new StripTags { Note = Nasty } }, Token);
    }

    private async Task ExportAsync(string name, Func<IAsyncEnumerable<StripExport>, Stream, CancellationToken, Task> write)
    {
        await AddAsync();
        var strips = Store.ListStripsAsync(StripFilter.All, Token).Select(Exports.Of);
        await using var stream = File.Create(Folder.In(name));
        await write(strips, stream, Token);
    }

    private async Task<string> PythonAsync(string script)
    {
        var start = new ProcessStartInfo("python3", ["-c", script])
        {
            WorkingDirectory = Folder.Path, RedirectStandardOutput = true, RedirectStandardError = true,
        };
        Process? python = null;
        try
        {
            python = Process.Start(start);
        }
        catch (System.ComponentModel.Win32Exception)
        {
            Assert.Skip("There is no python3 here.");
        }

        using (python)
        {
            var error = python!.StandardError.ReadToEndAsync(Token);
            var output = await python.StandardOutput.ReadToEndAsync(Token);
            await python.WaitForExitAsync(Token);
            Assert.Equal("", await error);
            return output.TrimEnd();
        }
    }
}
